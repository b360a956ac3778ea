/**
 * From the cells under a heading to a column of readings: units below the headings, decimal commas, what most cells
 * are.
 */
import { cellAddress, columnLetters } from "../../workbook/address";
import { isCellError, type CellValue } from "../../workbook/book";
import { sheetColumns } from "../../workbook/columnSheet";
import type { SheetData } from "../../workbook/port";
import { there } from "../../there";
import { headingText, isBlankCell, valueAt } from "./cellKinds";
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
  /** Headings of the columns that it combines; absent for a column of the sheet. */
  readonly parts?: readonly string[];
}

/** What a column says in a row of the table. @param index of the row in the log */
export function readingAt({ readings }: Pick<LogColumn, "readings">, index: number): Reading {
  return there(readings[index], "a reading for every row of the log");
}

/** Unit by full heading text. */
export type Units = Readonly<Record<string, string>>;

/**
 * One column. Rows and columns count within `data.values`.
 * @param said heading as it stands in the sheet @param below text of the row of units, where there is one
 * @param rows of the trials
 */
export function readColumn(
  data: SheetData,
  c: number,
  said: string,
  below: string | undefined,
  rows: readonly number[],
  units: Units,
): { readonly column: LogColumn; readonly readAs: readonly string[] } {
  const heading = headingOf(said || `column ${columnLetters(c + data.firstColumn)}`, below, units);
  const commas = decimalCommas(differentTexts(data, c, rows));
  const readings = readingsOf(data, c, rows, (value, format) => {
    const read = (cell: CellValue) => readCell(cell, format, heading.unit);
    const turned = commas && typeof value === "string" ? read(value.replace(",", ".")) : undefined;
    return turned?.kind === "number" ? turned : read(value);
  });
  const column: LogColumn = {
    column: c + data.firstColumn,
    heading,
    meaning: meaningOf(heading.name),
    kind: kindOf(readings),
    readings,
  };
  return {
    column,
    readAs: [...commaWords(data, c, heading, commas ? rows : []), ...unreadWords(data, c, column, rows)],
  };
}

/** The texts in the rows of a column, each once where it is kept so. */
function differentTexts(data: SheetData, c: number, rows: readonly number[]): string[] {
  const column = sheetColumns(data)?.[c];
  const texts: string[] = [];
  const take = (cell: CellValue | undefined) => {
    if (typeof cell === "string") texts.push(cell);
  };
  if (!column) for (const r of rows) take(valueAt(data, r, c));
  else if (column.different.some((cell) => typeof cell === "string")) {
    const stands = new Uint8Array(column.different.length);
    for (const r of rows) stands[column.places[r] ?? 0] = 1;
    column.different.forEach((cell, place) => stands[place] === 1 && take(cell));
  }
  return texts;
}

/** A reading for each of the rows; cells that say the same share one. */
function readingsOf(
  data: SheetData,
  c: number,
  rows: readonly number[],
  read: (value: CellValue, format: string) => Reading,
): Reading[] {
  const column = sheetColumns(data)?.[c];
  if (column) {
    const { different, places } = column;
    const known = new Array<Reading | undefined>(different.length).fill(undefined);
    return rows.map((r) => {
      const place = places[r] ?? 0;
      return (known[place] ??= read(different[place] ?? null, GENERAL));
    });
  }
  const known = new Map<CellValue, Reading>();
  return rows.map((r) => {
    const value = valueAt(data, r, c);
    const format = data.formats[r]?.[c] ?? GENERAL;
    const before = format === GENERAL ? known.get(value) : undefined;
    if (before) return before;
    const reading = read(value, format);
    if (format === GENERAL && !isCellError(value) && known.size < MOST_KNOWN) known.set(value, reading);
    return reading;
  });
}

const GENERAL = "General";

/** Different cells of a column whose reading is remembered: a log says the same few things again and again. */
const MOST_KNOWN = 4096;

