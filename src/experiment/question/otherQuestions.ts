/**
 * First guesses for the two questions beside explaining a number: made or missed, and which levels differ.
 */
import { say, type Said } from "../language/said";
import { parseInches } from "../../bank/ruler";
import { guessChoice, possibleDrivers, withoutDriver, type Choice } from "./choice";
import { parseHeading, type Meaning } from "../log/header";
import { doubtfulOutcome, madeOf } from "../log/outcome";
import { levelOf } from "../log/reading";
import type { LogColumn, TrialLog } from "../log/trialLog";
import { typedNumber } from "../language/typedNumber";
import { withUnit } from "../language/wording";

/** A comparison as the user asks it. */
export interface CompareChoice extends Omit<Choice, "joint" | "constant"> {
  /** Heading of the column whose levels are compared. */
  readonly among: string;
  /** The margin as typed, in the response's unit; "" for none. */
  readonly margin: string;
  /** Level that the others are compared with; all pairs where it is left out. */
  readonly reference?: string;
  /** Heading of a number whose effect may differ between the levels; not asked where it is left out. */
  readonly slope?: string;
}

/** How many of a column's first filled cells are looked at to see whether they say made or missed. */
const LOOKED_AT = 50;

/** Columns that say made or missed: those headed so first, then those whose cells all say so. */
export function madeColumns(log: TrialLog): LogColumn[] {
  const says = ({ readings }: LogColumn) => {
    const filled = readings.filter(({ kind }) => kind !== "blank").slice(0, LOOKED_AT);
    return (
      filled.length > 0 &&
      filled.every((reading) => madeOf(reading) !== undefined || doubtfulOutcome(reading)) &&
      filled.some((reading) => madeOf(reading) !== undefined)
    );
  };
  const headed = log.columns.filter(({ meaning, kind }) => meaning === "made" && kind !== "empty");
  return [...headed, ...log.columns.filter((column) => !headed.includes(column) && says(column))];
}

/** Made or missed against the usual drivers; undefined when no column says so. */
export function guessMade(log: TrialLog): Choice | undefined {
  const [column] = madeColumns(log);
  if (!column) return undefined;
  const drivers = guessChoice(log)?.drivers ?? [];
  return {
    response: column.heading.text,
    drivers: withoutDriver(drivers, column.heading.text),
    joint: [],
    constant: true,
    confidence: 0.95,
  };
}

const COMPARED: readonly Meaning[] = ["table", "cloth", "balls"];

/** More levels than this are no guess at what to compare: their pairs are too many to read. */
const MOST_LEVELS = 12;

/** Columns whose levels can be compared, the likeliest first. */
export function comparable(log: TrialLog, response: string): LogColumn[] {
  const columns = possibleDrivers(log, response).filter(({ kind }) => kind === "category" || kind === "number");
  const rank = ({ meaning, kind }: LogColumn) => {
    const place = COMPARED.indexOf(meaning as Meaning);
    return place >= 0 ? place : kind === "category" ? COMPARED.length : COMPARED.length + 1;
  };
  return columns.sort((a, b) => rank(a) - rank(b));
}

/** Tables compared, else cloths, else another category, with the usual drivers alike; undefined when nothing can be. */
export function guessComparison(log: TrialLog): CompareChoice | undefined {
  const base = guessChoice(log);
  if (!base) return undefined;
  const levels = ({ readings }: LogColumn) =>
    new Set(readings.flatMap((reading) => (reading.kind === "blank" ? [] : [levelOf(reading)]))).size;
  const among = comparable(log, base.response).find(
    (column) => column.kind === "category" && levels(column) >= 2 && levels(column) <= MOST_LEVELS,
  );
  if (!among) return undefined;
  return {
    ...comparisonOf(base, among.heading.text),
    drivers: withoutDriver(base.drivers, among.heading.text),
  };
}

function comparisonOf({ response, drivers, confidence }: Choice, among: string): CompareChoice {
  return { response, drivers, confidence, among, margin: "" };
}

/**
 * The margin as a number in the response's unit: undefined when nothing is typed, otherwise what is wrong with it.
 * @example readMargin("1/16", "Bend (in)") === 0.0625
 */
export function readMargin(text: string, response: string): number | undefined | Said {
  const { unit } = parseHeading(response);
  const typed = text.trim();
  if (typed === "") return undefined;
  const number = typedNumber(typed);
  const value =
    typeof number === "number" ? number : unit === "in" && !typed.includes(",") ? parseInches(typed) : undefined;
  const wanted = say`the largest difference that counts as none, above 0, such as ${unit === "in" ? "1/16" : withUnit("2", unit)}`;
  if (typeof value !== "number") return say`The margin is "${typed}": give ${wanted}.`;
  return value > 0 ? value : say`The margin is ${typed}: give ${wanted}.`;
}
