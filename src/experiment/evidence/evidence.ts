/**
 * Claimed bends and what was recorded after the shot: which checks hold, which claims stand, and how they rank.
 */
import { say, toText, joinTexts, listOf, type Said } from "../language/said";
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import type { WithError } from "../../statistics/measure/expected";
import { probabilityAbove } from "../../statistics/measure/uncertainty";
import { yesOf } from "../log/outcome";
import { levelOf, numberOf, type Reading } from "../log/reading";
import { readingAt } from "../log/logColumns";
import type { LogColumn, TrialLog } from "../log/trialLog";
import { convertUnit, kindOfUnit } from "../language/unitConversion";
import { counted, significant } from "../language/wording";

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
  /** Of every interval of a claim. */
  readonly confidence: number;
}

/** 1/32 in, the standard ball and 1/32 in; no source but common practice. */
export const FIRST_RULES: EvidenceRules = {
  tolerance: 1 / 32,
  ballDiameter: STANDARD_BALL_DIAMETER.in,
  uncertainty: 1 / 32,
  unit: "in",
  confidence: 0.95,
};

export interface CheckResult {
  readonly name: CheckName;
  readonly verdict: "holds" | "fails" | "not recorded";
  /** What was recorded and why it fails; "" when it holds. */
  readonly words: Said;
}

/** The attempts among which a claimed one stands. */
export interface TriesBefore {
  /** It is the so manieth of all attempts that say something of the bend. */
  readonly place: number;
  readonly all: number;
  /** Attempts before it at obstacles that asked for as much or more, and how many of them got by. */
  readonly asFar: number;
  readonly gotBy: number;
  /** What one attempt was expected to bend by all the others, in the unit of the rules; or why they do not tell. */
  readonly expected: WithError | { readonly why: string };
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
  /** A bend that was measured, or one that an obstacle asked for and the ball got by. */
  readonly shows: "measured" | "at least";
  /** How many attempts were made for it; undefined where nobody says. */
  readonly tries: number | undefined;
  readonly shooter: string;
  readonly table: string;
  /** Where the film is, as the row says it; "" where it says nothing. */
  readonly film: string;
  /** What the log that it stands in tells of the other attempts; undefined in a table of claims. */
  readonly before: TriesBefore | undefined;
  /** What is wrong with the numbers that the row claims, in words; a claim with any does not stand. */
  readonly faults: readonly Said[];
  readonly stands: boolean;
}

/** What a row says beside its bend, by column. */
export interface RecordedColumns {
  readonly claim: LogColumn | undefined;
  readonly uncertainty: LogColumn | undefined;
  readonly ball: LogColumn | undefined;
  readonly tries: LogColumn | undefined;
  readonly shooter: LogColumn | undefined;
  readonly table: LogColumn | undefined;
  readonly film: LogColumn | undefined;
  readonly checks: ReadonlyMap<CheckName, LogColumn>;
}

/** What rows of a log record of what is claimed, wherever the bend stands. */
export function recordedColumns({ columns }: TrialLog): RecordedColumns {
  const named = (pattern: RegExp) => columns.find(({ heading }) => pattern.test(heading.name));
  const checks = new Map(
    CHECKS.flatMap((name): [CheckName, LogColumn][] => {
      const column = named(CHECK_KINDS[name].heading);
      return column ? [[name, column]] : [];
    }),
  );
  const taken = new Set(checks.values());
  return {
    claim: named(/^claim\b/i),
    uncertainty: named(/uncertainty/i),
    ball: columns.find(({ meaning }) => meaning === "ball diameter"),
    tries: columns.find(({ heading, kind }) => kind === "number" && /\btries\b|\battempts\b/i.test(heading.name)),
    shooter: named(/\bshooter\b|\bplayer\b|\bshot by\b/i),
    table: columns.find(({ meaning }) => meaning === "table"),
    film: columns.find(
      (column) => /\b(film|video|link)\b/i.test(column.heading.name) && column.meaning !== "bend" && !taken.has(column),
    ),
    checks,
  };
}

/** The columns of a table of claims; undefined when it holds no bends or records no check. */
export function claimColumns(log: TrialLog): (RecordedColumns & { readonly bend: LogColumn }) | undefined {
  const bend = log.columns.find(({ meaning, heading }) => meaning === "bend" && !/uncertainty/i.test(heading.name));
  const recorded = recordedColumns(log);
  return bend && recorded.checks.size > 0 ? { ...recorded, bend } : undefined;
}

/** Every claim with its checks, in the order of the rows; rows without a bend are claims that cannot stand. */
export function claimsOf(log: TrialLog, rules: EvidenceRules): Claim[] {
  const columns = claimColumns(log);
  if (!columns) return [];
  return log.rows.map((_, index): Claim => {
    const bend = lengthAt(columns.bend, index, rules);
    const { here, ...recorded } = recordedAt(log, columns, index, rules);
    return finished(
      { ...recorded, bend, shows: "measured", before: undefined },
      bendFaults(readingAt(columns.bend, index), bend, here),
    );
  });
}

/** A length of a row in the unit of the rules; undefined where it is none. */
export function lengthAt(column: LogColumn, index: number, { unit }: EvidenceRules): number | undefined {
  const reading = readingAt(column, index);
  const from = column.heading.unit || unit;
  return reading.kind === "number" && kindOfUnit(from) === "length"
    ? convertUnit(reading.value, from, unit)
    : undefined;
}

