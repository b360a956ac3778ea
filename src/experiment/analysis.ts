/**
 * From a log and a question to an answer with its rows. May import: rowCheck.ts, choice.ts, trialLog.ts, statistics/.
 */
import { buildDriver, buildGrouping } from "./buildDriver";
import type { Choice, ScatterChoice } from "./choice";
import { numberOf } from "./reading";
import { checkRows, columnNamed, UnknownColumn, type RowCheck } from "./rowCheck";
import type { LogColumn, TrialLog } from "./trialLog";
import type { ErrorModel } from "../statistics/errorModel";
import { regress, type Question, type Regression } from "../statistics/regression";

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

/**
 * Answers the question from the log's rows.
 * @throws UnknownColumn when the question names a column that is not there
 * @throws NoAnswer when no row can be used
 */
export function analyse(log: TrialLog, choice: Choice): Analysis {
  const response = columnNamed(log, choice.response);
  const columns = choice.drivers.map(({ heading }) => columnNamed(log, heading));
  columns.forEach((column, index) => {
    if (column === response) throw new UnknownColumn(`"${column.heading.text}" is asked for both as the response and as a driver: take it out of one.`);
    const twice = columns.indexOf(column);
    if (twice !== index) throw new UnknownColumn(`"${column.heading.text}" is named twice as a driver: name it once.`);
  });
  const grouping = choice.scatter && choice.scatter.as !== "robust" ? groupingColumn(log, choice.scatter.heading, response, columns) : undefined;
  const check = checkRows(log, choice);
  if (check.used.length === 0) {
    const rows = log.rows.length;
    throw new NoAnswer(rows === 0 ? "There are no trials under the headings yet." : `None of the ${rows} rows can be used: ${check.leftOut[0].reason} (${check.leftOut[0].address}).`, check);
  }
  const drivers = choice.drivers.map((driver, index) => buildDriver(driver, columns[index], check.used));
  const place = (heading: string) => {
    const index = columns.indexOf(columnNamed(log, heading));
    if (index < 0) throw new UnknownColumn(`"${heading}" is asked for jointly but is no driver: add it as a driver first.`);
    return index;
  };
  const joint = choice.joint.map(([a, b]) => {
    const pair = [place(a), place(b)] as const;
    if (pair[0] === pair[1]) throw new UnknownColumn(`"${a}" is asked for jointly with itself: let it curve instead.`);
    return pair;
  });
  const regression = fitted(check, {
    response: check.used.map((index) => numberOf(response.readings[index])),
    drivers,
    joint,
    constant: choice.constant,
    confidence: choice.confidence,
    ...(choice.scatter && { errors: errorsOf(choice.scatter.as, grouping, check) }),
  });
  return { log, choice, check, response, columns, sheetRows: check.used.map((index) => log.rows[index]), regression };
}

/** The fit; what it cannot do with these rows becomes an answer for the reader. */
function fitted(check: RowCheck, question: Question): Regression {
  try {
    return regress(question);
  } catch (problem) {
    if (problem instanceof RangeError) throw new NoAnswer(`${problem.message[0].toUpperCase()}${problem.message.slice(1)}.`, check);
    throw problem;
  }
}

/** The column that groups the rows. @throws UnknownColumn when it has another part in the question */
export function groupingColumn(log: TrialLog, heading: string, response: LogColumn, drivers: readonly LogColumn[]): LogColumn {
  const column = columnNamed(log, heading);
  const part = column === response ? "the response" : drivers.includes(column) ? "a driver" : undefined;
  if (part) throw new UnknownColumn(`"${column.heading.text}" is asked for both as ${part} and as what groups the rows: take it out of one.`);
  return column;
}

function errorsOf(as: ScatterChoice["as"], column: LogColumn | undefined, check: RowCheck): ErrorModel {
  if (as === "robust" || !column) return { kind: "robust" };
  const by = buildGrouping(column, check.used);
  if (by.levels.length < 2) {
    throw new NoAnswer(`"${column.heading.text}" has one group only in the rows used (${by.levels[0]}): at least two are needed to see how groups differ.`, check);
  }
  return { kind: as, by };
}
