/** What a cell is before anything is made of it. */
import type { CellValue } from "../../workbook/book";
import type { SheetData } from "../../workbook/port";

/** The value at a place counted from the first row and column of the data; null outside it, where a sheet is blank. */
export function valueAt({ values }: SheetData, r: number, c: number): CellValue {
  return values[r]?.[c] ?? null;
}

export function isBlankCell(cell: CellValue | undefined): boolean {
  return cell === null || cell === undefined || (typeof cell === "string" && cell.trim() === "");
}

/** The text of a heading; numbers and truth values head columns too. */
export function headingText(cell: unknown): string {
  return typeof cell === "string"
    ? cell.trim()
    : typeof cell === "number" || typeof cell === "boolean"
      ? String(cell)
      : "";
}
