/**
 * A plan as its form has it: texts as typed, which may not yet make sense, and what they wish for when they do.
 */
import { listOf } from "../language/said";
import { asRecord } from "../language/keptObject";
import type { StarReach } from "../../statistics/design/compositeDesign";
import { extent } from "../../statistics/numeric/extent";
import { fractionRuns, MOST_FACTORS } from "../../statistics/design/twoLevel";
import { plainNumber } from "../../workbook/cellText";
import { earlierSpreads, type EarlierSpreads } from "./earlierSpreads";
import { guessChoice } from "../question/choice";
import { setByShot } from "../log/header";
import { PlanProblem, type PlanFactor, type PlanKind, type PlanWish } from "./plan";
import { levelOf, numberOf } from "../log/reading";
import type { TrialLog } from "../log/trialLog";
import { typedNumber } from "../language/typedNumber";

export interface FactorDraft {
  readonly heading: string;
  /** "4, 8" or "worn, new"; with decimal commas "0,5; 0,7". */
  readonly levels: string;
}

export interface PlanDraft {
  readonly kind: PlanKind;
  readonly factors: readonly FactorDraft[];
  readonly runs: string;
  readonly reach: StarReach;
  /** Centres with the cube and with the star, "2, 2". */
  readonly centres: string;
  readonly replicates: string;
  readonly tables: string;
  readonly sessions: string;
  readonly warmUps: string;
  readonly seed: string;
  readonly units: "us" | "si";
  /** What a row records: the gap that a shot left, or an attempt past an obstacle. */
  readonly records: "shots" | "attempts";
  /** Difference to be seen, spread of single shots, of sessions, chance wanted. */
  readonly difference: string;
  readonly spread: string;
  /** Standard deviation between sessions; empty where it is not known. */
  readonly sessionSpread: string;
  readonly power: string;
  /** Sheet of the plan in progress. */
  readonly sheet?: string;
}

const DEFAULT: PlanDraft = {
  kind: "all",
  factors: [
    { heading: "Speed (mph)", levels: "5, 8" },
    { heading: "Spin", levels: "0, 0.5" },
  ],
  runs: "8",
  reach: "turning",
  centres: "2, 2",
  replicates: "2",
  tables: "Table 1",
  sessions: "1",
  warmUps: "3",
  seed: "1",
  units: "us",
  records: "shots",
  difference: "0.125",
  spread: "0.1",
  sessionSpread: "",
  power: "0.8",
};
/** In a text like the first guess of a log, this many numbers and levels of words. */
const MOST_GUESSED = 4;

/**
 * A first draft: the settings of the log with their least and largest values, or two usual ones.
 * @param sessions headings of what makes a session, where the reader said so
 */
export function firstDraft(log: TrialLog | undefined, seed: number, sessions?: readonly string[]): PlanDraft {
  const choice = log && guessChoice(log);
  const earlier = log && earlierSpreads(log, "in", sessions);
  const factors = (choice?.drivers ?? [])
    .flatMap(({ heading, as }): FactorDraft[] => {
      const column = log?.columns.find((one) => one.heading.text === heading);
      if (!column || !setByShot(column.meaning)) return [];
      if (as === "number") {
        const numbers = column.readings.map(numberOf).filter(Number.isFinite);
        const { low, high } = extent(numbers);
        return low < high ? [{ heading, levels: `${typedAgain(low)}, ${typedAgain(high)}` }] : [];
      }
      const levels = [...new Set(column.readings.map(levelOf).filter((text) => text !== ""))];
      return levels.length > 1 && levels.length <= MOST_GUESSED ? [{ heading, levels: levels.join(", ") }] : [];
    })
    .slice(0, MOST_GUESSED);
  const tables = log?.columns.find(({ meaning }) => meaning === "table");
  const named = tables
    ? [...new Set(tables.readings.map(levelOf).filter((text) => text !== ""))].slice(0, MOST_GUESSED)
    : [];
  return {
    ...DEFAULT,
    ...(earlier && spreadTexts(earlier)),
    seed: String(seed),
    ...(factors.length > 0 ? { factors } : {}),
    ...(named.length > 0 ? { tables: named.join(", "), replicates: String(Math.max(2, named.length)) } : {}),
  };
}

/** A number as a field takes it. */
const typedAgain = (value: number) => String(Number(value.toPrecision(3)));

/** Both spreads as the form has them. */
export function spreadTexts({ shots, sessions }: EarlierSpreads): Pick<PlanDraft, "spread" | "sessionSpread"> {
  return { spread: typedAgain(shots), sessionSpread: sessions === undefined ? "" : typedAgain(sessions) };
}

