/**
 * Claimed bends and what was recorded after the shot: which checks hold, which claims stand, and how they rank.
 */
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import { probabilityAbove } from "../../statistics/measure/uncertainty";
import type { NewCell, NewSheet } from "../../workbook/port";
import { yesOf } from "../log/outcome";
import { levelOf, type Reading } from "../log/reading";
import { readingAt } from "../log/logColumns";
import type { LogColumn, TrialLog } from "../log/trialLog";
import { convertUnit, kindOfUnit } from "../language/unitConversion";
import { counted, listOf, significant } from "../language/wording";

export const CHECKS = ["spacing", "line", "obstacle", "recording", "views"] as const;
export type CheckName = (typeof CHECKS)[number];

/** What each check asks, and how its column is recognised. */
export const CHECK_KINDS: Readonly<Record<CheckName, { readonly asks: string; readonly heading: RegExp }>> = {
  spacing: { asks: "the marks are one ball's diameter apart", heading: /\bspacing\b|\bmarks apart\b/i },
  line: { asks: "the sighted balls are in line", heading: /\boff the line\b|\balignment\b|\bstraight/i },
  obstacle: { asks: "the obstacle did not move", heading: /\bmoved\b/i },
  recording: { asks: "one unbroken recording", heading: /\brecording\b|\bunbroken\b/i },
  views: { asks: "both views", heading: /\bviews?\b/i },
};

export interface EvidenceRules {
  /** How far spacing, line and obstacle may be off, in `unit`. */
  readonly tolerance: number;
  /** Of the balls whose row names none. */
  readonly ballDiameter: number;
  /** Standard uncertainty of a bend whose row names none. */
  readonly uncertainty: number;
  readonly unit: "in" | "mm";
}

/** 1/32 in, the standard ball and 1/32 in; no source but common practice. */
export const FIRST_RULES: EvidenceRules = {
  tolerance: 1 / 32,
  ballDiameter: STANDARD_BALL_DIAMETER.in,
  uncertainty: 1 / 32,
  unit: "in",
};

export interface CheckResult {
  readonly name: CheckName;
  readonly verdict: "holds" | "fails" | "not recorded";
  /** What was recorded and why it fails; "" when it holds. */
  readonly words: string;
}

export interface Claim {
  /** Row of the sheet, from 0. */
  readonly row: number;
  readonly label: string;
  /** In the unit of the rules; undefined when no bend is there. */
  readonly bend: number | undefined;
  readonly uncertainty: number;
  /** Whether the row names its uncertainty. */
  readonly ownUncertainty: boolean;
  readonly checks: readonly CheckResult[];
  /** What is wrong with the numbers that the row claims, in words; a claim with any does not stand. */
  readonly faults: readonly string[];
  readonly stands: boolean;
}

/** The columns of a table of claims; undefined when it holds no bends or records no check. */
export function claimColumns(log: TrialLog):
  | {
      readonly bend: LogColumn;
      readonly claim: LogColumn | undefined;
      readonly uncertainty: LogColumn | undefined;
      readonly ball: LogColumn | undefined;
      readonly checks: ReadonlyMap<CheckName, LogColumn>;
    }
  | undefined {
  const named = (pattern: RegExp) => log.columns.find(({ heading }) => pattern.test(heading.name));
  const bend = log.columns.find(({ meaning, heading }) => meaning === "bend" && !/uncertainty/i.test(heading.name));
  const checks = new Map(
    CHECKS.flatMap((name): [CheckName, LogColumn][] => {
      const column = named(CHECK_KINDS[name].heading);
      return column ? [[name, column]] : [];
    }),
  );
  return bend && checks.size > 0
    ? {
        bend,
        claim: named(/^claim\b/i),
        uncertainty: named(/uncertainty/i),
        ball: log.columns.find(({ meaning }) => meaning === "ball diameter"),
        checks,
      }
    : undefined;
}

/** Every claim with its checks, in the order of the rows; rows without a bend are claims that cannot stand. */
export function claimsOf(log: TrialLog, rules: EvidenceRules): Claim[] {
  const columns = claimColumns(log);
  if (!columns) return [];
  const length = (column: LogColumn, index: number) => {
    const reading = readingAt(column, index);
    const from = column.heading.unit || rules.unit;
    return reading.kind === "number" && kindOfUnit(from) === "length"
      ? convertUnit(reading.value, from, rules.unit)
      : undefined;
  };
  return log.rows.map((row, index): Claim => {
    const bend = length(columns.bend, index);
    const own = columns.uncertainty && length(columns.uncertainty, index);
    const ball = columns.ball && length(columns.ball, index);
    const here = ball !== undefined && ball > 0 ? { ...rules, ballDiameter: ball } : rules;
    const faults = [
      ...bendFaults(readingAt(columns.bend, index), bend, here),
      ...(columns.uncertainty
        ? sizeFaults("standard uncertainty", readingAt(columns.uncertainty, index), own, here)
        : []),
      ...(columns.ball ? sizeFaults("ball's diameter", readingAt(columns.ball, index), ball, here) : []),
    ];
    const checks = CHECKS.map((name): CheckResult => {
      const column = columns.checks.get(name);
      return column
        ? checked(name, readingAt(column, index), length(column, index), here)
        : { name, verdict: "not recorded", words: "no column records it" };
    });
    const label = columns.claim ? levelOf(readingAt(columns.claim, index)) : "";
    return {
      row,
      label: label || `row ${row + 1}`,
      bend,
      uncertainty: own ?? rules.uncertainty,
      ownUncertainty: own !== undefined,
      checks,
      faults,
      stands: faults.length === 0 && checks.every(({ verdict }) => verdict === "holds"),
    };
  });
}

