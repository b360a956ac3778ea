/** Where a row for a gathering sheet goes. */
import type { NewRow, NewSheet, Port, SheetData } from "./port";
import { isNumbered } from "./sheetName";

const LAST_ROW = 1_048_576;

/** The sheet and sheet row (from 0) for the row; undefined when a new sheet is needed. */
export async function placeOfRow(
  port: Pick<Port, "sheets" | "read">,
  { sheet, headings }: NewRow,
): Promise<{ readonly sheet: string; readonly row: number } | undefined> {
  const candidates = (await port.sheets()).filter(({ name, hidden }) => !hidden && isNumbered(name, sheet));
  // The newest first: where the user changed the headings of one, the next was made.
  for (const { name } of candidates.reverse()) {
    const row = rowUnder(await port.read(name), headings);
    if (row !== undefined) return { sheet: name, row };
  }
  return undefined;
}

/**
 * The row under everything on the sheet, when its first row begins with the headings. Further columns are the user's
 * own.
 */
export function rowUnder(
  { firstRow, firstColumn, values, merged }: SheetData,
  headings: readonly string[],
): number | undefined {
  if (headings.some((heading, column) => values[-firstRow]?.[column - firstColumn] !== heading)) return undefined;
  let last = values.length - 1;
  while (values[last]?.every((value) => value === null)) last--;
  let row = firstRow + last + 1;
  for (const area of merged) if (area.row < row + 1 && area.row + area.rows > row) row = area.row + area.rows;
  return row < LAST_ROW ? row : undefined;
}

/** A new sheet with the headings and the row. */
export function firstRowSheet({ sheet, headings, cells, columnWidths }: NewRow): NewSheet {
  const head = headings.map((value) => ({ value, bold: true, wrap: true }));
  return { name: sheet, rows: [head, cells], columnWidths, headingRows: 1 };
}
