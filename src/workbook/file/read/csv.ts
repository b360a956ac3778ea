/**
 * Reads and writes comma-separated text.
 */
import Papa from "papaparse";
import { isCellError, type Book, type BookCell, type BookSheet, type CellStyle, type CellValue } from "../../book";
import { dayOfSerial } from "../../cellText";
import { sheetOfColumns } from "../../columnSheet";
import { sheetNameOfFile } from "../../sheetName";
import { FileProblem } from "../package/fileProblem";
import { showsDate } from "../package/styleSheet";
import { OpenQuote, scanFields, type CsvForm } from "./csvScan";
import { FieldColumn } from "./fieldColumn";

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
  const { bytes: plain, start, decoder } = asBytes(bytes);
  const text = (from: number, to: number) => decoder.decode(plain.subarray(from, to));
  const delimiter = likelyDelimiter(text, start, plain.length);
  const form = { start, delimiter: delimiter.charCodeAt(0) };
  try {
    const commas = delimiter !== "," && hasCommaNumber(plain, form, text);
    const columns: FieldColumn[] = [];
    const likely = likelyRows(plain, start);
    const read = fieldReader(plain, text, commas);
    const rows = scanFields(plain, form, (row, column, from, to, doubled) => {
      if (row >= MOST_ROWS) throw tooManyRows(name);
      while (columns.length <= column) columns.push(new FieldColumn(plain, read, row < RECORDS ? likely : row + 1));
      columns[column]?.put(row, from, to, doubled);
    });
    const sheet = sheetOfColumns(
      sheetNameOfFile(name),
      columns.map((column) => column.done(rows)),
    );
    return { sheets: [sheet], styles: [], names: [] };
  } catch (problem) {
    throw problem instanceof OpenQuote ? quotesProblem(name, problem.record) : problem;
  }
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

/** The text between two bytes. */
type TextBetween = (from: number, to: number) => string;

/** Bytes from which signs are told at the beginning: more than 50 records of any log. */
const HEAD = 1 << 18;
const RECORDS = 50;

/**
 * The sign that parts the most of the first records into the same number of fields without cutting a quoted field in
 * two. Commas come last in a tie, since they may be decimal signs.
 */
function likelyDelimiter(text: TextBetween, start: number, end: number): string {
  const head = text(start, Math.min(end, start + HEAD));
  let whole = start + HEAD >= end ? head : undefined;
  let best = ",";
  let most = 0;
  for (const delimiter of ["\t", ";", ","]) {
    let { data, errors } = firstRecords(head, delimiter);
    if (whole !== head && data.length < RECORDS)
      ({ data, errors } = firstRecords((whole ??= text(start, end)), delimiter));
    if (errors.some((error) => error.type === "Quotes")) continue;
    const counts = new Map<number, number>();
    for (const fields of data) {
      const cut = fields.some((field) => field.split('"').length % 2 === 0);
      if (fields.length > 1 && !cut) counts.set(fields.length, (counts.get(fields.length) ?? 0) + 1);
    }
    const alike = Math.max(0, ...counts.values());
    if (alike > most) [best, most] = [delimiter, alike];
  }
  return best === "," && isOneColumn(head, () => (whole ??= text(start, end))) ? ";" : best;
}

/** How many records there are, and some to spare, if all are as long as the first. */
function likelyRows(bytes: Uint8Array, start: number): number {
  const end = Math.min(bytes.length, start + HEAD);
  let lines = 1;
  for (let at = start; at < end; at++) if (bytes[at] === LINE_FEED || bytes[at] === RETURN) lines++;
  return Math.min(MOST_ROWS, Math.ceil((1.02 * lines * (bytes.length - start)) / Math.max(1, end - start)));
}

