/**
 * Finds the tables of trials on a sheet: where the headings stand, which rows follow, what each column holds.
 */
import { dataArea, type Area, type BookTable } from "../../workbook/book";
import type { SheetData } from "../../workbook/port";
import { last } from "../../workbook/turns";
import { headingText, isBlankCell, sizeOf, valueAt } from "./cellKinds";
import { meaningOf, parseHeading, unitAlone } from "./header";
import { blocks } from "./logBlocks";
import { readColumn, unitRowAt, type LogColumn, type Units } from "./logColumns";
import { outsideTable, type Outside } from "./outsideTable";

export type { LogColumn, Units } from "./logColumns";

export interface TrialLog {
  readonly sheet: string;
  /** The Excel table's name, or where the headings stand. */
  readonly title: string;
  /** Sheet row of the headings, from 0. */
  readonly headingRow: number;
  /** Sheet rows of the trials, from 0; wholly blank rows, and rows with nothing but their number, are not trials. */
  readonly rows: readonly number[];
  readonly blankRows: number;
  /** How many of the rows are hidden or filtered out; they count like the others. */
  readonly hiddenRows: number;
  readonly columns: readonly LogColumn[];
  /**
   * How the cells were read where that is not plain, in sentences: a row of units, decimal commas, columns that cannot
   * be read.
   */
  readonly readAs: readonly string[];
  /** What stands right below or beside the Excel table and is no part of it; undefined when nothing does. */
  readonly outside?: Outside & { readonly takenIn: boolean };
}

/** How a sheet is read, where the user said so. */
export interface ReadingWishes {
  /** Units of headings (full text), in place of the ones the headings say. */
  readonly units?: Units;
  /** Names of Excel tables whose rows below and columns beside belong to the log too; "all" for every table. */
  readonly takeIn?: readonly string[] | "all";
}

/**
 * Every table of trials on the sheet, the largest first: Excel tables as they say, otherwise each block of cells whose
 * first full row of words is followed by at least one row.
 */
export function findTrialLogs(data: SheetData, wishes: ReadingWishes = {}): TrialLog[] {
  return last(trialLogsInSteps(data, wishes));
}

/** The same in steps, a column each: a long log takes longer than a page may keep its user waiting. */
export function* trialLogsInSteps(
  data: SheetData,
  { units = {}, takeIn = [] }: ReadingWishes = {},
): Generator<void, TrialLog[]> {
  const named: TrialLog[] = [];
  for (const table of data.tables)
    named.push(yield* readTable(data, table, units, takeIn === "all" || takeIn.includes(table.name)));
  const taken = [
    ...data.tables.map(({ area }) => area),
    ...named.flatMap(({ outside }) => (outside ? outside.areas : [])),
  ];
  yield;
  const free: TrialLog[] = [];
  for (const area of blocks(data, taken))
    free.push(yield* readLog(data, `headings in row ${area.row + 1}`, belowHeadings(area), units));
  return [...named, ...free]
    .filter((log) => log.columns.length > 0)
    .sort((a, b) => b.rows.length * b.columns.length - a.rows.length * a.columns.length);
}

/**
 * The log whose headings stand in a row that the user names, down to the last filled row.
 * @param headingRow sheet row, from 0
 */
export function trialLogAt(data: SheetData, headingRow: number, units: Units = {}): TrialLog | undefined {
  const top = headingRow - data.firstRow;
  const { height, width } = sizeOf(data);
  if (top < 0 || top >= height - 1) return undefined;
  const area = { row: headingRow, column: data.firstColumn, rows: height - top, columns: width };
  return last(readLog(data, `headings in row ${headingRow + 1}`, belowHeadings(area), units));
}

/**
 * Sheet and table in a few words; a table that is named like its sheet is named once.
 * @example logName({ sheet: "Trials", title: "Trials" }) === "Trials"
 */
export function logName({ sheet, title }: Pick<TrialLog, "sheet" | "title">): string {
  return title === sheet ? sheet : `${sheet}: ${title}`;
}

/** Index of the log's column with the heading, by its full text or its name without unit, letter case aside. */
export function findColumns(log: TrialLog, heading: string): LogColumn[] {
  const wanted = parseHeading(heading).text.toLowerCase();
  const whole = log.columns.filter((column) => column.heading.text.toLowerCase() === wanted);
  return whole.length > 0 ? whole : log.columns.filter((column) => column.heading.name.toLowerCase() === wanted);
}

