/** Small Books for the tests of the embedded workbook. */
import type { Book, BookCell, BookSheet, CellValue } from "../../../src/workbook/book";

/** A cell from what a person would type: "=…" is a formula, everything else a value. */
export function cell(typed: CellValue, style?: number): BookCell {
  const look = style === undefined ? {} : { style };
  return typeof typed === "string" && typed.startsWith("=")
    ? { value: null, formula: typed.slice(1), ...look }
    : { value: typed, ...look };
}

export function sheet(name: string, rows: readonly (readonly CellValue[])[], more: Partial<BookSheet> = {}): BookSheet {
  const cells = rows.map((row) => row.map((value) => (value === null ? undefined : cell(value))));
  return { name, rows: cells, hiddenRows: [], merged: [], tables: [], validations: [], columnWidths: [], ...more };
}

export function book(sheets: readonly BookSheet[], more: Partial<Book> = {}): Book {
  return { sheets, styles: [], names: [], ...more };
}

/** Values of a sheet, row by row; blanks are null. */
export function valuesOf(found: BookSheet): CellValue[][] {
  return Array.from(found.rows, (row) => Array.from(row ?? [], (one) => one?.value ?? null));
}

/** The cell's value, read from a Book. */
export function at(from: Book, sheetName: string, row: number, column: number): BookCell | undefined {
  return from.sheets.find(({ name }) => name === sheetName)?.rows[row]?.[column];
}
