/**
 * From a log and a question to an answer with its rows.
 */
import { capital, say, toText } from "../language/said";
import { buildDriver, buildGrouping, numbersOf } from "./buildDriver";
import { headingsOf, type Choice, type ScatterChoice } from "./choice";
import { memo } from "../../statistics/numeric/memo";
import { checkRows, columnNamed, UnknownColumn, type RowCheck } from "./rowCheck";
import { sessionColumn } from "./sessions";
import type { LogColumn, TrialLog } from "../log/trialLog";
import type { Driver } from "../../statistics/fit/designMatrix";
import type { ErrorModel, Grouping } from "../../statistics/errors/errorModel";
import { regress, regressionMemory, type Regression, type RegressionMemory } from "../../statistics/fit/regression";
import { there } from "../../there";

export interface Analysis {
  readonly log: TrialLog;
  readonly choice: Choice;
  readonly check: RowCheck;
  readonly response: LogColumn;
  /** One per driver of the choice. */
  readonly columns: readonly LogColumn[];
  /** Sheet rows (from 0) of the rows used, in the order of the regression's rows. */
  readonly sheetRows: readonly number[];
  readonly regression: Regression;
}

/** A question that cannot be answered with the rows there are; the message says why and what would mend it. */
export class NoAnswer extends Error {
  constructor(
    message: string,
    readonly check: RowCheck,
  ) {
    super(message);
  }
}

/** A question laid out over the rows that can answer it. */
export interface Prepared {
  readonly response: LogColumn;
  readonly columns: readonly LogColumn[];
  readonly check: RowCheck;
  readonly drivers: readonly Driver[];
  readonly joint: readonly (readonly [number, number])[];
}

/**
 * Finds the question's columns and rows.
 * @param responseIs whether the response is a number or says made or missed
 * @throws UnknownColumn when the question names a column that is not there, or one in two parts
 * @throws NoAnswer when no row can be used
 */
export function prepare(log: TrialLog, choice: Choice, responseIs: "number" | "made"): Prepared {
  const response = columnNamed(log, choice.response);
  const columns = choice.drivers.map(({ heading }) => columnNamed(log, heading));
  columns.forEach((column, index) => {
    if (column === response)
      throw new UnknownColumn(
        `"${column.heading.text}" is asked for both as the response and as a driver: take it out of one.`,
      );
    const twice = columns.indexOf(column);
    if (twice !== index) throw new UnknownColumn(`"${column.heading.text}" is named twice as a driver: name it once.`);
  });
  const check = checkRows(log, choice, responseIs);
  if (check.used.length === 0) {
    const rows = log.rows.length;
    const [first] = check.leftOut;
    throw new NoAnswer(
      rows === 0
        ? "There are no trials under the headings yet."
        : toText(say`None of the ${rows} rows can be used: ${first?.reason ?? ""} (${first?.address ?? ""}).`),
      check,
    );
  }
  const place = (heading: string) => {
    const index = columns.indexOf(columnNamed(log, heading));
    if (index < 0)
      throw new UnknownColumn(`"${heading}" is asked for jointly but is no driver: add it as a driver first.`);
    return index;
  };
  const joint = choice.joint.map(([a, b]) => {
    const pair = [place(a), place(b)] as const;
    if (pair[0] === pair[1]) throw new UnknownColumn(`"${a}" is asked for jointly with itself: let it curve instead.`);
    return pair;
  });
  return {
    response,
    columns,
    check,
    drivers: choice.drivers.map((driver, index) => buildDriver(driver, there(columns[index], "a column"), check.used)),
    joint,
  };
}

/**
 * Answers the question from the log's rows.
 * @throws UnknownColumn when the question names a column that is not there, or one in two parts
 * @throws NoAnswer when the rows cannot answer it
 */
export function analyse(log: TrialLog, choice: Choice): Analysis {
  const { scatter } = choice;
  const grouping = scatter && scatter.as !== "robust" ? sessionColumn(log, headingsOf(scatter)) : undefined;
  const { response, columns, check, drivers, joint } = prepare(log, choice, "number");
  const weight = choice.weight === undefined ? undefined : columnNamed(log, choice.weight);
  if (weight === response)
    throw new UnknownColumn(
      `"${choice.response}" is asked for both as the response and as the weights: take it out of one.`,
    );
  if (grouping) refuseAsGrouping(log, grouping, response, columns);
  const regression = orNoAnswer(check, () =>
    regress(
      {
        response: numbersOf(response, check.used),
        drivers,
        joint,
        constant: choice.constant,
        confidence: choice.confidence,
        ...(weight && { weights: numbersOf(weight, check.used) }),
        ...(scatter && { errors: errorsOf(scatter.as, grouping, check) }),
      },
      memories(check.used, [], regressionMemory),
    ),
  );
  return {
    log,
    choice,
    check,
    response,
    columns,
    sheetRows:
      check.used.length === log.rows.length
        ? log.rows
        : sheetRows(check.used, [log], () => check.used.map((index) => there(log.rows[index], "a row of the log"))),
    regression,
  };
}

/** By the rows used: the next question on the same rows works out only what is new in it. */
const memories = memo<RegressionMemory>(1);
const sheetRows = memo<readonly number[]>(1);

/** What a fit cannot do with these rows becomes an answer for the reader. */
export function orNoAnswer<T>(check: RowCheck, fit: () => T): T {
  try {
    return fit();
  } catch (problem) {
    if (problem instanceof RangeError) throw new NoAnswer(`${capital(problem.message)}.`, check);
    throw problem;
  }
}

/**
 * A column that groups the rows has no other part in the question; of several, a driver may be one, as where sessions
 * are counted anew on each table.
 * @throws UnknownColumn
 */
export function refuseAsGrouping(
  log: TrialLog,
  grouping: LogColumn,
  response: LogColumn,
  drivers: readonly LogColumn[],
): void {
  for (const column of grouping.parts?.map((heading) => columnNamed(log, heading)) ?? [grouping]) {
    const part =
      column === response ? "the response" : !grouping.parts && drivers.includes(column) ? "a driver" : undefined;
    if (part)
      throw new UnknownColumn(
        `"${column.heading.text}" is asked for both as ${part} and as what groups the rows: take it out of one.`,
      );
  }
}

function errorsOf(as: ScatterChoice["as"], column: LogColumn | undefined, check: RowCheck): ErrorModel {
  if (as === "robust" || !column) return { kind: "robust" };
  return { kind: as, by: groupsAmong(column, check) };
}

/** The column as a grouping of the rows used. @throws NoAnswer when they are all of one group */
export function groupsAmong(column: LogColumn, check: RowCheck): Grouping {
  const by = buildGrouping(column, check.used);
  if (by.levels.length < 2) {
    throw new NoAnswer(
      `"${column.heading.text}" has one group only in the rows used (${by.levels[0]}): at least two are needed to see how groups differ.`,
      check,
    );
  }
  return by;
}
