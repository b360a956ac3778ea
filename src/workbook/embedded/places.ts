/**
 * Where a sheet's tables and drop-down lists are while rows and columns come and go. Univer does not hold them, so
 * their areas are moved here.
 */
import type { Area, BookSheet, BookTable, ListValidation } from "../book";

/** What a sheet has besides cells. */
export interface Places {
  readonly tables: readonly BookTable[];
  readonly validations: readonly ListValidation[];
  /** Tables that had something directly below them when the workbook was opened: they do not grow downwards. */
  readonly closed: ReadonlySet<string>;
}

/** Rows or columns put in before `at`, or (negative count) taken out from `at` on. */
export interface Shift {
  readonly axis: "row" | "column";
  readonly at: number;
  readonly count: number;
}

export function placesOf(sheet: BookSheet): Places {
  const closed = sheet.tables.filter(({ area }) =>
    sheet.rows[area.row + area.rows]
      ?.slice(area.column, area.column + area.columns)
      .some((cell) => cell && (cell.formula !== undefined || cell.value !== null)),
  );
  return { tables: sheet.tables, validations: sheet.validations, closed: new Set(closed.map(({ name }) => name)) };
}

/** The same places after the shift; what was taken out wholly is gone. */
export function shifted(places: Places, shift: Shift): Places {
  return {
    ...places,
    tables: places.tables.flatMap((table) => {
      const area = shiftedArea(table.area, shift);
      return area
        ? [{ ...(table.totals && takesLastRow(table.area, shift) ? withoutTotals(table) : table), area }]
        : [];
    }),
    validations: places.validations.flatMap((validation) => {
      const areas = validation.areas.flatMap((area) => shiftedArea(area, shift) ?? []);
      return areas.length > 0 ? [{ ...validation, areas }] : [];
    }),
  };
}

/** Tables with rows typed directly below them take these in, as Excel's do. */
export function grown(places: Places, isFilled: (row: number, column: number) => boolean): Places {
  let changed = false;
  const tables = places.tables.map((table) => {
    // A row of totals ends a table: what is typed below it stands outside, as in Excel.
    if (places.closed.has(table.name) || table.totals) return table;
    const { row, column, columns } = table.area;
    const filled = (r: number) => Array.from({ length: columns }, (_, i) => column + i).some((c) => isFilled(r, c));
    let rows = table.area.rows;
    if (filled(row + rows - 1)) while (filled(row + rows)) rows++;
    if (rows === table.area.rows) return table;
    changed = true;
    return { ...table, area: { ...table.area, rows } };
  });
  return changed ? { ...places, tables } : places;
}

function takesLastRow({ row, rows }: Area, { axis, at, count }: Shift): boolean {
  return axis === "row" && count < 0 && at <= row + rows - 1 && row + rows - 1 < at - count;
}

function withoutTotals({ name, area, columns }: BookTable): BookTable {
  return { name, area, ...(columns ? { columns } : {}) };
}

function shiftedArea(area: Area, { axis, at, count }: Shift): Area | undefined {
  const first = axis === "row" ? area.row : area.column;
  const length = axis === "row" ? area.rows : area.columns;
  let start = first;
  let size = length;
  if (count > 0) {
    if (at <= first) start += count;
    else if (at < first + length) size += count;
  } else {
    const end = at - count;
    const before = Math.max(0, Math.min(end, first) - at);
    const inside = Math.max(0, Math.min(end, first + length) - Math.max(at, first));
    start -= before;
    size -= inside;
    if (size <= 0) return undefined;
  }
  return axis === "row" ? { ...area, row: start, rows: size } : { ...area, column: start, columns: size };
}
