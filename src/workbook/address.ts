/**
 * Cell addresses in A1 form.
 */
import type { Area } from "./book";

/** Column number (from 0) to letters: 0 → "A", 26 → "AA". */
export function columnLetters(column: number): string {
  let text = "";
  for (let n = column; n >= 0; n = Math.floor(n / 26) - 1) text = String.fromCharCode(65 + (n % 26)) + text;
  return text;
}

/** Row and column (from 0) to an address: (1, 2) → "C2". */
export function cellAddress(row: number, column: number): string {
  return `${columnLetters(column)}${row + 1}`;
}

/** A rectangle to its address: one cell "B2", several "B2:D9". */
export function areaAddress(area: Area): string {
  const first = cellAddress(area.row, area.column);
  if (area.rows === 1 && area.columns === 1) return first;
  return `${first}:${cellAddress(area.row + area.rows - 1, area.column + area.columns - 1)}`;
}

/** A rectangle to an address that stays where it is: one cell "$B$2", several "$B$2:$D$9". */
export function fixedAddress(area: Area): string {
  return areaAddress(area).replace(/([A-Z]+)(\d+)/g, "$$$1$$$2");
}

/** "C2", "$C$2" or "B2:D9" to a rectangle; undefined when the text is no address. */
export function parseAddress(text: string): Area | undefined {
  const match = /^\$?([A-Z]{1,3})\$?([1-9]\d{0,6})(?::\$?([A-Z]{1,3})\$?([1-9]\d{0,6}))?$/i.exec(text.trim());
  const [, letters, number, lastLetters, lastNumber] = match ?? [];
  if (letters === undefined) return undefined;
  const column = columnNumber(letters);
  const row = Number(number) - 1;
  const lastColumn = lastLetters ? columnNumber(lastLetters) : column;
  const lastRow = lastNumber ? Number(lastNumber) - 1 : row;
  return {
    row: Math.min(row, lastRow),
    column: Math.min(column, lastColumn),
    rows: Math.abs(lastRow - row) + 1,
    columns: Math.abs(lastColumn - column) + 1,
  };
}

/** A sheet's name as a formula writes it, quoted where it must be: `Bo's log` → `'Bo''s log'`. */
export function quoteSheetName(name: string): string {
  return /^[A-Za-z_][A-Za-z0-9_]*$/.test(name) && !parseAddress(name) ? name : `'${name.replace(/'/g, "''")}'`;
}

/** Letters to a column number (from 0): "A" → 0, "AA" → 26. */
export function columnNumber(letters: string): number {
  let n = 0;
  // "A" is 65 and "a" is 97: the last five bits of both are 1.
  for (let i = 0; i < letters.length; i++) n = n * 26 + (letters.charCodeAt(i) & 31);
  return n - 1;
}
