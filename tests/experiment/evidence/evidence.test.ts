/** Claims and their checks: what holds, what fails and why, and who is tied with whom. */
import { describe, expect, it } from "vitest";
import {
  CHECKS,
  claimColumns,
  claimsOf,
  evidenceSentences,
  FIRST_RULES,
  missingChecks,
  missingSentence,
  reasonOf,
  standings,
} from "../../../src/experiment/evidence/evidence";
import { claimsSheet, standingSheet } from "../../../src/experiment/evidence/claimSheets";
import { findTrialLogs, trialLogAt, type TrialLog } from "../../../src/experiment/log/trialLog";
import type { CellValue } from "../../../src/workbook/book";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { toText } from "../../../src/experiment/language/said";
import { sizesOf, standingLine } from "../../../src/experiment/evidence/claimWords";
import { claimsFigure } from "../../../src/panel/plots/claimsFigure";

const headings = claimsSheet({ unit: "in" }).rows[0].map(({ value }) => value as string);
function log(...rows: CellValue[][]): TrialLog {
  return trialLogAt(sheetOf([headings, ...rows], { sheet: "Claims" }), 0)!;
}
const good = (label: string, bend: number, u: number | null = 0.03): CellValue[] => [
  label,
  null,
  "North",
  bend,
  u,
  2.25,
  0.01,
  0,
  "yes",
  "yes",
];

describe("checks", () => {
  it("a claim stands when everything was recorded and holds", () => {
    const [claim] = claimsOf(log(good("A", 1)), FIRST_RULES);
    expect(claim.checks.map(({ verdict }) => verdict)).toEqual(CHECKS.map(() => "holds"));
    expect(claim).toMatchObject({ stands: true, bend: 1, uncertainty: 0.03 });
    expect(reasonOf(claim)).toBeUndefined();
  });

  it.each([
    [5, 2.3, "the marks are 2.3 in apart, a ball is 2.25 in; at most 0.031 in is allowed."],
    [5, "2 9/32", undefined],
    [6, 0.05, "the balls are 0.05 in off the line; at most 0.031 in is allowed."],
    [7, 0.1, "the obstacle moved 0.1 in; at most 0.031 in is allowed."],
    [7, "yes", "the obstacle moved."],
    [7, "no", undefined],
    [8, "no", "the recording was broken."],
    [9, "no", "a view is missing."],
    [9, "one", 'both views: "one" says neither yes nor no.'],
    [8, null, "one unbroken recording: nothing is recorded."],
    [6, null, "the sighted balls are in line: nothing is recorded."],
    [3, null, "no bend is recorded."],
  ] as [number, CellValue, string | undefined][])("column %i saying %j gives: %s", (column, value, reason) => {
    const row = good("A", 1);
    row[column] = value;
    // A second row keeps every column of its kind.
    const [claim] = claimsOf(log(row, good("B", 0.5), good("C", 0.5), good("D", 0.4)), FIRST_RULES);
    expect(toText(reasonOf(claim) ?? "")).toBe(reason ?? "");
    expect(claim.stands).toBe(reason === undefined);
  });

  it.each([
    [3, 3, "a bend of 3 in is as wide as a ball (2.25 in) or wider: no obstacle at the marks can ask for so much."],
    [
      3,
      -2.25,
      "a bend of −2.25 in is as wide as a ball (2.25 in) or wider: no obstacle at the marks can ask for so much.",
    ],
    [3, "huge", 'the bend "huge" is no length.'],
    [4, -0.02, "its standard uncertainty is −0.02 in, which must be above 0."],
    [4, 0, "its standard uncertainty is 0 in, which must be above 0."],
    [4, "little", 'its standard uncertainty "little" is no length.'],
  ] as [number, CellValue, string][])(
    "a claim whose column %i says %j does not stand, and takes no rank: %s",
    (column, value, reason) => {
      const row = good("Odd", 1);
      row[column] = value;
      const claims = claimsOf(log(row, good("B", 0.5), good("C", 0.5), good("D", 0.4)), FIRST_RULES);
      expect(toText(reasonOf(claims[0]) ?? "")).toBe(reason);
      expect(standings(claims).flatMap(({ standing }) => standing.map(({ claim }) => claim.label))).toEqual([
        "B",
        "C",
        "D",
      ]);
    },
  );

  it("hold the marks against the ball that was shot: a setting, or the row's own", () => {
    const smaller = 2 + 1 / 16;
    const apart = (claim: CellValue[], spacing: number) => claim.map((cell, c) => (c === 5 ? spacing : cell));
    const rows = log(apart(good("A", 1), smaller), good("B", 1));
    expect(claimsOf(rows, { ...FIRST_RULES, ballDiameter: smaller }).map(({ stands }) => stands)).toEqual([
      true,
      false,
    ]);
    expect(claimsOf(rows, FIRST_RULES).map(({ stands }) => stands)).toEqual([false, true]);
    const own = [
      [...headings, "Ball diameter (mm)"],
      ...[
        { row: apart(good("A", 1), smaller), ball: 52.4 },
        { row: good("B", 1), ball: null },
        { row: good("C", 1), ball: -1 },
      ].map(({ row, ball }) => [...headings.map((_, c) => row[c] ?? null), ball]),
    ];
    const [a, b, c] = claimsOf(trialLogAt(sheetOf(own, { sheet: "Claims" }), 0)!, FIRST_RULES);
    expect([a.stands, b.stands, c.stands]).toEqual([true, true, false]);
    expect(toText(reasonOf(c)!)).toBe("its ball's diameter is −0.03937 in, which must be above 0.");
  });

  it("a claim that fails is listed, never dropped, and the words count it", () => {
    const claims = claimsOf(log(good("A", 1), good("B", 0.9, null), ["C", null, null, 1.4]), FIRST_RULES);
    expect(claims).toHaveLength(3);
    const [first, second] = evidenceSentences(claims, FIRST_RULES);
    expect(toText(first)).toContain("2 of 3 claims stand");
    expect(toText(second)).toBe("1 claim that stands names no uncertainty of its own and takes the one given here.");
    expect(claims[1].uncertainty).toBe(FIRST_RULES.uncertainty);
  });

  it("reads other units, and says which checks have no column", () => {
    const [metric] = findTrialLogs({
      sheet: "S",
      firstRow: 0,
      firstColumn: 0,
      values: [
        ["Bend (mm)", "Mark spacing (mm)"],
        [25.4, 57.15],
      ],
      formats: [],
      hiddenRows: [],
      merged: [],
      tables: [],
    });
    const [claim] = claimsOf(metric, FIRST_RULES);
    expect(claim.bend).toBeCloseTo(1, 12);
    expect(claim.checks[0].verdict).toBe("holds");
    expect(claim.stands).toBe(false);
    expect(missingSentence(missingChecks(metric))).toBe(
      "No column records that the sighted balls are in line, the obstacle did not move, one unbroken recording and both views, so no claim can stand yet.",
    );
    const [plain] = findTrialLogs({
      sheet: "S",
      firstRow: 0,
      firstColumn: 0,
      values: [["Bend (mm)"], [25.4]],
      formats: [],
      hiddenRows: [],
      merged: [],
      tables: [],
    });
    expect(claimColumns(plain)).toBeUndefined();
    expect(claimsOf(plain, FIRST_RULES)).toEqual([]);
  });
});

