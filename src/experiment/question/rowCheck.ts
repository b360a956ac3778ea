/**
 * Which rows a question can use, which it leaves out and why, and which look wrong though they are used.
 */
import { listOf, say, joinTexts, type Said } from "../language/said";
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import { cellAddress } from "../../workbook/address";
import { numbersOf } from "./buildDriver";
import { headingsOf, type Choice } from "./choice";
import { dateMend } from "../log/datedFraction";
import { medianOfOwn } from "../../statistics/numeric/median";
import { memo } from "../../statistics/numeric/memo";
import { doubtfulOutcome, madeOf, OUTCOMES } from "../log/outcome";
import { levelOf, type Reading } from "../log/reading";
import { countsShots } from "../log/shotOrder";
import { repeatedRows, toldColumns } from "./repeatedRows";
import { findColumns, type LogColumn, type TrialLog } from "../log/trialLog";
import { inSentence } from "../language/wording";
import { last } from "../../workbook/turns";
import { there } from "../../there";

/** A cell and what is to be said of it. */
export interface CellRemark {
  /** Sheet row and column, from 0. */
  readonly row: number;
  readonly column: number;
  readonly address: string;
  readonly heading: string;
  readonly reason: Said;
}

export interface RowCheck {
  /** Indices into log.rows. */
  readonly used: readonly number[];
  /** One entry per row that is left out. */
  readonly leftOut: readonly CellRemark[];
  /** Used, but worth a look. */
  readonly suspicious: readonly CellRemark[];
}

/** A question that names a column that is not there, or there twice. */
export class UnknownColumn extends Error {}

/** The one column with the heading. @throws UnknownColumn naming the headings that there are */
export function columnNamed(log: TrialLog, heading: string): LogColumn {
  const found = findColumns(log, heading);
  const [only, ...more] = found;
  if (only && more.length === 0) return only;
  if (found.length > 1) {
    throw new UnknownColumn(
      `"${heading}" heads ${found.length} columns (${found.map((one) => cellAddress(log.headingRow, one.column)).join(", ")}): give each its own heading.`,
    );
  }
  throw new UnknownColumn(
    `no column is headed "${heading}"; there are: ${log.columns.map((one) => `"${one.heading.text}"`).join(", ")}.`,
  );
}

/**
 * Checks every row of the log against the columns that the question needs, those that group or weigh the rows among
 * them.
 */
export function checkRows(
  log: TrialLog,
  choice: Pick<Choice, "response" | "drivers" | "scatter" | "sessions" | "weight">,
  responseIs: "number" | "made" = "number",
): RowCheck {
  return last(checkRowsInSteps(log, choice, responseIs));
}

/** The same in steps, a column each; what was found of a column is remembered. */
export function* checkRowsInSteps(
  log: TrialLog,
  choice: Pick<Choice, "response" | "drivers" | "scatter" | "sessions" | "weight">,
  responseIs: "number" | "made" = "number",
): Generator<void, RowCheck> {
  const response = columnNamed(log, choice.response);
  const needed = [
    { column: response, as: responseIs === "number" && response.kind === "date" ? ("date" as const) : responseIs },
    ...choice.drivers.map(({ heading, as }) => {
      const column = columnNamed(log, heading);
      return { column, as: as === "number" && column.kind === "date" ? ("date" as const) : as };
    }),
    ...(choice.weight === undefined ? [] : [{ column: columnNamed(log, choice.weight), as: "weight" as const }]),
    ...headingsOf(choice.scatter).map((heading) => ({ column: columnNamed(log, heading), as: "category" as const })),
  ];
  const faults = needed.map(({ column, as }) => ({ column, reasons: faultsOf(column, as) }));
  const faulty = [...new Set(faults.flatMap(({ reasons }) => [...reasons.keys()]))].sort((a, b) => a - b);
  const used = rowsWithout(log, faulty);
  const leftOut = faulty.map((index) => {
    const [first, ...others] = faults.flatMap(({ column, reasons }) => {
      const reason = reasons.get(index);
      return reason === undefined ? [] : [{ column, reason }];
    });
    if (!first) throw new Error(`Row ${index} is left out for no reason.`);
    const also = joinTexts(others.map(({ column, reason }) => say`; ${column.heading.text} is ${reason}`));
    return remark(log, index, first.column, say`${first.column.heading.text} is ${first.reason}${also}`);
  });
  // Whoever names several columns has said what it means that a label comes again.
  const said = headingsOf(choice.scatter).length > 1 || (choice.sessions?.length ?? 0) > 1;
  const watched = needed.map(({ column }) => column);
  yield;
  return { used, leftOut, suspicious: yield* suspicious(log, watched, used, said) };
}

