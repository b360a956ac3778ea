/**
 * Univer's names for what changes a workbook, and what comes with them.
 */
import type { ICellData, IObjectMatrixPrimitiveType, IRange, Nullable } from "@univerjs/core";
import type { Area } from "../book";
import type { Shift } from "./places";

/** Univer's name for putting cells into a sheet, and what it puts. */
export const TYPED = "sheet.mutation.set-range-values";
export interface Typed {
  readonly unitId: string;
  readonly subUnitId: string;
  readonly cellValue?: IObjectMatrixPrimitiveType<Nullable<ICellData>>;
}

export interface Moved {
  readonly subUnitId?: string;
  readonly range?: IRange;
}

/** Univer's names for rows and columns that come (1) and go (-1). */
export const SHIFTS: Readonly<Record<string, readonly [Shift["axis"], 1 | -1]>> = {
  "sheet.mutation.insert-row": ["row", 1],
  "sheet.mutation.remove-rows": ["row", -1],
  "sheet.mutation.insert-col": ["column", 1],
  "sheet.mutation.remove-col": ["column", -1],
};

/** After these the cells of a sheet are not what they were. */
export const STRUCTURE: ReadonlySet<string> = new Set([
  TYPED,
  ...Object.keys(SHIFTS),
  "sheet.mutation.move-range",
  "sheet.mutation.move-rows",
  "sheet.mutation.move-columns",
  "sheet.mutation.reorder-range",
  "sheet.mutation.set-worksheet-name",
  "sheet.mutation.insert-sheet",
  "sheet.mutation.remove-sheet",
]);

/** Univer's name for saying which cells formulas fill besides their own. */
export const FILLED = "formula.mutation.set-array-formula-data";

/** After these a named range may be another. */
export const NAMING: ReadonlySet<string> = new Set([
  "formula.mutation.set-defined-name",
  "formula.mutation.remove-defined-name",
]);

/** The rows or columns that a command puts in or takes out, if it does. */
export function shiftOf(command: string, { range }: Moved): Shift | undefined {
  const kind = SHIFTS[command];
  if (!kind || !range) return undefined;
  const [axis, direction] = kind;
  const [first, last] = axis === "row" ? [range.startRow, range.endRow] : [range.startColumn, range.endColumn];
  return { axis, at: first, count: direction * (last - first + 1) };
}

/** The cells that a command puts something into; undefined where it may have changed any. */
export function areaTyped(command: string, { cellValue }: Partial<Typed>): Area | undefined {
  if (command !== TYPED || !cellValue) return undefined;
  const rows = Object.keys(cellValue).map(Number);
  const columns = Object.values(cellValue).flatMap((line) => Object.keys(line ?? {}).map(Number));
  if (rows.length === 0 || columns.length === 0) return undefined;
  const [row, column] = [smallest(rows), smallest(columns)];
  return { row, column, rows: largest(rows) - row + 1, columns: largest(columns) - column + 1 };
}

function smallest(numbers: readonly number[]): number {
  return numbers.reduce((one, other) => Math.min(one, other), Infinity);
}

function largest(numbers: readonly number[]): number {
  return numbers.reduce((one, other) => Math.max(one, other), -Infinity);
}