/** Reads a kept draft; what is missing or of the wrong kind is the usual. */
export function parseDraft(raw: unknown): PlanDraft {
  const given = asRecord(raw);
  const text = (name: keyof PlanDraft) => (typeof given[name] === "string" ? given[name] : (DEFAULT[name] as string));
  const oneOf = <T extends string>(name: keyof PlanDraft, values: readonly T[]): T =>
    values.includes(given[name] as T) ? (given[name] as T) : (DEFAULT[name] as T);
  const factors = Array.isArray(given.factors)
    ? given.factors.flatMap((one: unknown): FactorDraft[] => {
        const { heading, levels } = (one ?? {}) as Record<string, unknown>;
        return typeof heading === "string" && typeof levels === "string" ? [{ heading, levels }] : [];
      })
    : DEFAULT.factors;
  return {
    kind: oneOf("kind", ["all", "fraction", "composite", "square"]),
    factors,
    runs: text("runs"),
    reach: oneOf("reach", ["turning", "blocks", "face"]),
    centres: text("centres"),
    replicates: text("replicates"),
    tables: text("tables"),
    sessions: text("sessions"),
    warmUps: text("warmUps"),
    seed: text("seed"),
    units: oneOf("units", ["us", "si"]),
    records: oneOf("records", ["shots", "attempts"]),
    difference: text("difference"),
    spread: text("spread"),
    sessionSpread: text("sessionSpread"),
    power: text("power"),
    ...(typeof given.sheet === "string" ? { sheet: given.sheet } : {}),
  };
}

/** What the draft wishes for. @throws PlanProblem naming the field, what it says and the mend */
export function wishOf(draft: PlanDraft): PlanWish {
  const factors = draft.factors.map(({ heading, levels }): PlanFactor => ({
    heading: heading.trim(),
    levels: parts(levels).map(levelAsTyped),
  }));
  const [cube = NaN, star = NaN, ...more] = parts(draft.centres).map(Number);
  if (draft.kind === "composite" && (more.length > 0 || !Number.isInteger(cube) || !Number.isInteger(star)))
    throw new PlanProblem(
      `Centres is "${draft.centres}": give two whole numbers, with the cube and with the star, such as 2, 2.`,
    );
  if (draft.kind === "fraction" && factors.length > MOST_FACTORS)
    throw new PlanProblem(`A fraction takes up to ${MOST_FACTORS} settings; ${factors.length} are named.`);
  return {
    kind: draft.kind,
    factors,
    ...(draft.kind === "fraction"
      ? { runs: wholeNumber("Runs", draft.runs, listOf(fractionRuns(factors.length).map(String))) }
      : {}),
    ...(draft.kind === "composite" ? { reach: draft.reach, centres: [cube, star] as const } : {}),
    ...(draft.records === "attempts" && { records: "attempts" as const }),
    replicates: wholeNumber("Replicates", draft.replicates, "1 or more"),
    tables: parts(draft.tables),
    sessions: wholeNumber("Sessions", draft.sessions, "1 or more"),
    warmUps: wholeNumber("Warm-up shots", draft.warmUps, "0 or more"),
    seed: wholeNumber("The seed", draft.seed, "any, such as 1"),
  };
}

/** The difference to be seen and how surely. @throws PlanProblem naming the field */
export function differenceOf({ difference, spread, sessionSpread, power }: PlanDraft): {
  readonly difference: number;
  readonly spread: number;
  /** Undefined where it is not known. */
  readonly sessionSpread?: number;
  readonly power: number;
} {
  const number = (name: string, text: string, mend: string, good: (value: number) => boolean) => {
    const value = typedNumber(text);
    if (typeof value !== "number" || !good(value))
      throw new PlanProblem(
        `${name} is "${text}"${typeof value !== "number" && text.includes(",") ? `, which ${value.why}` : ""}: give ${mend}.`,
      );
    return value;
  };
  return {
    difference: number("The difference to see", difference, "a length above 0, such as 0.125", (value) => value > 0),
    spread: number(
      "The spread of single shots",
      spread,
      "a standard deviation above 0, such as 0.1",
      (value) => value > 0,
    ),
    ...(sessionSpread.trim() !== "" && {
      sessionSpread: number(
        "The spread of sessions",
        sessionSpread,
        "a standard deviation, 0 or more, or leave it empty where it is not known",
        (value) => value >= 0,
      ),
    }),
    power: number(
      "The chance wanted",
      power,
      "a share between 0.05 and 1, such as 0.8",
      (value) => value > 0.05 && value < 1,
    ),
  };
}

/** A number where it is one that can be reckoned with, otherwise a word. */
function levelAsTyped(part: string): number | string {
  const number = plainNumber(part);
  return number !== undefined && Number.isFinite(number) ? number : part;
}

function parts(text: string): string[] {
  return text
    .split(text.includes(";") ? ";" : ",")
    .map((part) => part.trim().replace(/^([+-]?\d+),(\d+)$/, "$1.$2"))
    .filter((part) => part !== "");
}

function wholeNumber(name: string, text: string, mend: string): number {
  const value = Number(text.trim());
  if (text.trim() === "" || !Number.isInteger(value))
    throw new PlanProblem(`${name} is "${text}": give a whole number, ${mend}.`);
  return value;
}