function headingOf(text: string, below: string | undefined, units: Units): Heading {
  const said = parseHeading(text);
  const wished = Object.hasOwn(units, said.text) ? units[said.text] : undefined;
  if (wished !== undefined) return { ...said, unit: wished };
  const unit = below === undefined ? undefined : unitAlone(below);
  return said.unit === "" && unit !== undefined ? { ...said, unit } : said;
}

function commaWords(data: SheetData, c: number, { text }: Heading, rows: readonly number[]): string[] {
  const at = rows.filter((r) => COMMA_NUMBER.test(String(valueAt(data, r, c))));
  const [top] = at;
  if (top === undefined) return [];
  const first = cellAddress(top + data.firstRow, c + data.firstColumn);
  const many = at.length === 1 ? "one cell is" : `${at.length} cells are`;
  return [
    `${text}: ${many} text with a decimal comma, the first ${first} with "${String(valueAt(data, top, c)).trim()}"; read as numbers.`,
  ];
}

function unreadWords(
  data: SheetData,
  c: number,
  { heading, kind, readings }: LogColumn,
  rows: readonly number[],
): string[] {
  if (kind !== "empty") return [];
  const at = readings.findIndex((one) => one.kind === "unusable");
  const [bad, reading] = [rows[at], readings[at]];
  if (bad === undefined || reading?.kind !== "unusable") return [];
  return [
    `${heading.text} cannot be read, so it takes no part: ${cellAddress(bad + data.firstRow, c + data.firstColumn)} is ${reading.reason}.`,
  ];
}

/** A column is what at least three quarters of its filled, usable cells are; a column of mixed things is a category. */
function kindOf(readings: readonly Reading[]): LogColumn["kind"] {
  let [numbers, dates, words] = [0, 0, 0];
  for (const { kind } of readings) {
    if (kind === "number") numbers++;
    else if (kind === "date") dates++;
    else if (kind === "word") words++;
  }
  const usable = numbers + dates + words;
  if (usable === 0) return "empty";
  if (dates * 4 >= usable * 3) return "date";
  return numbers * 4 >= usable * 3 ? "number" : "category";
}

/**
 * The row right below the headings where it holds nothing but units, over at least one column that has numbers further
 * down; a first trial that says "in" of a shot made is none.
 */
export function unitRowAt(
  data: SheetData,
  left: number,
  width: number,
  bodyRows: readonly number[],
): number | undefined {
  const [row] = bodyRows;
  if (row === undefined) return undefined;
  const named = Array.from({ length: width }, (_, j) => left + j).filter((c) => !isBlankCell(valueAt(data, row, c)));
  const unit = (c: number) => unitAlone(headingText(valueAt(data, row, c)));
  const isDash = (c: number) => /^[-–—]$/.test(headingText(valueAt(data, row, c)));
  if (
    named.length === 0 ||
    !named.every((c) => typeof valueAt(data, row, c) === "string" && (unit(c) !== undefined || isDash(c)))
  )
    return undefined;
  const measured = named.filter((c) => unit(c) !== undefined);
  const numbered = (c: number) =>
    bodyRows
      .slice(1)
      .map((r) => valueAt(data, r, c))
      .some((value) => typeof value === "number" || /^\s*[-+−]?[\d.,]/.test(headingText(value)));
  return measured.length > 0 && measured.every(numbered) ? row : undefined;
}

/** A number with one comma, and a unit perhaps behind it. */
const COMMA_NUMBER = /^\s*[-+−]?\d*,\d+(?!\d*,)(?:\s*[^\d,]*)?$/;

/**
 * Whether the commas of a column are decimal signs: some can be nothing else ("8,5", "0,125"; "1,250" may be a thousand
 * too), and no text of the column has a decimal point.
 */
function decimalCommas(texts: readonly string[]): boolean {
  const commas = texts.filter((text) => COMMA_NUMBER.test(text));
  const clear = commas.some((text) => !/^\s*[-+−]?[1-9]\d{0,2},\d{3}(?!\d)/.test(text));
  return clear && !texts.some((text) => /^\s*[-+−]?\d*\.\d/.test(text) || /^\s*[-+−]?\d+,\d+,/.test(text));
}
