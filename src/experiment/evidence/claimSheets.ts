/** Sheets of claims: an empty table for them, and their standing. */
import { say, toText } from "../language/said";
import type { NewCell, NewSheet } from "../../workbook/port";
import type { TrialLog } from "../log/trialLog";
import { significant } from "../language/wording";
import { evidenceSentences, reasonOf, standings, type Claim, type EvidenceRules } from "./evidence";

/** The standing, and below it every claim that does not stand with the reason. */
export function standingSheet(
  log: TrialLog,
  claims: readonly Claim[],
  rules: EvidenceRules,
  certainty: number,
): NewSheet {
  const { unit } = rules;
  const bold = (...texts: string[]) => texts.map((value): NewCell => ({ value, bold: true }));
  const tidy = (value: number): NewCell => ({ value: Number(value.toPrecision(8)) });
  const fallen = claims.filter(({ stands }) => !stands);
  return {
    name: "Standing",
    rows: [
      ...standings(claims, certainty).flatMap(({ side, standing }) => [
        bold(
          "Rank",
          `Claims that stand, ${side}`,
          `Bend (${unit})`,
          `Standard uncertainty (${unit})`,
          "Tied with",
          "Tries",
          "Film",
          `Row of ${log.sheet}`,
        ),
        ...standing.map(({ claim, rank, tiedWith }): NewCell[] => [
          { value: rank },
          { value: claim.label },
          tidy(claim.bend),
          tidy(claim.uncertainty),
          { value: tiedWith.join(", ") },
          { value: claim.tries ?? null },
          { value: claim.film },
          { value: claim.row + 1 },
        ]),
        [],
      ]),
      bold("", "Claims that do not stand", `Bend (${unit})`, "", "Because", "", "", `Row of ${log.sheet}`),
      ...fallen.map((claim): NewCell[] => [
        { value: "" },
        { value: claim.label },
        claim.bend === undefined ? { value: "" } : tidy(claim.bend),
        { value: "" },
        { value: toText(reasonOf(claim) ?? "") },
        { value: null },
        { value: null },
        { value: claim.row + 1 },
      ]),
      [],
      ...evidenceSentences(claims, rules).map((text): NewCell[] => [{ value: toText(text) }]),
      [
        {
          value: toText(
            say`Two claims are tied unless one is larger with a probability of ${significant(100 * certainty, 3)} % or more, each pair by itself. Claims that fail a check stay on their sheet.`,
          ),
        },
      ],
    ],
    columnWidths: [8, 24, 14, 26, 60, 8, 30, 16],
  };
}

/** An empty table of claims with every column that the checks need. */
export function claimsSheet({ unit }: Pick<EvidenceRules, "unit">): NewSheet {
  const headings = [
    "Claim",
    "Date",
    "Table",
    `Bend (${unit})`,
    `Standard uncertainty (${unit})`,
    `Mark spacing (${unit})`,
    `Off the line (${unit})`,
    `Obstacle moved (${unit})`,
    "One unbroken recording",
    "Both views",
    "Shooter",
    "Tries",
    "Film",
    "Remarks",
  ];
  return {
    name: "Claims",
    rows: [headings.map((value) => ({ value, bold: true }))],
    columnWidths: headings.map((heading) => heading.length + 3),
    headingRows: 1,
  };
}
