/**
 * Blocks of cells outside Excel tables that begin with a row of headings.
 */
import type { Area } from "../../workbook/book";
import type { SheetData } from "../../workbook/port";
import { isBlankCell, sizeOf, valueAt } from "./cellKinds";

/**
 * Rectangles of filled cells outside the named tables that begin with a heading row. Blank rows do not end a block, so
 * that no row below one is lost; another heading row after a blank row does.
 */
export function blocks(data: SheetData, taken: readonly Area[]): Area[] {
  const { height, width } = sizeOf(data);
  const free = (r: number, c: number) => {
    if (isBlankCell(valueAt(data, r, c))) return false;
    const row = r + data.firstRow;
    const column = c + data.firstColumn;
    return !taken.some(
      (area) =>
        row >= area.row && row < area.row + area.rows && column >= area.column && column < area.column + area.columns,
    );
  };
  const found: Area[] = [];
  for (let r = 0; r < height; r++) {
    const words = headingCells(data, r, width, free);
    if (words === undefined) continue;
    const { from, to } = words;
    let last = r;
    for (let next = r + 1; next < height; next++) {
      let any = false;
      for (let c = from; c <= to && !any; c++) any = free(next, c);
      if (!any) continue;
      const another = next > last + 1 ? headingCells(data, next, width, free) : undefined;
      if (another && another.to > another.from) break;
      last = next;
    }
    if (last > r) {
      found.push({
        row: r + data.firstRow,
        column: from + data.firstColumn,
        rows: last - r + 1,
        columns: to - from + 1,
      });
      r = last;
    }
  }
  return found;
}

/** The longest run of cells in a row that could be headings: words throughout, and not words again beneath each. */
export function headingCells(
  data: SheetData,
  r: number,
  width: number,
  free: (r: number, c: number) => boolean,
): { from: number; to: number } | undefined {
  let best: { from: number; to: number } | undefined;
  for (let c = 0; c < width; c++) {
    if (!free(r, c)) continue;
    let to = c;
    while (to + 1 < width && (free(r, to + 1) || (to + 2 < width && free(r, to + 2)))) to++;
    if (!best || to - c > best.to - best.from) best = { from: c, to };
    c = to;
  }
  if (!best) return undefined;
  for (let c = best.from; c <= best.to; c++)
    if (free(r, c) && typeof valueAt(data, r, c) !== "string") return undefined;
  let filledBelow = false;
  for (let c = best.from; c <= best.to && !filledBelow; c++) filledBelow = !isBlankCell(valueAt(data, r + 1, c));
  if (!filledBelow) return undefined;
  return best.from === best.to && typeof valueAt(data, r + 1, best.from) !== "number" ? undefined : best;
}
