/** Ranges and merged areas. */
import { around, meets } from "../../../src/workbook/area";
import { areaAddress, cellAddress, quoteSheetName } from "../../../src/workbook/address";
import type { Area } from "../../../src/workbook/book";
import { ExcelFailure, UnknownConstruct } from "../failure";
import { remote, type Kind, type Remote } from "../model";
import { LAST_COLUMN, LAST_ROW, type HostCell, type HostSheet } from "../workbook";
import { fromR1C1, toR1C1, write } from "../written";

export interface RangeTarget {
  readonly sheet: HostSheet;
  readonly area: Area;
}

/** More than these are not listed at once: learn.microsoft.com, Excel.Range.getMergedAreasOrNullObject. */
const MOST_MERGED = 512;
export const WHOLE: Area = { row: 0, column: 0, rows: LAST_ROW, columns: LAST_COLUMN };

/** @throws ExcelFailure where the sheet has no such cells */
export function rangeAt(sheet: HostSheet, area: Area): Remote {
  const { row, column, rows, columns } = area;
  const inside = row >= 0 && column >= 0 && row + rows <= LAST_ROW && column + columns <= LAST_COLUMN;
  if (rows < 1 || columns < 1 || !inside)
    throw new ExcelFailure("InvalidArgument", "The argument is invalid or missing or has an incorrect format.");
  return remote(RANGE, { sheet, area });
}

const rangeOrNull = (sheet: HostSheet, area: Area | null): Remote =>
  area ? rangeAt(sheet, area) : remote(RANGE, null);

/** Every cell of a range, read. */
function grid<T>({ sheet, area }: RangeTarget, read: (cell: HostCell | undefined, row: number, column: number) => T) {
  return Array.from({ length: area.rows }, (_, r) =>
    Array.from({ length: area.columns }, (__, c) => {
      const [row, column] = [area.row + r, area.column + c];
      return read(sheet.cell(row, column), row, column);
    }),
  );
}

/**
 * Writes what was given for each cell: one value for all, or rows of the range's own shape, in which null leaves a cell
 * as it is (learn.microsoft.com/office/dev/add-ins/excel/excel-add-ins-blank-null-values).
 */
function each<T>(
  { sheet, area }: RangeTarget,
  given: unknown,
  act: (cell: HostCell, value: T, row: number, column: number) => void,
): void {
  sheet.mayBeEdited();
  if (given === null) throw new ExcelFailure("InvalidArgument", "null is no value for the whole of a range.");
  const rows = Array.isArray(given) ? given : undefined;
  if (rows && (rows.length !== area.rows || rows.some((row) => !Array.isArray(row) || row.length !== area.columns)))
    throw wrongShape();
  for (let r = 0; r < area.rows; r++)
    for (let c = 0; c < area.columns; c++) {
      const value: unknown = rows ? rows[r][c] : given;
      if (value !== null) act(sheet.make(area.row + r, area.column + c), value as T, area.row + r, area.column + c);
    }
}

const wrongShape = () =>
  new ExcelFailure(
    "InvalidArgument",
    "The number of rows or columns in the input array doesn't match the size of the range.",
  );

function edited({ sheet, area }: RangeTarget): void {
  sheet.workbook.edited(sheet, area);
}

function typeOf(cell: HostCell | undefined): string {
  if (cell?.error) return "Error";
  if (!cell || cell.value === "") return "Empty";
  return { number: "Double", boolean: "Boolean", string: "String" }[typeof cell.value as "number"] ?? "Unknown";
}

/** Of the rows of a range: hidden, not hidden, or null where both occur; a filter hides rows in the same way. */
function rowHidden({ sheet, area }: RangeTarget): boolean | null {
  let hidden = 0;
  for (let row = area.row; row < area.row + area.rows; row++) if (sheet.hiddenRows.has(row)) hidden++;
  return hidden === 0 ? false : hidden === area.rows ? true : null;
}

function rowProperties({ sheet, area }: RangeTarget, asked: Record<string, unknown>): object[] {
  const unknown = Object.keys(asked).find((name) => name !== "rowHidden");
  if (unknown !== undefined) throw new UnknownConstruct(`the row property ${unknown}`);
  return Array.from({ length: area.rows }, (_, r) => ({ rowHidden: sheet.hiddenRows.has(area.row + r) }));
}

function mergedAreas({ sheet, area }: RangeTarget): Remote {
  const found = sheet.merged.filter((one) => meets(one, area));
  if (found.length > MOST_MERGED) throw new ExcelFailure("GeneralException", "There are too many merged areas.");
  return remote(RANGE_AREAS, found.length === 0 ? null : { sheet, areas: found });
}

/** Which parts of a cell a method of clearing takes away: learn.microsoft.com, Excel.ClearApplyTo. */
function clear(target: RangeTarget, applyTo: string = "All"): void {
  if (!["All", "Contents", "Formats"].includes(applyTo)) throw new UnknownConstruct(`clear(${applyTo})`);
  each(target, "", (cell) => {
    if (applyTo !== "Formats") write(cell, "");
    if (applyTo !== "Contents") Object.assign(cell, { format: "General", bold: false, wrap: false });
  });
  edited(target);
}

function select({ sheet, area }: RangeTarget): void {
  if (sheet.visibility !== "Visible")
    throw new ExcelFailure("InvalidOperation", "This operation is not permitted for the current object.");
  sheet.workbook.active = sheet.id;
  sheet.workbook.selected = { sheet: sheet.name, area };
}

