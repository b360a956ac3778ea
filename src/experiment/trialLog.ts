/**
 * Finds the tables of trials on a sheet: where the headings stand, which rows follow, what each column holds.
 * May import: header.ts, reading.ts, workbook/port.ts, book.ts and address.ts.
 */
import { columnLetters } from "../workbook/address";
import { dataArea, type Area, type CellValue } from "../workbook/book";
import type { SheetData } from "../workbook/port";
import { meaningOf, parseHeading, type Heading, type Meaning } from "./header";
import { readCell, type Reading } from "./reading";

export interface LogColumn {
  /** Sheet column, from 0. */
  readonly column: number;
  readonly heading: Heading;
  readonly meaning: Meaning | undefined;
  /** What most filled cells are. */
  readonly kind: "number" | "category" | "date" | "empty";
  /** One per row of the table. */
  readonly readings: readonly Reading[];
}

export interface TrialLog {
  readonly sheet: string;
  /** The Excel table's name, or where the headings stand. */
  readonly title: string;
  /** Sheet row of the headings, from 0; the row above the first trial where a table hides its headings, -1 when there is none. */
  readonly headingRow: number;
  /** Sheet rows of the trials, from 0; wholly blank rows, and rows with nothing but their number, are not trials. */
  readonly rows: readonly number[];
  readonly blankRows: number;
  /** How many of the rows are hidden or filtered out; they count like the others. */
  readonly hiddenRows: number;
  readonly columns: readonly LogColumn[];
}

/**
 * Every table of trials on the sheet, the largest first: Excel tables as they say, otherwise each block of cells whose
 * first full row of words is followed by at least one row.
 * @param units units that the user gave for headings (full text), in place of the ones the headings say
 */
export function findTrialLogs(data: SheetData, units: Units = {}): TrialLog[] {
  const named = data.tables.map((table) => readLog(data, table.name, { ...(table.columns ? { columns: table.columns } : { headingRow: table.area.row }), body: dataArea(table) }, units));
  const free = blocks(data, data.tables.map(({ area }) => area)).map((area) => readLog(data, `headings in row ${area.row + 1}`, belowHeadings(area), units));
  return [...named, ...free]
    .filter((log) => log.columns.length > 0)
    .sort((a, b) => b.rows.length * b.columns.length - a.rows.length * a.columns.length);
}

/** The log whose headings stand in a row that the user names, down to the last filled row. @param headingRow sheet row, from 0 */
export function trialLogAt(data: SheetData, headingRow: number, units: Units = {}): TrialLog | undefined {
  const top = headingRow - data.firstRow;
  const width = data.values[0]?.length ?? 0;
  if (top < 0 || top >= data.values.length - 1) return undefined;
  const area = { row: headingRow, column: data.firstColumn, rows: data.values.length - top, columns: width };
  return readLog(data, `headings in row ${headingRow + 1}`, belowHeadings(area), units);
}

/** Where a log's headings and its trials are. */
interface Parts {
  /** Sheet row of the headings. */
  readonly headingRow?: number;
  /** The headings where they stand in no row. */
  readonly columns?: readonly string[];
  readonly body: Area;
}

/** An area whose first row holds the headings. */
function belowHeadings(area: Area): Parts {
  return { headingRow: area.row, body: { ...area, row: area.row + 1, rows: area.rows - 1 } };
}

/** Unit by full heading text. */
export type Units = Readonly<Record<string, string>>;

/** Index of the log's column with the heading, by its full text or its name without unit, letter case aside. */
export function findColumns(log: TrialLog, heading: string): LogColumn[] {
  const wanted = parseHeading(heading).text.toLowerCase();
  const whole = log.columns.filter((column) => column.heading.text.toLowerCase() === wanted);
  return whole.length > 0 ? whole : log.columns.filter((column) => column.heading.name.toLowerCase() === wanted);
}

