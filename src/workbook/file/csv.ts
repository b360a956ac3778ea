/**
 * Reads and writes comma-separated text. May import: book.ts, sheetName.ts, fileProblem.ts, styleSheet.ts; papaparse.
 */
import Papa from "papaparse";
import { isCellError, type Book, type BookCell, type BookSheet, type CellStyle } from "../book";
import { freeSheetName } from "../sheetName";
import { FileProblem } from "./fileProblem";
import { showsDate } from "./styleSheet";

const MOST_ROWS = 1_048_576;

/**
 * Reads .csv bytes (UTF-8, UTF-16 with a mark, else Windows-1252; comma, semicolon or tab) into a Book of one sheet,
 * named after the file. A field that is a plain number becomes one; every other field stays text exactly as typed:
 * "1/8", "007" and "=1+1" are text. Where semicolons part the fields, a comma may be the decimal sign.
 * Throws FileProblem.
 *
 * @example readCsv(new TextEncoder().encode("Gap;Bend\n0,125;1\n"), "log.csv")
 */
export function readCsv(bytes: Uint8Array, name: string): Book {
  const text = decodedText(bytes);
  const { data, errors, meta } = Papa.parse<string[]>(text, { delimitersToGuess: [",", ";", "\t"] });
  const quotes = errors.find((error) => error.type === "Quotes");
  if (quotes) {
    throw new FileProblem(
      "corrupt",
      `In record ${(quotes.row ?? 0) + 1} of "${name}" a field begins with a double quote that is not closed as it should be.`,
      'Write a field that holds quotes as "3/16"" gap": quotes around it, and each quote inside doubled.',
    );
  }
  if (data.length > MOST_ROWS) {
    throw new FileProblem("tooLarge", `"${name}" has ${data.length.toLocaleString("en")} rows; a sheet holds ${MOST_ROWS.toLocaleString("en")}.`, "Split it into several files.");
  }
  const number = numberReader(meta.delimiter === ";", data);
  const rows = data.map((fields) => {
    const cells: (BookCell | undefined)[] = [];
    fields.forEach((field, c) => {
      if (field !== "") cells[c] = { value: number(field) ?? field };
    });
    return cells.length === 0 ? undefined : cells;
  });
  while (rows.length > 0 && rows[rows.length - 1] === undefined) rows.pop();
  const sheetName = freeSheetName(name.replace(/^.*[\\/]/, "").replace(/\.\w{1,5}$/, ""), []);
  const sheet: BookSheet = { name: sheetName, rows, hiddenRows: [], merged: [], tables: [], validations: [], columnWidths: [] };
  return { sheets: [sheet], styles: [], names: [] };
}

const POINT_NUMBER = /^[+-]?(?:(?:0|[1-9]\d*)(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const COMMA_NUMBER = /^[+-]?(?:(?:0|[1-9]\d*)(?:,\d*)?|,\d+)(?:[eE][+-]?\d+)?$/;

/** Where a comma is the decimal sign anywhere, a point may part thousands, so such fields stay text. */
function numberReader(semicolons: boolean, data: readonly (readonly string[])[]): (field: string) => number | undefined {
  const commas = semicolons && data.some((fields) => fields.some((field) => field.includes(",") && COMMA_NUMBER.test(field)));
  const pattern = commas ? COMMA_NUMBER : POINT_NUMBER;
  return (field) => {
    if (!pattern.test(field)) return undefined;
    const value = Number(field.replace(",", "."));
    // A long row of digits is a label; as a number it would lose its end.
    if (!Number.isFinite(value) || (/^[+-]?\d+$/.test(field) && !Number.isSafeInteger(value))) return undefined;
    return value;
  };
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
 * precision, errors by their codes. Given the Book's styles, calendar dates are written as 2026-03-14.
 */
export function writeCsv(sheet: BookSheet, styles: readonly CellStyle[] = []): Uint8Array {
  const lines = Array.from(sheet.rows, (cells) => Array.from(cells ?? [], (cell) => fieldOf(cell, styles)));
  return new TextEncoder().encode(`\ufeff${Papa.unparse(lines)}\r\n`);
}

function fieldOf(cell: BookCell | undefined, styles: readonly CellStyle[]): string {
  const value = cell?.value ?? null;
  if (value === null) return "";
  if (isCellError(value)) return value.error;
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  if (typeof value === "number" && cell?.style !== undefined && showsDate(styles[cell.style]?.format)) return isoDate(value);
  return String(value);
}

/** Serial days to ISO text; serial 25569 is 1970-01-01. */
function isoDate(serial: number): string {
  const date = new Date(Math.round((serial - 25_569) * 86_400_000));
  if (Number.isNaN(date.getTime())) return String(serial);
  const text = date.toISOString().slice(0, 19);
  return Number.isInteger(serial) ? text.slice(0, 10) : text;
}
