/** What a cell is before anything is made of it. */
import type { CellValue } from "../../workbook/book";

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
