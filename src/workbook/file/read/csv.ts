/**
 * Reads and writes comma-separated text.
 */
import Papa from "papaparse";
import { isCellError, sheetOfRows, type Book, type BookCell, type BookSheet, type CellStyle } from "../../book";
import { dayOfSerial } from "../../cellText";
import { sheetNameOfFile } from "../../sheetName";
import { FileProblem } from "../package/fileProblem";
import { showsDate } from "../package/styleSheet";

const MOST_ROWS = 1_048_576;

/**
 * Reads .csv bytes (UTF-8, UTF-16 with a mark, else Windows-1252; comma, semicolon or tab) into a Book of one sheet,
 * named after the file. A field that is a plain number becomes one; every other field stays text exactly as typed:
 * "1/8", "007" and "=1+1" are text. Where no comma parts the fields, a comma may be the decimal sign. An apostrophe
 * that keeps other programs from running a text, as writeCsv puts it, is taken away again.
 * Throws FileProblem.
 *
 * @example readCsv(new TextEncoder().encode("Gap;Bend\n0,125;1\n"), "log.csv")
 */
export function readCsv(bytes: Uint8Array, name: string): Book {
  const text = withOneLineEnd(decodedText(bytes));
  const delimiter = likelyDelimiter(text);
  const commas = delimiter !== "," && hasCommaNumber(text, delimiter, name);
  const cellOf = cellReader(commas);
  const rows: ((BookCell | undefined)[] | undefined)[] = [];
  eachRecord(text, delimiter, name, (fields) => {
    const cells: (BookCell | undefined)[] = [];
    for (let c = 0; c < fields.length; c++) {
      const field = fields[c];
      if (field) cells[c] = cellOf(c, field);
    }
    rows.push(cells.length === 0 ? undefined : cells);
  });
  while (rows.length > 0 && rows[rows.length - 1] === undefined) rows.pop();
  return { sheets: [sheetOfRows(sheetNameOfFile(name), rows)], styles: [], names: [] };
}

/** Characters that are taken apart at a time: all records at once would need several times the text's memory. */
const CHUNK = 1 << 20;

/** Visits the records one by one. @throws FileProblem */
function eachRecord(text: string, delimiter: string, name: string, visit: (fields: readonly string[]) => void): void {
  let count = 0;
  let problem: FileProblem | undefined;
  Papa.parse<string[]>(text, {
    delimiter,
    newline: "\n",
    chunkSize: CHUNK,
    chunk: ({ data, errors }: Papa.ParseResult<string[]>, parser: Papa.Parser) => {
      const quotes = errors.find((error) => error.type === "Quotes");
      if (quotes) problem = quotesProblem(name, count + (quotes.row ?? 0) + 1);
      else if ((count += data.length) > MOST_ROWS) problem = tooManyRows(name);
      else data.forEach(visit);
      if (problem) parser.abort();
    },
  } as Papa.ParseConfig<string[]>);
  if (problem) throw problem;
}

function quotesProblem(name: string, record: number): FileProblem {
  return new FileProblem(
    "corrupt",
    `In record ${record} of "${name}" a field begins with a double quote that is not closed as it should be.`,
    'Write a field that holds quotes as "3/16"" gap": quotes around it, and each quote inside doubled.',
  );
}

function tooManyRows(name: string): FileProblem {
  return new FileProblem(
    "tooLarge",
    `"${name}" has more rows than a sheet holds, which is ${MOST_ROWS.toLocaleString("en")}.`,
    "Split it into several files; docs/large-sets.md shows how a larger set is analysed.",
  );
}

/**
 * Programs that append to a log end their lines in their own way. Line ends inside quoted fields stay, since they are
 * text. A quote opens a field only at its beginning: 3/16" has one at its end.
 */
function withOneLineEnd(text: string): string {
  return text.includes("\r")
    ? text.replace(/(?<=^|[,;\t\r\n])"(?:[^"]|"")*"|\r\n?/g, (found) => (found[0] === '"' ? found : "\n"))
    : text;
}

/**
 * The sign that parts the most of the first records into the same number of fields without cutting a quoted field in
 * two. Commas come last in a tie, since they may be decimal signs.
 */
function likelyDelimiter(text: string): string {
  let best = ",";
  let most = 0;
  for (const delimiter of ["\t", ";", ","]) {
    const { data, errors } = Papa.parse<string[]>(text, { delimiter, preview: 50, skipEmptyLines: true });
    if (errors.some((error) => error.type === "Quotes")) continue;
    const counts = new Map<number, number>();
    for (const fields of data) {
      const cut = fields.some((field) => field.split('"').length % 2 === 0);
      if (fields.length > 1 && !cut) counts.set(fields.length, (counts.get(fields.length) ?? 0) + 1);
    }
    const alike = Math.max(0, ...counts.values());
    if (alike > most) [best, most] = [delimiter, alike];
  }
  return best === "," && isOneColumn(text) ? ";" : best;
}

