/** What a cell is before anything is made of it. */
import type { CellValue } from "../../workbook/book";
import { sheetColumns } from "../../workbook/columnSheet";
import type { SheetData } from "../../workbook/port";

/** The value at a place counted from the first row and column of the data; null outside it, where a sheet is blank. */
export function valueAt(data: SheetData, r: number, c: number): CellValue {
  const columns = sheetColumns(data);
  if (!columns) return data.values[r]?.[c] ?? null;
  const column = columns[c];
  return column?.different[column.places[r] ?? 0] ?? null;
}

/** Rows and columns of the data. */
export function sizeOf(data: SheetData): { readonly height: number; readonly width: number } {
  const columns = sheetColumns(data);
  if (columns) return { height: columns[0]?.places.length ?? 0, width: columns.length };
  return { height: data.values.length, width: data.values[0]?.length ?? 0 };
}

export function isBlankCell(cell: CellValue): boolean {
  return cell === null || (typeof cell === "string" && cell.trim() === "");
}

/** The text of a heading; numbers and truth values head columns too. */
export function headingText(cell: unknown): string {
  return typeof cell === "string"
    ? cell.trim()
    : typeof cell === "number" || typeof cell === "boolean"
      ? String(cell)
      : "";
}