describe("standing", () => {
  it("ranks by size, with ties where neither is surely larger", () => {
    const claims = claimsOf(
      log(good("A", 1), good("B", 1.02), good("C", 0.5), good("D", 0.95, 0.001), ["E", null, null, 3]),
      FIRST_RULES,
    );
    const standing = (certainty?: number) => standings(claims, certainty)[0].standing;
    expect(standing().map(({ claim, rank, tiedWith }) => [claim.label, rank, tiedWith])).toEqual([
      // B − D is 0.07 with a standard uncertainty of 0.03: surely larger. A − D is 0.05: 1.66 of them, 95.2 %.
      ["B", 1, ["A"]],
      ["A", 1, ["B"]],
      ["D", 3, []],
      ["C", 4, []],
    ]);
    // Asked for more certainty, more are tied.
    expect(standing(0.99).map(({ rank }) => rank)).toEqual([1, 1, 2, 4]);
  });

  it("keeps short and long apart: a long bend takes no rank from a short one", () => {
    const claims = claimsOf(log(good("A", 1), good("B", -1.5), good("C", 0.5), good("D", -0.4)), FIRST_RULES);
    expect(
      standings(claims).map(({ side, standing }) => [side, standing.map(({ claim, rank }) => [claim.label, rank])]),
    ).toEqual([
      [
        "short",
        [
          ["A", 1],
          ["C", 2],
        ],
      ],
      [
        "long",
        [
          ["B", 1],
          ["D", 2],
        ],
      ],
    ]);
    const table = log(good("A", 1), good("B", -1.5));
    const rows = standingSheet(table, claimsOf(table, FIRST_RULES), FIRST_RULES, 0.95).rows.map((row) => row[1]?.value);
    expect(rows.slice(0, 6)).toEqual([
      "Claims that stand, short",
      "A",
      undefined,
      "Claims that stand, long",
      "B",
      undefined,
    ]);
  });

  it("goes on a sheet with every claim that fell, and why", () => {
    const table = log(good("A", 1), ["E", null, null, 3]);
    const rows = standingSheet(table, claimsOf(table, FIRST_RULES), FIRST_RULES, 0.95).rows.map((row) =>
      row.map(({ value }) => value),
    );
    expect(rows[1]).toEqual([1, "A", 1, 0.03, "", null, "", 2]);
    expect(rows[4]).toEqual(["", "E", 3, "", expect.stringContaining("nothing is recorded"), null, null, 3]);
  });
});

describe("the confidence of the intervals", () => {
  it("is the one that was asked for, in the line and in the picture alike", () => {
    const claims = claimsOf(log(good("A", 1), good("B", 0.9)), FIRST_RULES);
    // Quantiles of the standard normal distribution at 0.9 and 0.975, as printed in any table.
    for (const [confidence, z] of [
      [0.8, 1.281552],
      [0.95, 1.959964],
    ] as const) {
      const rules = { ...FIRST_RULES, confidence };
      const { alone } = sizesOf(claims[0], confidence)!;
      expect((alone.high - alone.low) / 2 / claims[0].uncertainty).toBeCloseTo(z, 6);
      const percent = `${100 * confidence} %`;
      expect(toText(standingLine(standings(claims), claims, rules))).toContain(`${percent} interval`);
      const figure = claimsFigure(standings(claims), rules, undefined)!;
      expect(figure.intervals![0]).toMatchObject(alone);
      expect(toText(figure.caption)).toContain(`${percent} intervals`);
    }
  });
});
