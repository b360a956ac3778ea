/** Columns of cells as the statistics want them: rows that are complete, numbers, categories. */
import type { Driver } from "../statistics/fit/designMatrix";
import type { Regression } from "../statistics/fit/regression";
import { isCellError } from "../workbook/book";
import { plainNumber } from "../workbook/cellText";
import { asMatrix, columnsOf, isBlank, shapeOf, type CellMatrix } from "./arguments";
import { messages, shown } from "./messages";

/** Columns that belong together row by row. */
export interface Columns {
  readonly response: readonly unknown[];
  /** By argument name; a column of the driver argument is one entry of `drivers`. */
  readonly drivers: CellMatrix;
  /** Single further columns, such as what groups the rows; undefined where one is left out. */
  readonly others: readonly (readonly unknown[] | undefined)[];
  /** Indices of the rows without a blank. */
  readonly used: readonly number[];
}

/**
 * Lays the arguments side by side, turned where they lie in rows, and finds the complete rows.
 * @param drivers may be left out (undefined or blank): no columns then
 * @param further single columns, with the names that messages call them by
 */
export function readColumns(
  response: unknown,
  drivers: unknown,
  further: readonly { readonly name: string; readonly cells: unknown }[] = [],
): Columns {
  const given = asMatrix(response);
  const sideways = given.length === 1 && columnsOf(given) > 1;
  const upright = (cells: unknown) => (sideways ? transpose(asMatrix(cells)) : asMatrix(cells));
  const y = oneColumn("response", upright(response));
  const x = isLeftOut(drivers) ? y.map(() => []) : upright(drivers);
  if (x.length !== y.length) throw messages.rowsDiffer(y.length, x.length);
  const others = further.map(({ name, cells }) => {
    if (isLeftOut(cells)) return undefined;
    const column = oneColumn(name, upright(cells));
    if (column.length !== y.length) throw messages.rowsDiffer(y.length, column.length, name);
    return { name, column };
  });
  const check = (name: string, cell: unknown, r: number) => {
    if (isCellError(cell)) throw messages.errorCell(name, cell.error, ` in row ${r + 1}`);
  };
  y.forEach((cell, r) => check("response", cell, r));
  x.forEach((row, r) => row.forEach((cell) => check("drivers", cell, r)));
  for (const other of others) other?.column.forEach((cell, r) => check(other.name, cell, r));
  const used = x.flatMap((row, r) =>
    [y[r], ...row, ...others.flatMap((other) => (other ? [other.column[r]] : []))].some(isBlank) ? [] : [r],
  );
  if (used.length === 0) throw messages.nothingLeft(y.length);
  return { response: y, drivers: x, others: others.map((other) => other?.column), used };
}

function oneColumn(name: string, cells: CellMatrix): readonly unknown[] {
  if (columnsOf(cells) !== 1) throw messages.notOneColumn(name, shapeOf(cells));
  return cells.map(([cell]) => cell);
}

function isLeftOut(argument: unknown): boolean {
  const matrix = asMatrix(argument);
  return matrix.length === 1 && columnsOf(matrix) === 1 && isBlank(matrix[0]?.[0]);
}

/** The number in a row of a column of numbers. */
export function numberIn(name: string, cell: unknown, row: number): number {
  const number = typeof cell === "string" ? plainNumber(cell) : cell;
  if (typeof number !== "number" || !Number.isFinite(number))
    throw messages.notNumber(`${name}, row ${row + 1},`, cell, "a number");
  return number;
}

/** A column as a driver: numbers throughout, or text throughout, which makes a category in order of appearance. */
export function toDriver(name: string, j: number, used: readonly number[], x: CellMatrix): Driver {
  const cells = used.map((row) => x[row]?.[j]);
  const numbers = cells.map((cell) =>
    typeof cell === "string" ? plainNumber(cell) : typeof cell === "number" ? cell : undefined,
  );
  const odd = used.find((_, i) => numbers[i] === undefined);
  if (odd === undefined) return { kind: "number", name, values: numbers as number[], degree: 1 };
  if (cells.some((cell) => typeof cell === "number")) throw messages.mixedColumn(name, odd + 1, x[odd]?.[j]);
  return { kind: "category", name, ...toLevels(cells) };
}

/** A cell as a level is called. */
export function levelText(cell: unknown): string {
  return typeof cell === "string" ? cell.trim() : shown(cell);
}

/** Cells as levels in order of appearance, whatever they hold. */
export function toLevels(cells: readonly unknown[]): { values: number[]; levels: string[] } {
  const texts = cells.map(levelText);
  const place = new Map<string, number>();
  for (const text of texts) if (!place.has(text)) place.set(text, place.size);
  return { values: texts.map((text) => place.get(text) as number), levels: [...place.keys()] };
}

/** Names of the drivers: those given, or "driver 1" and so on. */
export function driverNames(names: unknown, count: number): string[] {
  const given = asMatrix(names).flat();
  if (given.every(isBlank)) return Array.from({ length: count }, (_, j) => `driver ${j + 1}`);
  if (given.length !== count) throw messages.namesCount(given.length, count);
  return given.map((name, j) => (isBlank(name) ? `driver ${j + 1}` : String(name).trim()));
}

/** How many rows a blank leaves out, as a note below a table; none where all are used. */
export function leftOutNotes({ response: { length: rows }, used }: Columns): string[] {
  return used.length < rows ? [`${used.length} of ${rows} rows used, ${rows - used.length} left out for a blank`] : [];
}

/** What the rows do not determine, as notes below a table. */
export function unestimatedNotes({ unestimated }: Pick<Regression, "unestimated">): string[] {
  return unestimated.map(({ reason }) => `not estimated: ${reason}`);
}

/** What a fit refuses becomes an error of the cell. */
export function orSheetError<T>(fit: () => T): T {
  try {
    return fit();
  } catch (problem) {
    if (problem instanceof RangeError) throw messages.refused(problem.message);
    throw problem;
  }
}

function transpose(matrix: CellMatrix): unknown[][] {
  return Array.from({ length: columnsOf(matrix) }, (_, j) => matrix.map((row) => row[j]));
}
