/**
 * What a row that is added to a log, or put in between others, gets by itself: the formulas of its columns and the next
 * number. A spreadsheet program fills the calculated columns of a table, and goes on with formulas below three equal
 * ones; Univer does neither. Pure.
 */
import type { BookTable, CellValue } from "../book";
import { dataArea } from "../book";
import { isCounter } from "../counter";

/** How the sheet looks now. */
export interface Around {
  /** Formula as it was written, without "=", or undefined. */
  formulaAt(row: number, column: number): string | undefined;
  valueAt(row: number, column: number): CellValue;
  /** The formula as it reads so many rows lower. */
  shifted(formula: string, rows: number): string;
}

export interface Fill {
  readonly row: number;
  readonly column: number;
  readonly formula?: string;
  readonly value?: number;
}

/** Rows above that must agree before a formula outside a table goes on: so many does a spreadsheet program want. */
const AGREEING = 3;

/** What new rows of a table get. @param rows sheet rows, already part of the table */
export function fillsOfTable(table: BookTable, rows: readonly number[], around: Around): Fill[] {
  const data = dataArea(table);
  return rows.flatMap((row) =>
    Array.from({ length: data.columns }, (_, i): Fill[] => {
      const column = data.column + i;
      if (isFilled(around, row, column)) return [];
      const said = table.calculated?.[i];
      const old = neighbour(row, rows, data.row, data.row + data.rows - 1);
      const source = old === undefined ? undefined : around.formulaAt(old, column);
      const formula =
        said ?? (old === undefined || source === undefined ? undefined : around.shifted(source, row - old));
      if (formula !== undefined) return [{ row, column, formula }];
      if (!isCounterAt(around, data.row - 1, column)) return [];
      const number = nextNumber(around, column, data.row, data.row + data.rows - 1, rows);
      return number === undefined ? [] : [{ row, column, value: number + rows.indexOf(row) }];
    }).flat(),
  );
}

/** What a row typed right under the rows of a sheet, outside any table, gets. @param columns how many there are */
export function fillsBelow(row: number, columns: number, around: Around): Fill[] {
  const free = Array.from({ length: columns }, (_, column) => column).filter(
    (column) => !isFilled(around, row, column),
  );
  const fills = free.flatMap((column): Fill[] => {
    const nearest = around.formulaAt(row - 1, column);
    if (nearest === undefined) return [];
    const above = Array.from({ length: AGREEING }, (_, i) => around.formulaAt(row - 1 - i, column));
    const agrees = above.every((formula, i) => formula !== undefined && around.shifted(formula, i) === nearest);
    return agrees ? [{ row, column, formula: around.shifted(nearest, 1) }] : [];
  });
  // A number alone begins no row: only what is computed makes it one of the log.
  if (fills.length === 0) return [];
  return [
    ...fills,
    ...free.flatMap((column) => {
      const top = topOfNumbers(around, row - 1, column);
      const number = isCounterAt(around, top - 1, column) ? nextNumber(around, column, top, row - 1, []) : undefined;
      return number === undefined ? [] : [{ row, column, value: number }];
    }),
  ];
}

/** What rows put in between others, outside any table, get. @param columns how many there are */
export function fillsBetween(rows: readonly number[], columns: number, around: Around): Fill[] {
  const first = rows[0];
  const last = rows.at(-1);
  if (first === undefined || last === undefined) return [];
  const free = Array.from({ length: columns }, (_, column) => column).filter((column) =>
    rows.every((row) => !isFilled(around, row, column)),
  );
  const formulas = free.flatMap((column): Fill[] => {
    const [above, below] = [around.formulaAt(first - 1, column), around.formulaAt(last + 1, column)];
    if (above === undefined || below === undefined || around.shifted(above, rows.length + 1) !== below) return [];
    return rows.map((row, i) => ({ row, column, formula: around.shifted(above, i + 1) }));
  });
  if (formulas.length === 0) return [];
  const numbers = free.flatMap((column): Fill[] => {
    const top = topOfNumbers(around, first - 1, column);
    let bottom = last;
    while (typeof around.valueAt(bottom + 1, column) === "number") bottom++;
    const number = isCounterAt(around, top - 1, column) ? nextNumber(around, column, top, bottom, rows) : undefined;
    return number === undefined ? [] : rows.map((row, i) => ({ row, column, value: number + i }));
  });
  return [...formulas, ...numbers];
}

/** The nearest row of the table that is not new: the one above, otherwise the one below. */
function neighbour(row: number, rows: readonly number[], first: number, last: number): number | undefined {
  for (let above = row - 1; above >= first; above--) if (!rows.includes(above)) return above;
  for (let below = row + 1; below <= last; below++) if (!rows.includes(below)) return below;
  return undefined;
}

/** The number after the last where a column counts 1, 2, 3 … down its rows, new ones aside. */
function nextNumber(
  around: Around,
  column: number,
  first: number,
  last: number,
  rows: readonly number[],
): number | undefined {
  let count = 0;
  for (let row = first; row <= last; row++) {
    if (rows.includes(row)) continue;
    if (around.formulaAt(row, column) !== undefined || around.valueAt(row, column) !== count + 1) return undefined;
    count++;
  }
  return count >= 2 ? count + 1 : undefined;
}

/** Only a column that says so numbers the rows: speeds may run 1, 2, 3 too. */
function isCounterAt(around: Around, headingRow: number, column: number): boolean {
  const heading = headingRow < 0 ? null : around.valueAt(headingRow, column);
  return typeof heading === "string" && isCounter(heading);
}

function topOfNumbers(around: Around, row: number, column: number): number {
  let top = row;
  while (top > 0 && typeof around.valueAt(top - 1, column) === "number") top--;
  return top;
}

function isFilled(around: Around, row: number, column: number): boolean {
  return around.formulaAt(row, column) !== undefined || around.valueAt(row, column) !== null;
}