type Use = "number" | "category" | "date" | "made" | "weight";

const faultMemo = memo<ReadonlyMap<number, Said>>();

/** Row → why its reading cannot serve, for the rows where it cannot. */
function faultsOf({ readings }: LogColumn, as: Use): ReadonlyMap<number, Said> {
  return faultMemo(readings, [as], () => {
    const faults = new Map<number, Said>();
    readings.forEach((reading, index) => {
      const reason = fault(reading, as);
      if (reason !== undefined) faults.set(index, reason);
    });
    return faults;
  });
}

const usedMemo = memo<readonly number[]>();

/** All rows but the faulty ones; the same list for the same rows, so that what was made of it can be known again. */
function rowsWithout(log: TrialLog, faulty: readonly number[]): readonly number[] {
  return usedMemo(log, [faulty.join()], () => {
    const out = new Set(faulty);
    const rows: number[] = [];
    for (let index = 0; index < log.rows.length; index++) if (!out.has(index)) rows.push(index);
    return rows;
  });
}

/** Why a reading cannot serve; undefined when it can. */
export function fault(reading: Reading, as: Use): Said | undefined {
  if (reading.kind === "blank") return "blank";
  if (reading.kind === "unusable") return reading.reason;
  if (as === "category") return undefined;
  if (as === "made") {
    if (madeOf(reading) !== undefined) return undefined;
    const doubtful = doubtfulOutcome(reading);
    if (doubtful) return `"${levelOf(reading)}", which can mean ${listOf(doubtful, "or")}: write which`;
    return `"${levelOf(reading)}", which says neither made nor not made (write ${listOf(OUTCOMES, "or")}; yes or no will do)`;
  }
  if (as === "weight" && reading.kind === "number" && !(reading.value > 0))
    return say`${reading.value}; a weight must be above 0`;
  if (reading.kind === "word") return `"${reading.text}", which is no number`;
  if ((as === "number" || as === "weight") && reading.kind === "date") return dateMend(reading.value);
  if (as === "date" && reading.kind === "number") return say`${reading.value} in a column of dates`;
  return undefined;
}

export function remark(log: TrialLog, index: number, { column, heading }: LogColumn, reason: Said): CellRemark {
  const row = there(log.rows[index], "a row");
  return { row, column, address: cellAddress(row, column), heading: heading.text, reason };
}

function* suspicious(
  log: TrialLog,
  needed: readonly LogColumn[],
  used: readonly number[],
  sessionsSaid: boolean,
): Generator<void, CellRemark[]> {
  const watched = new Set([
    ...needed,
    ...log.columns.filter((column) => column.meaning === "gap" || column.meaning === "humidity"),
  ]);
  const ofColumns: CellRemark[] = [];
  for (const column of watched) {
    ofColumns.push(...suspiciousMemo(column, [log, used], () => suspiciousIn(log, column, used)));
    yield;
  }
  const ofRows = suspiciousMemo(log, [used, sessionsSaid], () => [
    ...(sessionsSaid ? [] : sharedSessions(log, used)),
    ...duplicates(log, used),
  ]);
  return [...ofColumns, ...ofRows];
}

const suspiciousMemo = memo<readonly CellRemark[]>();

function suspiciousIn(log: TrialLog, column: LogColumn, used: readonly number[]): CellRemark[] {
  const remarks: CellRemark[] = [];
  if (column.meaning !== undefined) {
    for (const index of used) {
      const reading = column.readings[index];
      const doubt = reading?.kind === "number" ? implausible(column, reading.value) : undefined;
      if (doubt) remarks.push(remark(log, index, column, doubt));
    }
  }
  if (column.kind === "number") remarks.push(...farOff(log, column, used));
  if (column.kind === "category") remarks.push(...likeSpellings(log, column, used));
  return remarks;
}

function implausible({ meaning, heading }: LogColumn, value: number): Said | undefined {
  const unit = heading.unit;
  if (meaning === undefined) return undefined;
  const said = () => say`${heading.name} is ${value}${unit ? ` ${unit}` : ""}`;
  if (meaning === "humidity" && (value < 0 || value > 100)) return say`${said()}; humidity lies between 0 and 100 %`;
  if (meaning === "humidity" && value > 0 && value <= 1) return say`${said()}; a share of 1 where percent is meant?`;
  if (meaning === "gap" && unit in STANDARD_BALL_DIAMETER && value > STANDARD_BALL_DIAMETER[unit as "in" | "mm"])
    return say`${said()}, larger than a ball`;
  if (
    meaning === "bend" &&
    unit in STANDARD_BALL_DIAMETER &&
    Math.abs(value) > STANDARD_BALL_DIAMETER[unit as "in" | "mm"]
  )
    return say`${said()}, more than a ball's width`;
  if (meaning === "speed" && value <= 0) return say`${said()}; a shot moves`;
  return undefined;
}

