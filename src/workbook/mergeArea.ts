/** A sheet that was read, brought up to date with the cells that changed since. */
import { liesIn, meets } from "./area";
import type { Area, CellValue } from "./book";
import type { SheetData, SheetPart } from "./port";

/** The rectangle that was read. */
export function readExtent({ firstRow, firstColumn, values }: SheetData): Area {
  return { row: firstRow, column: firstColumn, rows: values.length, columns: values[0]?.length ?? 0 };
}

/**
 * What reading the whole sheet would give, where only cells of the area changed since `data` was read. Undefined where
 * that cannot be told: the area reaches out of what was read, or an outer row or column came out blank, so that the
 * used range may be smaller now.
 */
export function mergeArea(data: SheetData, area: Area, part: SheetPart): SheetData | undefined {
  const extent = readExtent(data);
  if (!liesIn(area, extent)) return undefined;
  const top = area.row - extent.row;
  const left = area.column - extent.column;
  const put = <T>(before: readonly (readonly T[])[], now: readonly (readonly T[])[]) =>
    before.map((line, r) => {
      const changed = now[r - top];
      return changed ? [...line.slice(0, left), ...changed, ...line.slice(left + area.columns)] : line;
    });
  const values = put(data.values, part.values);
  if (hasBlankEdge(values, { ...area, row: top, column: left })) return undefined;
  const inRows = (row: number) => row >= area.row && row < area.row + area.rows;
  const hidden = [...data.hiddenRows.filter((row) => !inRows(row)), ...part.hiddenRows];
  return {
    ...data,
    values,
    formats: put(data.formats, part.formats),
    hiddenRows: hidden.sort((a, b) => a - b),
    merged: sameMerged(data.merged, area, part.merged),
    tables: part.tables,
  };
}

/** Whether an outer row or column that the area touches holds nothing. */
function hasBlankEdge(values: readonly (readonly CellValue[])[], { row, column, rows, columns }: Area): boolean {
  const last = values.length - 1;
  const right = (values[0]?.length ?? 0) - 1;
  const isBlankRow = (r: number) => values[r]?.every((value) => value === null) ?? true;
  const isBlankColumn = (c: number) => values.every((line) => line[c] === null);
  return (
    (row === 0 && isBlankRow(0)) ||
    (row + rows - 1 === last && isBlankRow(last)) ||
    (column === 0 && isBlankColumn(0)) ||
    (column + columns - 1 === right && isBlankColumn(right))
  );
}

/** In the order that they had; those that came are put behind. */
function sameMerged(before: readonly Area[], area: Area, now: readonly Area[]): readonly Area[] {
  const keyOf = ({ row, column, rows, columns }: Area) => [row, column, rows, columns].join();
  const left = new Map(now.map((one) => [keyOf(one), one]));
  const stay = before.filter((one) => !meets(one, area) || left.delete(keyOf(one)));
  return [...stay, ...left.values()];
}