/**
 * What is wrong with a claimed bend: the Layout view refuses to set up one as wide as a ball, so none such is believed
 * here.
 */
function bendFaults(reading: Reading, bend: number | undefined, { ballDiameter, unit }: EvidenceRules): string[] {
  if (bend === undefined)
    return [reading.kind === "blank" ? "no bend is recorded" : `the bend ${valueWords(reading)} is no length`];
  if (Math.abs(bend) >= ballDiameter)
    return [
      `a bend of ${significant(bend, 4)} ${unit} is as wide as a ball (${significant(ballDiameter, 4)} ${unit}) or wider: no obstacle at the marks can ask for so much`,
    ];
  return [];
}

/** What is wrong with a size that a row may name; nothing where it names none. */
function sizeFaults(name: string, reading: Reading, size: number | undefined, { unit }: EvidenceRules): string[] {
  if (reading.kind === "blank") return [];
  if (size === undefined) return [`its ${name} ${valueWords(reading)} is no length`];
  return size > 0 ? [] : [`its ${name} is ${significant(size, 4)} ${unit}, which must be above 0`];
}

function valueWords(reading: Reading): string {
  return reading.kind === "unusable" ? `(${reading.reason})` : `"${levelOf(reading)}"`;
}

function checked(
  name: CheckName,
  reading: Reading,
  length: number | undefined,
  { tolerance, ballDiameter, unit }: EvidenceRules,
): CheckResult {
  if (reading.kind === "blank") return { name, verdict: "not recorded", words: "nothing is recorded" };
  if (reading.kind === "unusable") return { name, verdict: "not recorded", words: reading.reason };
  const said = `${significant(length ?? 0, 4)} ${unit}`;
  const allowed = `at most ${significant(tolerance, 2)} ${unit} is allowed`;
  const yes = yesOf(reading);
  if (name === "recording" || name === "views") {
    if (yes === undefined)
      return { name, verdict: "not recorded", words: `"${levelOf(reading)}" says neither yes nor no` };
    return yes === 1
      ? { name, verdict: "holds", words: "" }
      : { name, verdict: "fails", words: name === "recording" ? "the recording was broken" : "a view is missing" };
  }
  if (name === "obstacle" && reading.kind === "word") {
    if (yes === undefined)
      return { name, verdict: "not recorded", words: `"${levelOf(reading)}" says neither yes nor no, nor how far` };
    return yes === 0 ? { name, verdict: "holds", words: "" } : { name, verdict: "fails", words: "the obstacle moved" };
  }
  if (length === undefined) return { name, verdict: "not recorded", words: `"${levelOf(reading)}" is no length` };
  const off = name === "spacing" ? Math.abs(length - ballDiameter) : Math.abs(length);
  // A reading that is off by just the tolerance must not fail by the rounding of a difference.
  if (off <= tolerance * (1 + 1e-9)) return { name, verdict: "holds", words: "" };
  const words = {
    spacing: `the marks are ${said} apart, a ball is ${significant(ballDiameter, 4)} ${unit}; ${allowed}`,
    line: `the balls are ${said} off the line; ${allowed}`,
    obstacle: `the obstacle moved ${said}; ${allowed}`,
  }[name];
  return { name, verdict: "fails", words };
}

/** Why a claim does not stand, in a sentence; undefined when it does. */
export function reasonOf({ faults, checks }: Claim): string | undefined {
  const reasons = [
    ...faults,
    ...checks
      .filter(({ verdict }) => verdict !== "holds")
      .map(({ name, words }) =>
        words.startsWith("n") || words.startsWith('"') ? `${CHECK_KINDS[name].asks}: ${words}` : words,
      ),
  ];
  return reasons.length === 0 ? undefined : `${reasons.join("; ")}.`;
}

/** A claim whose bend was recorded. */
type SoundClaim = Claim & { readonly bend: number };

