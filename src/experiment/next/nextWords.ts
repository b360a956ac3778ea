/** What to shoot next in sentences and as rows for a sheet. */
import { say, joinTexts, listOf, type Said } from "../language/said";
import { there } from "../../there";
import { asRecord } from "../language/keptObject";
import type { NewCell, NewSheet } from "../../workbook/port";
import { parseHeading } from "../log/header";
import type { Side } from "../../statistics/numeric/boxSearch";
import type { NextWish, Proposal, WhatNext } from "./whatNext";
import {
  chanceText,
  confidenceText,
  counted,
  decimalsFor,
  fixed,
  inSentence,
  severalOf,
  significant,
  withUnit,
} from "../language/wording";

/** What is kept of a wish with the workbook; whether the model is the prior, not which. */
export interface NextForm extends Omit<NextWish, "physics"> {
  readonly physics: boolean;
  /** Shots of each proposal that go on the sheet. */
  readonly repeats: number;
}

/** Reads a kept form; what is missing or of the wrong kind is left to be guessed anew. */
export function parseNext(raw: unknown): NextForm {
  const given = asRecord(raw);
  const entries = (name: "limits" | "held") => Object.entries(asRecord(given[name]));
  const side = (value: unknown): value is Side =>
    typeof value === "object" &&
    value !== null &&
    Number.isFinite((value as Side).low) &&
    Number.isFinite((value as Side).high);
  return {
    aim: given.aim === "least" ? "least" : "most",
    limits: Object.fromEntries(entries("limits").filter((entry): entry is [string, Side] => side(entry[1]))),
    held: Object.fromEntries(
      entries("held").filter(
        (entry): entry is [string, number | string] => typeof entry[1] === "number" || typeof entry[1] === "string",
      ),
    ),
    physics: given.physics === true,
    repeats:
      Number.isInteger(given.repeats) && (given.repeats as number) >= 1 && (given.repeats as number) <= 50
        ? (given.repeats as number)
        : 3,
  };
}

export type ProposalName = "highest" | "trade" | "teaching";

export const PROPOSAL_TITLES: Readonly<Record<ProposalName, string>> = {
  highest: "Highest predicted",
  trade: "Best trade",
  teaching: "Teaches most",
};

function settingWords(settings: Proposal["settings"], free: boolean): Said {
  return listOf(
    settings
      .filter((one) => one.free === free)
      .map(({ heading, value }) => {
        const { name, unit } = parseHeading(heading);
        return say`${inSentence(parseHeading(name))} ${typeof value === "number" ? withUnit(significant(value, 3), unit) : value}`;
      }),
  );
}

/** One proposal in a sentence or two, never surer than its intervals. */
export function proposalSentence(name: ProposalName, proposal: Proposal, { analysis, best, highest }: WhatNext): Said {
  const { unit } = analysis.response.heading;
  if (name === "trade" && sameSettings(proposal, highest))
    return `${PROPOSAL_TITLES.trade}: the same setting as the highest predicted; nothing elsewhere promises more.`;
  const { settings, mean, single, better, gain, teaches, beyond } = proposal;
  const decimals = decimalsFor(mean.standardError ?? 0);
  const shown = (value: number) => withUnit(fixed(value, decimals), unit);
  const percent = confidenceText(analysis.choice.confidence);
  const session = shiftedBy(analysis)?.name;
  const interval =
    mean.low === null || mean.high === null || single === null
      ? "; no interval can be given, for want of degrees of freedom"
      : say` (${fixed(mean.low, decimals)} to ${shown(mean.high)} for ${session ? `the mean over many ${severalOf(session)}` : "the mean of many shots"}, ${fixed(single.low, decimals)} to ${shown(single.high)} for a single ${session ? `shot of a ${session} to come` : "one"}, ${percent} %)`;
  const chance =
    better === null || best === null
      ? ""
      : say` It is better than the best so far, ${shown(best)} as fitted, with a probability of ${chanceText(better)}${gain !== null && better >= 0.0005 ? say`; the improvement to be expected is ${withUnit(significant(gain, 2), unit)}` : ""}.`;
  const learned = say` One shot there lowers the mean variance of the prediction by ${significant(100 * teaches, 2)} %.`;
  const outside =
    beyond.length === 0
      ? ""
      : ` ${listOf(beyond)} ${beyond.length === 1 ? "lies" : "lie"} beyond anything shot so far, where what is fitted may be far off.`;
  return say`${PROPOSAL_TITLES[name]}: ${settingWords(settings, true)}. Predicted ${inSentence(analysis.response.heading)} ${shown(mean.value)}${interval}.${joinTexts(name === "teaching" ? [learned, chance] : [chance, learned])}${outside}`;
}

/** Alike to what anybody can set. */
function sameSettings(a: Proposal, b: Proposal): boolean {
  const told = (value: number | string | undefined) =>
    typeof value === "number" ? Number(value.toPrecision(3)) : value;
  return a.settings.every(({ value }, i) => told(value) === told(b.settings[i]?.value));
}

