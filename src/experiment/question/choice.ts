/**
 * What the user asks of a log: the response, the drivers and how each is taken. Plain data that is kept with the
 * workbook.
 */
import type { Meaning } from "../log/header";
import type { LogColumn, TrialLog } from "../log/trialLog";

export interface DriverChoice {
  /** Full heading text. */
  readonly heading: string;
  readonly as: "number" | "category";
  /** 1 for a straight line, 2 and more for a curve; 1 for a category. */
  readonly degree: number;
}

export interface Choice {
  readonly response: string;
  /** In the order in which terms are listed. */
  readonly drivers: readonly DriverChoice[];
  /** Pairs of headings whose effects may depend on each other. */
  readonly joint: readonly (readonly [string, string])[];
  readonly constant: boolean;
  readonly confidence: number;
  /** How rows scatter about the fit; alike and apart from each other where it is left out. */
  readonly scatter?: ScatterChoice;
  /**
   * Headings of what makes a session, where the user said so; noticed where it is left out. Several: each distinct
   * combination is one.
   */
  readonly sessions?: readonly string[];
  /** Heading of the rows' weights; all rows alike where it is left out. */
  readonly weight?: string;
}

/**
 * "robust": every row may scatter by its own amount; "cluster": rows alike in a column may go together in any way;
 * "random": each level of a column shifts its rows by a random amount.
 */
export type ScatterChoice =
  | { readonly as: "robust" }
  | {
      readonly as: "cluster" | "random";
      readonly heading: string;
      /** Headings of further columns: a group is each distinct combination. */
      readonly also?: readonly string[];
    };

/** The drivers without the one of this heading. */
export function withoutDriver(drivers: readonly DriverChoice[], heading: string): DriverChoice[] {
  return drivers.filter((one) => one.heading !== heading);
}

/**
 * Headings of the columns that make the groups, in the order in which they were named; none where rows are on their
 * own.
 */
export function headingsOf(scatter: ScatterChoice | undefined): readonly string[] {
  return scatter && scatter.as !== "robust" ? [scatter.heading, ...(scatter.also ?? [])] : [];
}

/** What makes a session where the reader said so, for other views to take it alike; undefined where nobody did. */
export function namedSessions({
  scatter,
  sessions,
}: Pick<Choice, "scatter" | "sessions">): readonly string[] | undefined {
  return scatter && scatter.as !== "robust" ? headingsOf(scatter) : sessions;
}

/** Meanings that are taken as drivers unless the user says otherwise, in this order. */
const USUAL_DRIVERS: readonly Meaning[] = ["cloth", "humidity", "speed", "spin"];

/** Columns that can be asked about: all but counters, remarks, dates and what the response is computed from. */
export function possibleDrivers(log: TrialLog, response: string): LogColumn[] {
  return log.columns.filter(
    ({ heading, meaning, kind }) =>
      heading.text !== response &&
      kind !== "empty" &&
      !["bend", "gap", "clearance", "trial", "remarks", "ball diameter", "gate correction", "made"].includes(
        meaning ?? "",
      ),
  );
}

/** The first guess: bend (or gap, where there is no bend) against cloth, humidity, speed and spin. */
export function guessChoice(log: TrialLog): Choice | undefined {
  const numbers = log.columns.filter((column) => column.kind === "number" && column.meaning !== "trial");
  const response =
    ["bend", "gap"].map((meaning) => numbers.find((column) => column.meaning === meaning)).find(Boolean) ??
    numbers[numbers.length - 1];
  if (!response) return undefined;
  const candidates = possibleDrivers(log, response.heading.text);
  const drivers = USUAL_DRIVERS.flatMap((meaning) => candidates.filter((column) => column.meaning === meaning));
  return {
    response: response.heading.text,
    drivers: drivers.map((column) => asDriver(column)),
    joint: [],
    constant: true,
    confidence: 0.95,
  };
}

/** A column taken as a driver the way its cells suggest. */
export function asDriver(column: LogColumn): DriverChoice {
  return { heading: column.heading.text, as: column.kind === "category" ? "category" : "number", degree: 1 };
}
