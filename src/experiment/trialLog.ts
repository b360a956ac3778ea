/**
 * Finds the tables of trials on a sheet: where the headings stand, which rows follow, what each column holds.
 * May import: header.ts, reading.ts, workbook/port.ts, book.ts and address.ts.
 */
import { cellAddress, columnLetters } from "../workbook/address";
import type { Area, CellValue } from "../workbook/book";
import type { SheetData } from "../workbook/port";
import { meaningOf, parseHeading, unitAlone, type Heading, type Meaning } from "./header";
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
  /** Sheet row of the headings, from 0. */
  readonly headingRow: number;
  /** Sheet rows of the trials, from 0; wholly blank rows, and rows with nothing but their number, are not trials. */
  readonly rows: readonly number[];
  readonly blankRows: number;
  /** How many of the rows are hidden or filtered out; they count like the others. */
  readonly hiddenRows: number;
  readonly columns: readonly LogColumn[];
  /** How the cells were read where that is not plain, in sentences: a row of units, decimal commas, columns that cannot be read. */
  readonly readAs: readonly string[];
}

/**
 * Every table of trials on the sheet, the largest first: Excel tables as they say, otherwise each block of cells whose
 * first full row of words is followed by at least one row.
 * @param units units that the user gave for headings (full text), in place of the ones the headings say
 */
export function findTrialLogs(data: SheetData, units: Units = {}): TrialLog[] {
  const named = data.tables.map((table) => ({ title: table.name, area: table.area }));
  const free = blocks(data, named.map(({ area }) => area)).map((area) => ({ title: `headings in row ${area.row + 1}`, area }));
  return [...named, ...free]
    .map(({ title, area }) => readLog(data, title, area, units))
    .filter((log) => log.columns.length > 0)
    .sort((a, b) => b.rows.length * b.columns.length - a.rows.length * a.columns.length);
}

/** The log whose headings stand in a row that the user names, down to the last filled row. @param headingRow sheet row, from 0 */
export function trialLogAt(data: SheetData, headingRow: number, units: Units = {}): TrialLog | undefined {
  const top = headingRow - data.firstRow;
  const width = data.values[0]?.length ?? 0;
  if (top < 0 || top >= data.values.length - 1) return undefined;
  const area = { row: headingRow, column: data.firstColumn, rows: data.values.length - top, columns: width };
  return readLog(data, `headings in row ${headingRow + 1}`, area, units);
}

/** Sheet and table in a few words; a table that is named like its sheet is named once. @example logName({ sheet: "Trials", title: "Trials" }) === "Trials" */
export function logName({ sheet, title }: Pick<TrialLog, "sheet" | "title">): string {
  return title === sheet ? sheet : `${sheet}: ${title}`;
}

/** Unit by full heading text. */
export type Units = Readonly<Record<string, string>>;

/** Index of the log's column with the heading, by its full text or its name without unit, letter case aside. */
export function findColumns(log: TrialLog, heading: string): LogColumn[] {
  const wanted = parseHeading(heading).text.toLowerCase();
  const whole = log.columns.filter((column) => column.heading.text.toLowerCase() === wanted);
  return whole.length > 0 ? whole : log.columns.filter((column) => column.heading.name.toLowerCase() === wanted);
}