/** What the proposals rest on, in sentences. */
export function basisSentences(next: WhatNext): Said[] {
  const { analysis, form, unpredicted, highest } = next;
  const { check, log, response } = analysis;
  const held = settingWords(highest.settings, false);
  const shape = [
    form.curved.length > 0
      ? `curved in ${listOf(form.curved.map((heading) => inSentence(parseHeading(parseHeading(heading).name))))}`
      : "straight lines, the rows allow no more",
    form.joint ? "settings acting together in pairs" : undefined,
  ]
    .filter(Boolean)
    .join(", ");
  return [
    `From ${check.used.length} of ${counted(log.rows.length, "row")} of ${log.sheet}: ${form.physics ? `the shot model's ${inSentence(response.heading)} and a regression of what it leaves` : `a regression of ${inSentence(response.heading)}`}, ${shape}.${unpredicted > 0 ? ` ${counted(unpredicted, "row")} ${unpredicted === 1 ? "is" : "are"} left out because the model cannot predict ${unpredicted === 1 ? "it" : "them"}.` : ""}`,
    ...sessionsSaid(next),
    ...(held === ""
      ? []
      : [
          say`Everything else stays as it is set up now: ${held}. Nothing has to be moved or re-levelled for these shots.`,
        ]),
    "The highest of many predictions tends to be too high: shoot it several times before believing it. What was never varied, and what is not a driver of the question, these predictions cannot know.",
  ];
}

/** What is taken as shifted by a random amount, and how many of it there are; undefined where nothing is. */
function shiftedBy({ regression: { spread, question } }: WhatNext["analysis"]) {
  const { errors } = question;
  if (!spread || !errors || errors.kind === "robust") return undefined;
  return { name: inSentence(parseHeading(errors.by.name)), groups: errors.by.levels.length };
}

/** How sessions were taken: as in the answer. */
function sessionsSaid({ analysis, sessions }: WhatNext): string[] {
  const by = shiftedBy(analysis);
  const untold = sessions?.untold ?? [];
  return [
    ...(by
      ? [
          `As in the answer, each of the ${by.groups} ${severalOf(by.name)} is taken as shifted by a random amount, and a next shot as one of a ${by.name} to come.`,
        ]
      : []),
    ...(sessions && untold.length > 0
      ? [
          `There are too few ${severalOf(inSentence(sessions.column.heading))} to judge ${listOf(untold.map(({ heading }) => inSentence(heading)))}: what rests on it is told without an interval.`,
        ]
      : []),
  ];
}

/** What a sheet of the next shots is made from. */
export interface NextProposals extends Pick<WhatNext, ProposalName> {
  readonly analysis: Pick<WhatNext["analysis"], "choice">;
}

/** What to shoot next, in one line. */
export function nextLine({ highest, analysis }: WhatNext): Said {
  const { settings, mean } = highest;
  const decimals = decimalsFor(mean.standardError ?? 0);
  const { heading } = analysis.response;
  const interval =
    mean.low === null || mean.high === null
      ? "; no interval can be given"
      : say`, ${confidenceText(analysis.choice.confidence)} % interval of the mean ${fixed(mean.low, decimals)} to ${fixed(mean.high, decimals)}`;
  return say`Predicted ${inSentence(heading)} is highest, ${withUnit(fixed(mean.value, decimals), heading.unit)}, at ${settingWords(settings, true)}${interval}.`;
}

/** The proposals as rows to shoot, each so many times, in the order highest, trade, teaching, one of each in turn. */
export function nextSheet(next: NextProposals, repeats: number, measured: readonly string[]): NewSheet {
  const { analysis } = next;
  const names = (["highest", "trade", "teaching"] as const).filter((name) => next[name]);
  const headings = [
    "Why",
    ...analysis.choice.drivers.map(({ heading }) => heading),
    ...measured.filter((heading) => !analysis.choice.drivers.some((driver) => driver.heading === heading)),
    "Predicted",
    "Remarks",
  ];
  const rows = Array.from({ length: repeats }, () => names)
    .flat()
    .map((name): NewCell[] => {
      const { settings, mean } = there(next[name], "the proposal");
      const cells: NewCell[] = [
        { value: PROPOSAL_TITLES[name] },
        ...settings.map(({ value }): NewCell => ({
          value: typeof value === "number" ? Number(value.toPrecision(4)) : value,
        })),
      ];
      return headings.map((heading, c) =>
        heading === "Predicted" ? { value: Number(mean.value.toPrecision(4)) } : (cells[c] ?? { value: null }),
      );
    });
  return {
    name: "Next shots",
    rows: [headings.map((value) => ({ value, bold: true })), ...rows],
    columnWidths: headings.map((heading) => Math.max(10, heading.length + 2)),
    headingRows: 1,
  };
}