function firstRecords(text: string, delimiter: string): Papa.ParseResult<string[]> {
  return Papa.parse<string[]>(withOneLineEnd(text), { delimiter, preview: RECORDS, skipEmptyLines: true });
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

/** Whether every comma is a decimal sign: a heading without one, and below it nothing but single numbers. */
function isOneColumn(head: string, whole: () => string): boolean {
  // The whole of a long log is taken apart only where its heading allows it.
  const [first = ""] = /[^\r\n]*\S[^\r\n]*/.exec(head) ?? [];
  if (first.includes(",")) return false;
  const [heading, ...lines] = whole()
    .split(/\r\n?|\n/)
    .map((line) => line.trim())
    .filter((line) => line !== "");
  const filled = lines.filter((line) => line.includes(","));
  return heading !== undefined && filled.length > 0 && filled.every((line) => COMMA_NUMBER.test(line));
}

const POINT_NUMBER = /^[+-]?(?:(?:0|[1-9]\d*)(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const COMMA_NUMBER = /^[+-]?(?:(?:0|[1-9]\d*)(?:,\d*)?|,\d+)(?:[eE][+-]?\d+)?$/;

/** Whether a comma is the decimal sign anywhere. */
function hasCommaNumber(bytes: Uint8Array, form: CsvForm, text: TextBetween): boolean {
  let found = false;
  scanFields(bytes, form, (_record, _column, from, to) => {
    for (let at = from; at < to && !found; at++)
      if (bytes[at] === COMMA) {
        found = COMMA_NUMBER.test(text(from, to));
        break;
      }
  });
  return found;
}

/**
 * The value of a field. Where a comma is the decimal sign anywhere, a point may part thousands, so such fields stay
 * text.
 */
function fieldReader(bytes: Uint8Array, text: TextBetween, commas: boolean) {
  const point = commas ? COMMA : POINT;
  return (from: number, to: number, doubled: boolean): CellValue => {
    const number = plainDecimal(bytes, from, to, point);
    if (number !== undefined) return number;
    const field = doubled ? text(from, to).replaceAll('""', '"') : text(from, to);
    return fieldNumber(field, commas) ?? asTyped(field);
  };
}

const [COMMA, POINT, MINUS, ZERO, LINE_FEED, RETURN] = [0x2c, 0x2e, 0x2d, 0x30, 0x0a, 0x0d];
/** So many digits make a whole number that is exact, and 10 to that power is exact, too. */
const EXACT_DIGITS = 15;

/** The number of a short field such as -12.25, straight from its bytes; undefined for what needs a closer look. */
function plainDecimal(bytes: Uint8Array, from: number, to: number, point: number): number | undefined {
  const first = bytes[from] === MINUS ? from + 1 : from;
  if (first === to || to - first > EXACT_DIGITS + 1) return undefined;
  let whole = 0;
  let parted = -1;
  for (let at = first; at < to; at++) {
    const byte = bytes[at] ?? 0;
    if (byte === point && parted < 0 && at > first) parted = at;
    else if (byte >= ZERO && byte <= ZERO + 9) whole = 10 * whole + (byte - ZERO);
    else return undefined;
  }
  const end = parted < 0 ? to : parted;
  if (end - first > 1 && bytes[first] === ZERO) return undefined;
  if (to - first - (parted < 0 ? 0 : 1) > EXACT_DIGITS) return undefined;
  const value = parted < 0 ? whole : whole / 10 ** (to - parted - 1);
  return first > from ? -value : value;
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

/** The bytes as signs of one byte each can be sought in them, where their text begins, and what decodes it. */
function asBytes(bytes: Uint8Array): { bytes: Uint8Array; start: number; decoder: TextDecoder } {
  const marks: readonly (readonly [number, number, string])[] = [
    [0xff, 0xfe, "utf-16le"],
    [0xfe, 0xff, "utf-16be"],
  ];
  const mark = marks.find(([first, second]) => bytes[0] === first && bytes[1] === second);
  const utf8 = new TextDecoder("utf-8", { ignoreBOM: true });
  if (mark) return { bytes: new TextEncoder().encode(new TextDecoder(mark[2]).decode(bytes)), start: 0, decoder: utf8 };
  if (!isUtf8(bytes)) return { bytes, start: 0, decoder: new TextDecoder("windows-1252") };
  const marked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  return { bytes, start: marked ? 3 : 0, decoder: utf8 };
}

/** Bytes that are decoded at a time to see whether they are UTF-8. */
const CHUNK = 1 << 16;

function isUtf8(bytes: Uint8Array): boolean {
  const decoder = new TextDecoder("utf-8", { fatal: true });
  try {
    for (let at = 0; at < bytes.length; at += CHUNK)
      decoder.decode(bytes.subarray(at, at + CHUNK), { stream: at + CHUNK < bytes.length });
    return true;
  } catch {
    return false;
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