/** Where a log's headings and its trials are. */
interface Parts {
  /** Sheet row of the headings, or that above the trials where they stand in no row. */
  readonly headingRow: number;
  /** The headings where they stand in no row. */
  readonly names?: readonly string[];
  readonly body: Area;
}

/** An area whose first row holds the headings. */
function belowHeadings(area: Area): Parts {
  return { headingRow: area.row, body: { ...area, row: area.row + 1, rows: area.rows - 1 } };
}

/** A log that is an Excel table, with what stands around it where that is taken in. */
function* readTable(data: SheetData, table: BookTable, units: Units, takenIn: boolean): Generator<void, TrialLog> {
  const own = dataArea(table);
  const headings = { headingRow: own.row - 1, ...(table.columns && { names: table.columns }) };
  const outside = outsideTable(data, table);
  if (!outside) return yield* readLog(data, table.name, { ...headings, body: own }, units);
  const body = takenIn
    ? { ...own, rows: outside.lastRow - own.row + 1, columns: own.columns + outside.columns.length }
    : own;
  return { ...(yield* readLog(data, table.name, { ...headings, body }, units)), outside: { ...outside, takenIn } };
}

function* readLog(
  data: SheetData,
  title: string,
  { headingRow, names, body: area }: Parts,
  units: Units,
): Generator<void, TrialLog> {
  const hidden = new Set(data.hiddenRows);
  const top = area.row - data.firstRow;
  const left = area.column - data.firstColumn;
  const headingAt = (c: number) => headingText(names ? names[c - left] : valueAt(data, headingRow - data.firstRow, c));
  const across = Array.from({ length: area.columns }, (_, j) => left + j);
  const totals = totalsRows(data, area);
  const body = Array.from({ length: Math.max(0, Math.min(area.rows, sizeOf(data).height - top)) }, (_, i) => top + i);
  // A list that loses nothing is not copied: that of a long log is large.
  const bodyRows = totals.size > 0 ? body.filter((r) => !totals.has(r + data.firstRow)) : body;
  const unitRow = names ? undefined : unitRowAt(data, left, area.columns, bodyRows);
  const counters = new Set(across.filter((c) => meaningOf(parseHeading(headingAt(c)).name) === "trial"));
  const filled = bodyRows.filter(
    (r) => r !== unitRow && across.some((c) => !counters.has(c) && !isBlankCell(valueAt(data, r, c))),
  );
  const read: ReturnType<typeof readColumn>[] = [];
  for (const c of across) {
    if (headingAt(c) === "" && !filled.some((r) => !isBlankCell(valueAt(data, r, c)))) continue;
    yield;
    const below = unitRow === undefined ? undefined : headingText(valueAt(data, unitRow, c));
    read.push(readColumn(data, c, headingAt(c), below, filled, units));
  }
  const columns = read.map(({ column }) => column);
  return {
    sheet: data.sheet,
    title,
    headingRow,
    rows: data.firstRow === 0 ? filled : filled.map((r) => r + data.firstRow),
    blankRows: bodyRows.length - filled.length - (unitRow === undefined ? 0 : 1),
    hiddenRows: filled.filter((r) => hidden.has(r + data.firstRow)).length,
    columns,
    readAs: [
      ...(unitRow === undefined ? [] : [unitRowWords(data, unitRow, columns)]),
      ...read.flatMap(({ readAs }) => readAs),
    ],
  };
}

function unitRowWords(data: SheetData, unitRow: number, columns: readonly LogColumn[]): string {
  const named = columns.filter(
    ({ column }) => unitAlone(headingText(valueAt(data, unitRow, column - data.firstColumn))) !== undefined,
  );
  return `Row ${unitRow + data.firstRow + 1} holds units and is no trial: ${named.map(({ heading }) => `${heading.name} in ${heading.unit}`).join(", ")}.`;
}

/** Sheet rows in which a table of these columns has its totals: no trials, whoever says where the log begins. */
function totalsRows(data: SheetData, { column, columns }: Area): ReadonlySet<number> {
  const beside = data.tables.filter(
    ({ area, totals }) => totals && area.column < column + columns && column < area.column + area.columns,
  );
  return new Set(beside.map(({ area }) => area.row + area.rows - 1));
}