/** Values more than eight times the median distance from the median, which a slip of a decimal point makes. */
function farOff(log: TrialLog, column: LogColumn, used: readonly number[]): CellRemark[] {
  const numbers = numbersOf(column, used);
  const filled = numbers.some(Number.isNaN) ? numbers.filter((value) => !Number.isNaN(value)) : numbers;
  const scratch = filled.slice();
  const middle = medianOfOwn(scratch);
  filled.forEach((value, place) => (scratch[place] = Math.abs(value - middle)));
  const distance = medianOfOwn(scratch);
  if (!(distance > 0)) return [];
  const remarks: CellRemark[] = [];
  numbers.forEach((value, place) => {
    const index = there(used[place], "a row used");
    if (
      !(Math.abs(value - middle) > 8 * distance) ||
      column.readings[index]?.kind !== "number" ||
      implausible(column, value) !== undefined
    )
      return;
    remarks.push(
      remark(
        log,
        index,
        column,
        say`${column.heading.name} is ${value}, far from the others (half lie within ${tidy(distance)} of ${tidy(middle)})`,
      ),
    );
  });
  return remarks;
}

function likeSpellings(log: TrialLog, column: LogColumn, used: readonly number[]): CellRemark[] {
  const first = new Map<string, string>();
  const remarks: CellRemark[] = [];
  const told = new Set<string>();
  for (const index of used) {
    const text = levelOf(there(column.readings[index], "a reading"));
    const plain = text.toLowerCase();
    const earlier = first.get(plain);
    if (earlier === undefined) first.set(plain, text);
    else if (earlier !== text && !told.has(text)) {
      told.add(text);
      remarks.push(
        remark(
          log,
          index,
          column,
          `${column.heading.name} is "${text}" here and "${earlier}" above; they count as two`,
        ),
      );
    }
  }
  return remarks;
}

/**
 * The first session whose label stands on several tables. Each table's visit has a luck of its own; under one label
 * they count as one visit, and tables that do not differ are called different too often.
 */
function sharedSessions(log: TrialLog, used: readonly number[]): CellRemark[] {
  const [session, table] = (["session", "table"] as const).map((meaning) =>
    log.columns.find((column) => column.meaning === meaning && column.kind !== "empty"),
  );
  if (!session || !table) return [];
  const tables = new Map<string, Map<string, number>>();
  for (const index of used) {
    const labelIn = ({ readings }: LogColumn) => levelOf(there(readings[index], "a reading")).trim();
    const [label, place] = [labelIn(session), labelIn(table)];
    if (label === "" || place === "") continue;
    const known = tables.get(label) ?? new Map<string, number>();
    tables.set(label, known.has(place) ? known : known.set(place, index));
  }
  const shared = [...tables].filter(([, places]) => places.size > 1);
  const [first] = shared;
  if (!first) return [];
  const [label, places] = first;
  const more = shared.length > 1 ? `, and ${shared.length - 1} more so` : "";
  return [
    remark(
      log,
      there([...places.values()][1], "a second place"),
      session,
      `${session.heading.name} is "${label}" on ${listOf([...places.keys()])}${more}; if each table was a visit of its own, give each its own label, such as ${[...places.keys()][0]} ${label}: under one they count as one, unless ${inSentence(table.heading)} and ${inSentence(session.heading)} together are named as what makes a session`,
    ),
  ];
}

/**
 * Rows alike in every column, the trial's number or time among them: a ruler makes honest repeats equal, so rows that
 * some count or clock tells apart are no copies, and without one nothing can tell.
 */
function duplicates(log: TrialLog, used: readonly number[]): CellRemark[] {
  const [first] = toldColumns(log);
  if (!first || !log.columns.some(countsShots)) return [];
  const repeats = repeatedRows(log);
  if (repeats.size === 0) return [];
  return used.flatMap((index) => {
    const earlier = repeats.get(index);
    return earlier === undefined
      ? []
      : [
          remark(
            log,
            index,
            first,
            `the row is the same as row ${there(log.rows[earlier], "a row") + 1} in every column`,
          ),
        ];
  });
}

function tidy(value: number): number {
  return Number(value.toPrecision(3));
}
