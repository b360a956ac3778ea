/** A sheet with plain cells from A1 on, as a port would read it: for simulations and tests. */
import type { CellValue } from "../../src/workbook/book";
import type { SheetData } from "../../src/workbook/port";

/**
 * @param rows shorter ones end in blanks
 * @param more what else there is on it, or how it differs
 */
export function sheetOf(rows: readonly (readonly CellValue[])[], more: Partial<SheetData> = {}): SheetData {
  const width = Math.max(0, ...rows.map((row) => row.length));
  const values = rows.map((row) => Array.from({ length: width }, (_, c) => row[c] ?? null));
  return {
    sheet: "Log",
    firstRow: 0,
    firstColumn: 0,
    values,
    formats: values.map((row) => row.map(() => "General")),
    hiddenRows: [],
    merged: [],
    tables: [],
    ...more,
  };
}
