/** Cells of rows that are written whatever stands there: emptied, then filled. */
import type { Port, RowCells } from "./port";

export async function emptyAndFill(
  port: Pick<Port, "clearCells" | "fillRow">,
  sheet: string,
  rows: readonly Omit<RowCells, "sheet">[],
): Promise<void> {
  for (const { row, cells } of rows) {
    for (const { column } of cells) await port.clearCells(sheet, { row, column, rows: 1, columns: 1 });
    const filled = await port.fillRow({ sheet, row, cells: cells.filter(({ value }) => value !== null) });
    if ("filled" in filled) throw new Error(`Row ${row + 1} of the sheet "${sheet}" could not be changed.`);
  }
}