function readLog(data: SheetData, title: string, area: Area, units: Units): TrialLog {
  const hidden = new Set(data.hiddenRows);
  const top = area.row - data.firstRow;
  const left = area.column - data.firstColumn;
  const bodyRows = Array.from({ length: Math.max(0, Math.min(area.rows - 1, data.values.length - top - 1)) }, (_, i) => top + 1 + i);
  const counters = new Set(Array.from({ length: area.columns }, (_, j) => left + j).filter((c) => meaningOf(parseHeading(headingText(data.values[top]?.[c])).name) === "trial"));
  const unitRow = unitRowAt(data, top, left, area.columns, bodyRows);
  const filled = bodyRows.filter((r) => r !== unitRow && data.values[r].some((cell, c) => c >= left && c < left + area.columns && !counters.has(c) && !isBlankCell(cell)));
  const readAs: string[] = [];
  const columns = Array.from({ length: area.columns }, (_, j) => left + j)
    .filter((c) => headingText(data.values[top]?.[c]) !== "" || filled.some((r) => !isBlankCell(data.values[r][c])))
    .map((c): LogColumn => {
      const said = parseHeading(headingText(data.values[top]?.[c]) || `column ${columnLetters(c + data.firstColumn)}`);
      const below = unitRow === undefined ? undefined : unitAlone(headingText(data.values[unitRow][c]));
      const heading = Object.hasOwn(units, said.text) ? { ...said, unit: units[said.text] } : said.unit === "" && below !== undefined ? { ...said, unit: below } : said;
      const commas = decimalCommas(filled.map((r) => data.values[r][c]));
      const readings = filled.map((r) => {
        const value = data.values[r][c];
        const read = (cell: CellValue) => readCell(cell, data.formats[r]?.[c] ?? "General", heading.unit);
        const turned = commas && typeof value === "string" ? read(value.replace(",", ".")) : undefined;
        return turned?.kind === "number" ? turned : read(value);
      });
      if (commas) {
        const at = filled.filter((r) => COMMA_NUMBER.test(String(data.values[r][c])));
        readAs.push(`${heading.text}: ${at.length === 1 ? "one cell is" : `${at.length} cells are`} text with a decimal comma, the first ${cellAddress(at[0] + data.firstRow, c + data.firstColumn)} with "${String(data.values[at[0]][c]).trim()}"; read as numbers.`);
      }
      return { column: c + data.firstColumn, heading, meaning: meaningOf(heading.name), kind: kindOf(readings), readings };
    });
  if (unitRow !== undefined) readAs.unshift(`Row ${unitRow + data.firstRow + 1} holds units and is no trial: ${columns.flatMap(({ column, heading }) => (unitAlone(headingText(data.values[unitRow][column - data.firstColumn])) === undefined ? [] : [`${heading.name} in ${heading.unit}`])).join(", ")}.`);
  for (const { heading, kind, readings, column } of columns) {
    const bad = readings.findIndex((reading) => reading.kind === "unusable");
    const reading = readings[bad];
    if (kind === "empty" && reading?.kind === "unusable") readAs.push(`${heading.text} cannot be read, so it takes no part: ${cellAddress(filled[bad] + data.firstRow, column)} is ${reading.reason}.`);
  }
  return {
    sheet: data.sheet,
    title,
    headingRow: area.row,
    rows: filled.map((r) => r + data.firstRow),
    blankRows: bodyRows.length - filled.length - (unitRow === undefined ? 0 : 1),
    hiddenRows: filled.filter((r) => hidden.has(r + data.firstRow)).length,
    columns,
    readAs,
  };
}

/**
 * The row right below the headings where it holds nothing but units, over at least one column that has numbers further
 * down; a first trial that says "in" of a shot made is none.
 */
function unitRowAt({ values }: SheetData, top: number, left: number, width: number, bodyRows: readonly number[]): number | undefined {
  const [row] = bodyRows;
  if (row !== top + 1) return undefined;
  const named = Array.from({ length: width }, (_, j) => left + j).filter((c) => !isBlankCell(values[row][c]));
  const unit = (c: number) => unitAlone(headingText(values[row][c]));
  if (named.length === 0 || !named.every((c) => typeof values[row][c] === "string" && (unit(c) !== undefined || /^[-–—]$/.test(headingText(values[row][c]))))) return undefined;
  const measured = named.filter((c) => unit(c) !== undefined);
  const numbered = (c: number) => bodyRows.slice(1).some((r) => typeof values[r][c] === "number" || /^\s*[-+−]?[\d.,]/.test(headingText(values[r][c])));
  return measured.length > 0 && measured.every(numbered) ? row : undefined;
}

/** A number with one comma, and a unit perhaps behind it. */
const COMMA_NUMBER = /^\s*[-+−]?\d*,\d+(?!\d*,)(?:\s*[^\d,]*)?$/;

/**
 * Whether the commas of a column are decimal signs: some can be nothing else ("8,5", "0,125"; "1,250" may be a thousand
 * too), and no text of the column has a decimal point.
 */
function decimalCommas(cells: readonly CellValue[]): boolean {
  const texts = cells.filter((cell): cell is string => typeof cell === "string");
  const commas = texts.filter((text) => COMMA_NUMBER.test(text));
  const clear = commas.some((text) => !/^\s*[-+−]?[1-9]\d{0,2},\d{3}(?!\d)/.test(text));
  return clear && !texts.some((text) => /^\s*[-+−]?\d*\.\d/.test(text) || /^\s*[-+−]?\d+,\d+,/.test(text));
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
