/**
 * A sheet that holds nothing but values, kept column by column: a long log would need several times the memory as rows
 * of cells. Rows are made where somebody asks for them.
 */
import { sheetOfRows, type BookCell, type BookSheet, type CellValue } from "./book";
import type { SheetData } from "./port";

/** A column of cells: what stands in it, and which of that in each row. */
export interface CellColumn {
  /** Begins with null, the blank; a value may come again where there are very many. */
  readonly different: readonly CellValue[];
  /** By row, from the first of the sheet or of what was read of it: place in `different`. */
  readonly places: Uint32Array;
}

/** By object, so that a changed copy of a sheet, which is another object, is never read from here. */
const kept = new WeakMap<BookSheet | SheetData, readonly CellColumn[]>();

/** The same cells by column; undefined where they are not kept so. */
export function sheetColumns(cells: BookSheet | SheetData): readonly CellColumn[] | undefined {
  return kept.get(cells);
}

/** @param columns all of the same number of rows */
export function sheetOfColumns(name: string, columns: readonly CellColumn[]): BookSheet {
  const sheet = withLate(sheetOfRows(name, []), "rows", () => rowsOf(columns));
  kept.set(sheet, columns);
  return sheet;
}

/** The used range of a sheet that is kept by column. */
export function columnData(sheet: BookSheet, columns: readonly CellColumn[]): SheetData {
  const filled = columns.flatMap(({ places }, column) => {
    const extent = filledRows(places);
    return extent ? [{ column, ...extent }] : [];
  });
  const [left, right] = [filled[0]?.column ?? 0, filled.at(-1)?.column ?? -1];
  const top = filled.reduce((least, one) => Math.min(least, one.top), filled[0]?.top ?? 0);
  const end = filled.reduce((most, one) => Math.max(most, one.end), 0);
  const used = columns
    .slice(left, right + 1)
    .map(({ different, places }) => ({ different, places: places.subarray(top, end) }));
  const { name, hiddenRows, merged, tables } = sheet;
  const place = { sheet: name, firstRow: top, firstColumn: left };
  const data: SheetData = { ...place, values: [], formats: [], hiddenRows, merged, tables };
  withLate(data, "formats", () => {
    const plain = used.map(() => "General");
    return new Array<readonly string[]>(end - top).fill(plain);
  });
  withLate(data, "values", () =>
    Array.from({ length: end - top }, (_, r) => used.map(({ different, places }) => different[places[r] ?? 0] ?? null)),
  );
  kept.set(data, used);
  return data;
}

/** From the first row that holds something to behind the last. */
function filledRows(places: Uint32Array): { readonly top: number; readonly end: number } | undefined {
  const top = places.findIndex((place) => place > 0);
  if (top < 0) return undefined;
  let end = places.length;
  while (places[end - 1] === 0) end--;
  return { top, end };
}

/** The object with a property that is worked out when it is asked for first. */
function withLate<T extends object, K extends keyof T>(object: T, key: K, make: () => T[K]): T {
  let made: { readonly value: T[K] } | undefined;
  return Object.defineProperty(object, key, {
    enumerable: true,
    configurable: true,
    get: () => (made ??= { value: make() }).value,
  });
}

/** Rows of cells; what is alike in a column is one cell. */
function rowsOf(columns: readonly CellColumn[]): BookSheet["rows"] {
  const cells = columns.map(({ different }) => different.map((value): BookCell => ({ value })));
  const height = columns[0]?.places.length ?? 0;
  const rows = Array.from({ length: height }, (_, r) => {
    const row: (BookCell | undefined)[] = [];
    columns.forEach(({ places }, c) => {
      const place = places[r] ?? 0;
      if (place > 0) row[c] = cells[c]?.[place];
    });
    return row.length === 0 ? undefined : row;
  });
  while (rows.length > 0 && rows.at(-1) === undefined) rows.pop();
  return rows;
}
