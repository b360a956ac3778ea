/** Rectangles of cells. */
import type { Area } from "./book";

/** Whether two areas have a cell in common. */
export function meets(one: Area, other: Area): boolean {
  return (
    one.row < other.row + other.rows &&
    other.row < one.row + one.rows &&
    one.column < other.column + other.columns &&
    other.column < one.column + one.columns
  );
}

/** Whether the first lies in the second. */
export function liesIn(inner: Area, outer: Area): boolean {
  return (
    inner.row >= outer.row &&
    inner.column >= outer.column &&
    inner.row + inner.rows <= outer.row + outer.rows &&
    inner.column + inner.columns <= outer.column + outer.columns
  );
}

/** The smallest area that both lie in; undefined, which stands for anywhere, when one is. */
export function around(one: Area | undefined, other: Area | undefined): Area | undefined {
  if (!one || !other) return undefined;
  const row = Math.min(one.row, other.row);
  const column = Math.min(one.column, other.column);
  return {
    row,
    column,
    rows: Math.max(one.row + one.rows, other.row + other.rows) - row,
    columns: Math.max(one.column + one.columns, other.column + other.columns) - column,
  };
}