const moved = ({ sheet, area }: RangeTarget, by: Partial<Area>): Remote =>
  rangeAt(sheet, {
    row: area.row + (by.row ?? 0),
    column: area.column + (by.column ?? 0),
    rows: area.rows + (by.rows ?? 0),
    columns: area.columns + (by.columns ?? 0),
  });

export const RANGE: Kind<RangeTarget> = {
  name: "Range",
  gone: ({ sheet }) => !sheet.workbook.sheets.includes(sheet),
  size: ({ area }) => area.rows * area.columns,
  get: {
    Address: ({ sheet, area }) => `${quoteSheetName(sheet.name)}!${areaAddress(area)}`,
    RowIndex: ({ area }) => area.row,
    ColumnIndex: ({ area }) => area.column,
    RowCount: ({ area }) => area.rows,
    ColumnCount: ({ area }) => area.columns,
    CellCount: ({ area }) => area.rows * area.columns,
    RowHidden: rowHidden,
    // "" for a blank; an error is its text, which only the value type tells from typed text.
    Values: (target) => grid(target, (cell) => cell?.value ?? ""),
    ValueTypes: (target) => grid(target, typeOf),
    Formulas: (target) => grid(target, (cell) => cell?.formula ?? cell?.value ?? ""),
    FormulasR1C1: (target) =>
      grid(target, (cell, row, column) =>
        cell?.formula === undefined ? (cell?.value ?? "") : toR1C1(cell.formula, row, column),
      ),
    NumberFormat: (target) => grid(target, (cell) => cell?.format ?? "General"),
  },
  set: {
    Values: (target, given) => {
      each<number | string | boolean>(target, given, write);
      edited(target);
    },
    Formulas: (target, given) => {
      each<number | string | boolean>(target, given, write);
      edited(target);
    },
    FormulasR1C1: (target, given) => {
      each<number | string | boolean>(target, given, (cell, value, row, column) =>
        write(cell, typeof value === "string" ? fromR1C1(value, row, column) : value),
      );
      edited(target);
    },
    NumberFormat: (target, given) => each<string>(target, given, (cell, format) => (cell.format = format || "General")),
  },
  parts: { Format: (target) => remote(FORMAT, target), Worksheet: ({ sheet }) => worksheetOf(sheet) },
  methods: {
    GetUsedRange: ({ sheet, area }, valuesOnly = false) =>
      rangeAt(sheet, sheet.used(area, valuesOnly) ?? { ...area, rows: 1, columns: 1 }),
    GetUsedRangeOrNullObject: ({ sheet, area }, valuesOnly = false) => rangeOrNull(sheet, sheet.used(area, valuesOnly)),
    GetRowProperties: rowProperties,
    GetMergedAreasOrNullObject: mergedAreas,
    GetCell: (target, row, column) =>
      moved({ ...target, area: { ...target.area, rows: 1, columns: 1 } }, { row, column }),
    GetRow: ({ sheet, area }, row) => rangeAt(sheet, { ...area, row: area.row + row, rows: 1 }),
    GetColumn: ({ sheet, area }, column) => rangeAt(sheet, { ...area, column: area.column + column, columns: 1 }),
    GetBoundingRect: ({ sheet, area }, other: Remote) =>
      rangeAt(sheet, around(area, (other.target as RangeTarget).area) ?? area),
    // The client asks this before it sends many cells in pieces of 1500.
    _ValidateArraySize: ({ area }, rows, columns) => {
      if (rows !== area.rows || columns !== area.columns) throw wrongShape();
    },
    GetOffsetRange: (target, row, column) => moved(target, { row, column }),
    GetResizedRange: (target, rows, columns) => moved(target, { rows, columns }),
    Clear: clear,
    Select: select,
  },
};

const FORMAT: Kind<RangeTarget> = {
  name: "RangeFormat",
  set: {
    WrapText: (target, wrap) => each<boolean>(target, wrap, (cell, value) => (cell.wrap = value)),
    ColumnWidth: ({ sheet, area }, points: number) => {
      sheet.mayBeEdited();
      for (let c = 0; c < area.columns; c++) sheet.widths.set(area.column + c, points);
    },
  },
  parts: { Font: (target) => remote(FONT, target) },
};

const FONT: Kind<RangeTarget> = {
  name: "RangeFont",
  set: { Bold: (target, bold) => each<boolean>(target, bold, (cell, value) => (cell.bold = value)) },
};

const RANGE_AREAS: Kind<{ sheet: HostSheet; areas: readonly Area[] }> = {
  name: "RangeAreas",
  get: {
    Address: ({ sheet, areas }) => areas.map((area) => `${quoteSheetName(sheet.name)}!${areaAddress(area)}`).join(","),
    AreaCount: ({ areas }) => areas.length,
    CellCount: ({ areas }) => areas.reduce((sum, { rows, columns }) => sum + rows * columns, 0),
  },
};

/** Set by worksheets.ts: a range leads to its sheet, and a sheet to its ranges. */
let worksheetOf: (sheet: HostSheet) => Remote = () => {
  throw new UnknownConstruct("worksheets");
};
export function connectWorksheets(connect: typeof worksheetOf): void {
  worksheetOf = connect;
}

/** The address of a range that another object was given. */
export function addressOf(given: unknown): string {
  const { area } = (given as Remote).target as RangeTarget;
  return area.rows === 1 && area.columns === 1 ? cellAddress(area.row, area.column) : areaAddress(area);
}
