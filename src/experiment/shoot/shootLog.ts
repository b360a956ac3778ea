/** A log as somebody who shoots needs it: where the next attempt goes, and what stays as it was. */
import { convertUnit } from "../language/unitConversion";
import { asRead, parseInches } from "../../bank/ruler";
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import { columnLetters } from "../../workbook/address";
import { dataArea, type CellValue } from "../../workbook/book";
import { dayOfSerial } from "../../workbook/cellText";
import type { SheetData } from "../../workbook/port";
import { typedNumber } from "../language/typedNumber";
import { attemptPlaces, isRequired, type AttemptColumns } from "../log/attemptLog";
import { outsideText } from "../log/outsideTable";
import { levelOf, numberOf, type Reading } from "../log/reading";
import { readingAt } from "../log/logColumns";
import type { LogColumn, TrialLog } from "../log/trialLog";

/** Where the next attempt goes. */
export interface OpenRow {
  /** Sheet row, from 0. */
  readonly row: number;
  /** Index of a row of the log that stands there already, as in a plan; undefined for a blank one. */
  readonly index: number | undefined;
  /** The sheet hides it, by a filter perhaps. */
  readonly hidden: boolean;
}

/** A setting of the log, which stays as it was unless somebody says otherwise. */
export interface KeptSetting {
  readonly column: LogColumn;
  /** As it is typed; "" for none. */
  readonly text: string;
  /** As the cell holds it. */
  readonly value: CellValue;
  /** Number format of the cell that it is taken from. */
  readonly format: string;
  /** The row to be filled says it already, so that it is not written. */
  readonly planned: boolean;
}

export interface ShootLog {
  readonly log: TrialLog;
  readonly data: SheetData;
  readonly places: AttemptColumns;
  /** Of the gap or required bend. */
  readonly unit: "in" | "mm" | "cm";
  /** In that unit. */
  readonly ballDiameter: number;
  /** Indices of the rows that hold an attempt, in the sheet's order. */
  readonly shot: readonly number[];
  readonly open: OpenRow;
  readonly settings: readonly KeptSetting[];
  readonly session: LogColumn | undefined;
  readonly date: LogColumn | undefined;
}

/** What keeps a log from taking attempts, in a sentence. */
export interface NoShooting {
  readonly problem: string;
}

/**
 * @param ball diameter in m; the standard one when left out
 * @returns undefined for a log of another kind
 */
export function shootLog(
  log: TrialLog,
  data: SheetData,
  ball = STANDARD_BALL_DIAMETER.mm / 1000,
): ShootLog | NoShooting | undefined {
  const places = attemptPlaces(log);
  if (!places) return undefined;
  const { heading } = places.position.column;
  const unit = heading.unit === "" ? "in" : heading.unit;
  if (unit !== "in" && unit !== "mm" && unit !== "cm")
    return {
      problem: `"${heading.text}" is in ${unit}: a gap is read here in inches or millimetres. Change its heading, or make a log of attempts.`,
    };
  const isShot = (index: number) =>
    [places.outcome, ...(places.measured ? [places.measured] : [])].some(
      (column) => readingAt(column, index).kind !== "blank",
    );
  const shot = log.rows.flatMap((_, index) => (isShot(index) ? [index] : []));
  const open = openRow(log, data, shot.at(-1));
  if ("problem" in open) return open;
  return {
    log,
    data,
    places,
    unit,
    ballDiameter: convertUnit(ball, "m", unit),
    shot,
    open,
    settings: settingsOf(log, data, places, shot, open),
    session: log.columns.find(({ meaning }) => meaning === "session"),
    date: dateColumn(log),
  };
}

/** The column of days, before one of times. */
function dateColumn({ columns }: TrialLog): LogColumn | undefined {
  const dates = columns.filter(({ meaning }) => meaning === "date");
  return dates.find(({ heading }) => /\b(date|day)\b/i.test(heading.name));
}

function openRow(log: TrialLog, data: SheetData, last: number | undefined): OpenRow | NoShooting {
  const hidden = new Set(data.hiddenRows);
  const planned = (last ?? -1) + 1;
  const own = log.rows[planned];
  if (own !== undefined && isPlanned(log, planned)) return { row: own, index: planned, hidden: hidden.has(own) };
  let row = (log.rows.at(-1) ?? log.headingRow) + 1;
  // A row of units is none of the log's, and nothing is written over it.
  while (log.columns.some((column) => column.meaning !== "trial" && !isBlank(cellOf(data, row, column.column)))) row++;
  const table = data.tables.find(({ name }) => name === log.title);
  const below = table && dataArea(table).row + dataArea(table).rows <= row;
  if (below && table.totals)
    return {
      problem: `The table ${table.name} is full, and a row of totals ends it: put rows in above the totals, then go on.`,
    };
  if (below && log.outside && !log.outside.takenIn && log.outside.rows.length > 0)
    return {
      problem: `The table ${table.name} is full. ${outsideText(table.name, log.outside)}: take them in, or move them, then go on.`,
    };
  return { row, index: undefined, hidden: hidden.has(row) };
}