export interface Standing {
  readonly claim: SoundClaim;
  /** One more than the number of claims that are larger with the certainty. */
  readonly rank: number;
  /** Labels of the claims that it can neither beat nor lose to with the certainty. */
  readonly tiedWith: readonly string[];
}

export interface SideStanding {
  readonly side: "short" | "long";
  readonly standing: readonly Standing[];
}

/**
 * The claims that stand, short and long bends apart, for they are different feats; a side without any is left out.
 * @param certainty above 0.5 and below 1
 */
export function standings(claims: readonly Claim[], certainty = 0.95): SideStanding[] {
  const sound = claims.filter((claim): claim is SoundClaim => claim.stands && claim.bend !== undefined);
  const sides = [
    { side: "short", of: sound.filter(({ bend }) => bend >= 0) },
    { side: "long", of: sound.filter(({ bend }) => bend < 0) },
  ] as const;
  return sides.flatMap(({ side, of }) => (of.length === 0 ? [] : [{ side, standing: standingAmong(of, certainty) }]));
}

/**
 * By size of bend. Two are tied unless one is larger with the certainty, each pair by itself (JCGM 106; independent
 * errors, bells).
 */
function standingAmong(claims: readonly SoundClaim[], certainty: number): Standing[] {
  const sound = [...claims].sort((a, b) => Math.abs(b.bend) - Math.abs(a.bend));
  const larger = (a: SoundClaim, b: SoundClaim) =>
    probabilityAbove(
      Math.abs(a.bend),
      { standard: Math.hypot(a.uncertainty, b.uncertainty), df: Infinity },
      Math.abs(b.bend),
    ) >= certainty;
  return sound.map((claim) => ({
    claim,
    rank: 1 + sound.filter((other) => larger(other, claim)).length,
    tiedWith: sound
      .filter((other) => other !== claim && !larger(other, claim) && !larger(claim, other))
      .map(({ label }) => label),
  }));
}

/** What the claims come to, in sentences. */
export function evidenceSentences(claims: readonly Claim[], { unit, tolerance }: EvidenceRules): string[] {
  const sound = claims.filter(({ stands }) => stands).length;
  const guessed = claims.filter(({ stands, ownUncertainty }) => stands && !ownUncertainty).length;
  return [
    `${sound} of ${counted(claims.length, "claim")} ${sound === 1 ? "stands" : "stand"}: all that was asked for was recorded after the shot and holds, to within ${significant(tolerance, 2)} ${unit} where it is a length.`,
    ...(guessed > 0
      ? [
          `${counted(guessed, "claim")} that ${guessed === 1 ? "stands names" : "stand name"} no uncertainty of ${guessed === 1 ? "its" : "their"} own and ${guessed === 1 ? "takes" : "take"} the one given here.`,
        ]
      : []),
    "What was recorded cannot show that it was recorded truly; the recordings themselves can be looked at again.",
  ];
}

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
          `Row of ${log.sheet}`,
        ),
        ...standing.map(({ claim, rank, tiedWith }): NewCell[] => [
          { value: rank },
          { value: claim.label },
          tidy(claim.bend),
          tidy(claim.uncertainty),
          { value: tiedWith.join(", ") },
          { value: claim.row + 1 },
        ]),
        [],
      ]),
      bold("", "Claims that do not stand", `Bend (${unit})`, "", "Because", `Row of ${log.sheet}`),
      ...fallen.map((claim): NewCell[] => [
        { value: "" },
        { value: claim.label },
        claim.bend === undefined ? { value: "" } : tidy(claim.bend),
        { value: "" },
        { value: reasonOf(claim) ?? null },
        { value: claim.row + 1 },
      ]),
      [],
      ...evidenceSentences(claims, rules).map((text): NewCell[] => [{ value: text }]),
      [
        {
          value: `Two claims are tied unless one is larger with a probability of ${significant(100 * certainty, 3)} % or more, each pair by itself. Claims that fail a check stay on their sheet.`,
        },
      ],
    ],
    columnWidths: [8, 24, 14, 26, 60, 16],
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
    "Remarks",
  ];
  return {
    name: "Claims",
    rows: [headings.map((value) => ({ value, bold: true }))],
    columnWidths: headings.map((heading) => heading.length + 3),
  };
}

/** What is missing from a sheet for it to hold claims. @example missingChecks(undefined) // [] */
export function missingChecks(log: TrialLog | undefined): string[] {
  if (!log) return [];
  const columns = claimColumns(log);
  return CHECKS.filter((name) => !columns?.checks.has(name)).map((name) => CHECK_KINDS[name].asks);
}

/** "no column records that …", for a table that records only some checks. */
export function missingSentence(missing: readonly string[]): string | undefined {
  return missing.length === 0 ? undefined : `No column records that ${listOf(missing)}, so no claim can stand yet.`;
}