/** Whether every comma is a decimal sign: a heading without one, and below it nothing but single numbers. */
function isOneColumn(text: string): boolean {
  // The whole of a long log is taken apart only where its heading allows it.
  const [first = ""] = /[^\n]*\S[^\n]*/.exec(text) ?? [];
  if (first.includes(",")) return false;
  const [heading, ...lines] = text
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => line !== "");
  const filled = lines.filter((line) => line.includes(","));
  return heading !== undefined && filled.length > 0 && filled.every((line) => COMMA_NUMBER.test(line));
}

const POINT_NUMBER = /^[+-]?(?:(?:0|[1-9]\d*)(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const COMMA_NUMBER = /^[+-]?(?:(?:0|[1-9]\d*)(?:,\d*)?|,\d+)(?:[eE][+-]?\d+)?$/;

/** Whether a comma is the decimal sign anywhere. */
function hasCommaNumber(text: string, delimiter: string, name: string): boolean {
  let found = false;
  eachRecord(text, delimiter, name, (fields) => {
    found ||= fields.some((field) => field.includes(",") && COMMA_NUMBER.test(field));
  });
  return found;
}

/** Different fields of a column that are remembered: a log says the same few things again and again. */
const MOST_REMEMBERED = 4096;

/**
 * Makes cells of fields; fields alike in a column share one cell. Where a comma is the decimal sign anywhere, a point
 * may part thousands, so such fields stay text.
 */
function cellReader(commas: boolean): (column: number, field: string) => BookCell {
  const known: Map<string, BookCell>[] = [];
  return (column, field) => {
    const cells = (known[column] ??= new Map());
    let cell = cells.get(field);
    if (cell) return cell;
    cell = { value: fieldNumber(field, commas) ?? asTyped(field) };
    if (cells.size < MOST_REMEMBERED) cells.set(field, cell);
    return cell;
  };
}

/** The number that a field plainly is; undefined for any other. */
function fieldNumber(field: string, commas: boolean): number | undefined {
  if (!(commas ? COMMA_NUMBER : POINT_NUMBER).test(field)) return undefined;
  const value = Number(field.replace(",", "."));
  // A long row of digits is a label; as a number it would lose its end.
  if (!Number.isFinite(value) || (/^[+-]?\d+$/.test(field) && value !== 0 && String(value) !== field.replace("+", "")))
    return undefined;
  return value;
}

function decodedText(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

/**
 * A sheet as .csv bytes: commas, UTF-8 with a mark (which spreadsheets need to read accents), numbers at full
 * precision, errors by their codes; text that holds another program's field separator is quoted, and text that another
 * program would run begins with an apostrophe. Given the Book's styles, calendar dates are written as 2026-03-14.
 */
export function writeCsv(sheet: BookSheet, styles: readonly CellStyle[] = []): Uint8Array {
  const lines = Array.from(sheet.rows, (cells) => Array.from(cells ?? [], (cell) => fieldOf(cell, styles)));
  return new TextEncoder().encode(`\ufeff${Papa.unparse(lines, QUOTED)}\r\n`);
}

function fieldOf(cell: BookCell | undefined, styles: readonly CellStyle[]): string {
  const value = cell?.value ?? null;
  if (value === null) return "";
  if (isCellError(value)) return value.error;
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  if (typeof value === "number" && cell?.style !== undefined && showsDate(styles[cell.style]?.format))
    return serialText(value);
  return typeof value === "string" ? harmless(value) : String(value);
}

/** Text that a spreadsheet takes for a formula: it begins with = @ or a control, or with a sign and is no number. */
const RUNS = /^'*(?:[=@\t\r\n]|[+-](?=[^])(?!(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?$))/;

/**
 * Text as no spreadsheet runs it when it opens the .csv: with an apostrophe before it where that is needed.
 * @example harmless("=HYPERLINK(A1)") // "'=HYPERLINK(A1)"
 */
export function harmless(text: string): string {
  return RUNS.test(text) ? `'${text}` : text;
}

/** What `harmless` was given. */
function asTyped(field: string): string {
  return field.startsWith("'") && RUNS.test(field) ? field.slice(1) : field;
}

/** Text with a field separator of other programs is quoted. */
export const QUOTED = { quotes: (field: unknown) => /[;\t]/.test(String(field)) };

/** Serial days to ISO text; serial 25569 is 1970-01-01. */
export function serialText(serial: number): string {
  const date = new Date(Math.round((serial - 25_569) * 86_400_000));
  if (Number.isNaN(date.getTime())) return String(serial);
  return Number.isInteger(serial) ? dayOfSerial(serial) : date.toISOString().slice(0, 19);
}