type Unfinished = Omit<Claim, "stands">;

/** A claim with what is wrong with its bend, which comes first. */
export function finished(claim: Unfinished, bendIs: readonly Said[]): Claim {
  const faults = [...bendIs, ...claim.faults];
  return { ...claim, faults, stands: faults.length === 0 && claim.checks.every(({ verdict }) => verdict === "holds") };
}

/** What a row records beside its bend, and the rules with the row's own ball. */
export function recordedAt(
  log: TrialLog,
  columns: RecordedColumns,
  index: number,
  rules: EvidenceRules,
): Omit<Unfinished, "bend" | "shows" | "before"> & { readonly here: EvidenceRules } {
  const row = log.rows[index] ?? 0;
  const own = columns.uncertainty && lengthAt(columns.uncertainty, index, rules);
  const ball = columns.ball && lengthAt(columns.ball, index, rules);
  const here = ball !== undefined && ball > 0 ? { ...rules, ballDiameter: ball } : rules;
  const said = (column: LogColumn | undefined) => (column ? levelOf(readingAt(column, index)) : "");
  const tries = columns.tries ? numberOf(readingAt(columns.tries, index)) : NaN;
  return {
    here,
    row,
    label: said(columns.claim) || `row ${row + 1}`,
    uncertainty: own ?? rules.uncertainty,
    ownUncertainty: own !== undefined,
    checks: CHECKS.map((name): CheckResult => {
      const column = columns.checks.get(name);
      return column
        ? checked(name, readingAt(column, index), lengthAt(column, index, rules), here)
        : { name, verdict: "not recorded", words: "no column records it" };
    }),
    tries: Number.isInteger(tries) && tries > 0 ? tries : undefined,
    shooter: said(columns.shooter),
    table: said(columns.table),
    film: said(columns.film),
    faults: [
      ...(columns.uncertainty
        ? sizeFaults("standard uncertainty", readingAt(columns.uncertainty, index), own, here)
        : []),
      ...(columns.ball ? sizeFaults("ball's diameter", readingAt(columns.ball, index), ball, here) : []),
    ],
  };
}

/**
 * What is wrong with a claimed bend: the Layout view refuses to set up one as wide as a ball, so none such is believed
 * here.
 */
export function bendFaults(reading: Reading, bend: number | undefined, { ballDiameter, unit }: EvidenceRules): Said[] {
  if (bend === undefined)
    return [reading.kind === "blank" ? "no bend is recorded" : `the bend ${valueWords(reading)} is no length`];
  if (Math.abs(bend) >= ballDiameter)
    return [
      say`a bend of ${significant(bend, 4)} ${unit} is as wide as a ball (${significant(ballDiameter, 4)} ${unit}) or wider: no obstacle at the marks can ask for so much`,
    ];
  return [];
}

/** What is wrong with a size that a row may name; nothing where it names none. */
function sizeFaults(name: string, reading: Reading, size: number | undefined, { unit }: EvidenceRules): Said[] {
  if (reading.kind === "blank") return [];
  if (size === undefined) return [`its ${name} ${valueWords(reading)} is no length`];
  return size > 0 ? [] : [say`its ${name} is ${significant(size, 4)} ${unit}, which must be above 0`];
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
  const said = say`${significant(length ?? 0, 4)} ${unit}`;
  const allowed = say`at most ${significant(tolerance, 2)} ${unit} is allowed`;
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
    spacing: say`the marks are ${said} apart, a ball is ${significant(ballDiameter, 4)} ${unit}; ${allowed}`,
    line: say`the balls are ${said} off the line; ${allowed}`,
    obstacle: say`the obstacle moved ${said}; ${allowed}`,
  }[name];
  return { name, verdict: "fails", words };
}

/** Why a claim does not stand, in a sentence; undefined when it does. */
export function reasonOf({ faults, checks }: Claim): Said | undefined {
  const reasons = [
    ...faults,
    ...checks
      .filter(({ verdict }) => verdict !== "holds")
      .map(({ name, words }) => (/^["n]/.test(toText(words)) ? say`${CHECK_KINDS[name].asks}: ${words}` : words)),
  ];
  return reasons.length === 0 ? undefined : say`${joinTexts(reasons, "; ")}.`;
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
export function evidenceSentences(claims: readonly Claim[], { unit, tolerance }: EvidenceRules): Said[] {
  const sound = claims.filter(({ stands }) => stands).length;
  const guessed = claims.filter(({ stands, ownUncertainty }) => stands && !ownUncertainty).length;
  return [
    say`${sound} of ${counted(claims.length, "claim")} ${sound === 1 ? "stands" : "stand"}: all that was asked for was recorded after the shot and holds, to within ${significant(tolerance, 2)} ${unit} where it is a length.`,
    ...(guessed > 0
      ? [
          `${counted(guessed, "claim")} that ${guessed === 1 ? "stands names" : "stand name"} no uncertainty of ${guessed === 1 ? "its" : "their"} own and ${guessed === 1 ? "takes" : "take"} the one given here.`,
        ]
      : []),
    "What was recorded cannot show that it was recorded truly; the recordings themselves can be looked at again.",
  ];
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