/** Whether a row without an attempt was written for one: a note alone is none. */
function isPlanned({ columns }: TrialLog, index: number): boolean {
  return columns.some(
    (column) => column.meaning !== "remarks" && column.meaning !== "trial" && readingAt(column, index).kind !== "blank",
  );
}

export function cellOf({ values, firstRow, firstColumn }: SheetData, row: number, column: number): CellValue {
  return values[row - firstRow]?.[column - firstColumn] ?? null;
}

export function formatOf({ formats, firstRow, firstColumn }: SheetData, row: number, column: number): string {
  return formats[row - firstRow]?.[column - firstColumn] ?? "General";
}

function isBlank(value: CellValue): boolean {
  return value === null || (typeof value === "string" && value.trim() === "");
}

/** Columns that say of one attempt what the next need not have. */
const OF_ITS_OWN = new Set(["bend", "gap", "clearance", "made", "trial", "remarks", "date"]);
const OF_FILM = /\b(film|video|camera|clip|file|time|link|attempt)\b/i;
/** Columns that are settings whatever they hold. */
const SET = new Set(["cloth", "table", "humidity", "temperature", "speed", "spin", "angle", "session", "observer"]);

/** What stays as it was, unless somebody says otherwise. @param shot indices of the rows that hold an attempt */
export function settingsOf(
  log: TrialLog,
  data: SheetData,
  places: AttemptColumns,
  shot: readonly number[],
  open: OpenRow,
): KeptSetting[] {
  const parts = new Set([places.position.column, places.outcome, places.measured]);
  return log.columns.flatMap((column): KeptSetting[] => {
    if (parts.has(column) || OF_ITS_OWN.has(column.meaning ?? "") || isRequired(column)) return [];
    if (OF_FILM.test(column.heading.name)) return [];
    const planned = open.index !== undefined && readingAt(column, open.index).kind !== "blank";
    const from = planned ? open.row : lastRow(log, column, shot);
    const value = from === undefined ? null : cellOf(data, from, column.column);
    const reading = planned && open.index !== undefined ? readingAt(column, open.index) : lastReading(column, shot);
    const format = from === undefined ? "General" : formatOf(data, from, column.column);
    return [{ column, text: settingText(column, reading), value, format, planned }];
  });
}

/** The sheet row whose value stays: the last attempt's, where the column is one that stays. */
function lastRow(log: TrialLog, column: LogColumn, shot: readonly number[]): number | undefined {
  return lastReading(column, shot).kind === "blank" ? undefined : log.rows[shot.at(-1) ?? NaN];
}

/** A column that nobody knows is a setting where it holds words, or stayed the same. */
function lastReading(column: LogColumn, shot: readonly number[]): Reading {
  const last = shot.at(-1);
  const reading = last === undefined ? BLANK : readingAt(column, last);
  if (SET.has(column.meaning ?? "") || column.kind === "category") return reading;
  const before = shot.at(-2);
  return before === undefined || levelOf(readingAt(column, before)) === levelOf(reading) ? reading : BLANK;
}

const BLANK: Reading = { kind: "blank" };

function settingText({ heading }: LogColumn, reading: Reading): string {
  if (reading.kind === "date") return dayOfSerial(numberOf(reading));
  if (reading.kind === "number") return heading.unit === "in" ? asRead(reading.value) : String(reading.value);
  return levelOf(reading);
}

/** What is typed for a setting, as its cell is to hold it, or what is wrong with it. @param format of the cell */
export function typedSetting(
  { heading, kind, column }: LogColumn,
  text: string,
  format: string,
): { readonly value: number | string } | NoShooting {
  const typed = text.trim();
  const number = typedNumber(typed.replace(/\s*%$/, ""));
  const inches = heading.unit === "in" && typeof number !== "number" ? parseInches(typed) : number;
  if (typeof inches === "number")
    return { value: format.includes("%") ? Number((inches / 100).toPrecision(12)) : inches };
  if (kind !== "number") return { value: typed };
  return {
    problem: `${heading.text} is "${typed}": column ${columnLetters(column)} holds numbers, so give one${heading.unit === "in" ? ", such as 1/2 or 0.5" : ""}.`,
  };
}