function readLog(data: SheetData, title: string, { headingRow, columns: names, body: area }: Parts, units: Units): TrialLog {
  const hidden = new Set(data.hiddenRows);
  const top = area.row - data.firstRow;
  const left = area.column - data.firstColumn;
  const headingAt = (c: number) => headingText(names ? names[c - left] : data.values[(headingRow ?? 0) - data.firstRow]?.[c]);
  const totals = totalsRows(data, area);
  const bodyRows = Array.from({ length: Math.max(0, Math.min(area.rows, data.values.length - top)) }, (_, i) => top + i).filter((r) => !totals.has(r + data.firstRow));
  const counters = new Set(Array.from({ length: area.columns }, (_, j) => left + j).filter((c) => meaningOf(parseHeading(headingAt(c)).name) === "trial"));
  const filled = bodyRows.filter((r) => data.values[r].some((cell, c) => c >= left && c < left + area.columns && !counters.has(c) && !isBlankCell(cell)));
  const columns = Array.from({ length: area.columns }, (_, j) => left + j)
    .filter((c) => headingAt(c) !== "" || filled.some((r) => !isBlankCell(data.values[r][c])))
    .map((c): LogColumn => {
      const said = parseHeading(headingAt(c) || `column ${columnLetters(c + data.firstColumn)}`);
      const heading = Object.hasOwn(units, said.text) ? { ...said, unit: units[said.text] } : said;
      const readings = filled.map((r) => readCell(data.values[r][c], data.formats[r]?.[c] ?? "General", heading.unit));
      return { column: c + data.firstColumn, heading, meaning: meaningOf(heading.name), kind: kindOf(readings), readings };
    });
  return {
    sheet: data.sheet,
    title,
    headingRow: headingRow ?? area.row - 1,
    rows: filled.map((r) => r + data.firstRow),
    blankRows: bodyRows.length - filled.length,
    hiddenRows: filled.filter((r) => hidden.has(r + data.firstRow)).length,
    columns,
  };
}

/** Sheet rows in which a table of these columns has its totals: no trials, whoever says where the log begins. */
function totalsRows(data: SheetData, { column, columns }: Area): ReadonlySet<number> {
  const beside = data.tables.filter(({ area, totals }) => totals && area.column < column + columns && column < area.column + area.columns);
  return new Set(beside.map(({ area }) => area.row + area.rows - 1));
}

function isBlankCell(cell: CellValue | undefined): boolean {
  return cell === null || cell === undefined || (typeof cell === "string" && cell.trim() === "");
}

function headingText(cell: unknown): string {
  return typeof cell === "string" ? cell.trim() : typeof cell === "number" || typeof cell === "boolean" ? String(cell) : "";
}

/** A column is what at least three quarters of its filled, usable cells are; a column of mixed things is a category. */
function kindOf(readings: readonly Reading[]): LogColumn["kind"] {
  const count = { number: 0, date: 0, word: 0, blank: 0, unusable: 0 };
  for (const { kind } of readings) count[kind]++;
  const usable = count.number + count.date + count.word;
  if (usable === 0) return "empty";
  if (count.date * 4 >= usable * 3) return "date";
  return count.number * 4 >= usable * 3 ? "number" : "category";
}

/**
 * Rectangles of filled cells outside the named tables that begin with a heading row. Blank rows do not end a block, so
 * that no row below one is lost; another heading row after a blank row does.
 */
function blocks(data: SheetData, taken: readonly Area[]): Area[] {
  const height = data.values.length;
  const width = data.values[0]?.length ?? 0;
  const free = (r: number, c: number) => {
    if (isBlankCell(data.values[r][c])) return false;
    const row = r + data.firstRow;
    const column = c + data.firstColumn;
    return !taken.some((area) => row >= area.row && row < area.row + area.rows && column >= area.column && column < area.column + area.columns);
  };
  const found: Area[] = [];
  for (let r = 0; r < height; r++) {
    const words = headingCells(data, r, width, free);
    if (words === undefined) continue;
    const { from, to } = words;
    let last = r;
    for (let next = r + 1; next < height; next++) {
      let any = false;
      for (let c = from; c <= to && !any; c++) any = free(next, c);
      if (!any) continue;
      const another = next > last + 1 ? headingCells(data, next, width, free) : undefined;
      if (another && another.to > another.from) break;
      last = next;
    }
    if (last > r) {
      found.push({ row: r + data.firstRow, column: from + data.firstColumn, rows: last - r + 1, columns: to - from + 1 });
      r = last;
    }
  }
  return found;
}

/** The longest run of cells in a row that could be headings: words throughout, and not words again beneath each. */
function headingCells(data: SheetData, r: number, width: number, free: (r: number, c: number) => boolean): { from: number; to: number } | undefined {
  let best: { from: number; to: number } | undefined;
  for (let c = 0; c < width; c++) {
    if (!free(r, c)) continue;
    let to = c;
    while (to + 1 < width && (free(r, to + 1) || (to + 2 < width && free(r, to + 2)))) to++;
    if (!best || to - c > best.to - best.from) best = { from: c, to };
    c = to;
  }
  if (!best) return undefined;
  for (let c = best.from; c <= best.to; c++) if (free(r, c) && typeof data.values[r][c] !== "string") return undefined;
  const next = data.values[r + 1];
  if (!next) return undefined;
  const oneColumn = best.from === best.to;
  const filledBelow = next.slice(best.from, best.to + 1).filter((cell) => !isBlankCell(cell)).length;
  if (filledBelow === 0) return undefined;
  return oneColumn && typeof next[best.from] !== "number" ? undefined : best;
}
