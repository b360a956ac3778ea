/**
 * A workbook in memory, as the file host reads and writes it and as the embedded grid is built from it. Rows and
 * columns count from 0; a blank is null, never 0; "" is a text without characters.
 */

/** An error value in a cell, such as "#N/A" or "#VALUE!"; `message` is what the function that made it said. */
export interface CellError {
  readonly error: string;
  readonly message?: string;
}

/** What a cell holds. Dates are numbers (serial days) with a date format, as in every spreadsheet. */
export type CellValue = number | string | boolean | null | CellError;

export function isCellError(value: unknown): value is CellError {
  return typeof value === "object" && value !== null && typeof (value as CellError).error === "string";
}

/** A rectangle of cells. */
export interface Area {
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
}

export interface BookCell {
  /** The value; for a formula, the value stored beside it. */
  readonly value: CellValue;
  /** Formula text without "=", as a person types it: `BANK.BEND(B2)`, no storage prefixes. */
  readonly formula?: string;
  /** The range that a spilled or array formula fills, on its first cell only. */
  readonly spill?: Area;
  /** True on every cell that another cell's spill fills. */
  readonly spilled?: boolean;
  /**
   * True for an array formula of the old kind, entered with Ctrl+Shift+Enter: it fills its own range, never another.
   */
  readonly array?: true;
  /** Index into Book.styles. */
  readonly style?: number;
}

/** How a cell looks; every part may be missing. Colours are "#rrggbb". */
export interface CellStyle {
  /** Number format code, "General" when missing. */
  readonly format?: string;
  readonly bold?: boolean;
  readonly italic?: boolean;
  readonly fontSize?: number;
  readonly color?: string;
  readonly fill?: string;
  readonly horizontal?: "left" | "center" | "right";
  readonly wrap?: boolean;
}

export interface BookTable {
  readonly name: string;
  /** All of it: header row, data and row of totals. `dataArea` says which rows are data. */
  readonly area: Area;
  /** True when the last row of the area holds totals, which are no data. */
  readonly totals?: true;
  /** The formula that each row has in a column, as typed, where there is one: rows that come get it too. */
  readonly calculated?: readonly (string | undefined)[];
  /** The names of the columns, for a table that hides its header row: the first row of its area is data. */
  readonly columns?: readonly string[];
}

/** The rows of a table between its header and its totals; `rows` may be 0. */
export function dataArea({ area, totals, columns }: BookTable): Area {
  const above = columns ? 0 : 1;
  return { ...area, row: area.row + above, rows: Math.max(0, area.rows - above - (totals ? 1 : 0)) };
}

/** A drop-down list on a range of cells. */
export interface ListValidation {
  readonly areas: readonly Area[];
  /** Either the choices themselves or a formula that names a range. */
  readonly choices?: readonly string[];
  readonly formula?: string;
}

/** A picture over the cells of a sheet. */
export interface BookPicture {
  /** A PNG file in base64. */
  readonly png: string;
  /** Cell whose top left corner it stands at. */
  readonly row: number;
  readonly column: number;
  /** In points. */
  readonly width: number;
  readonly height: number;
  /** What it shows, for those who do not see it. */
  readonly label: string;
}

/** A native chart of a column of values against another, on the sheet that holds both. */
export interface BookChart {
  readonly title: string;
  readonly kind: "scatter" | "column";
  readonly xTitle: string;
  readonly yTitle: string;
  readonly x: Area;
  readonly y: Area;
}

export interface BookSheet {
  readonly name: string;
  readonly hidden?: boolean;
  /** rows[r][c]; rows and cells may be missing (undefined) where the sheet is empty. */
  readonly rows: readonly (readonly (BookCell | undefined)[] | undefined)[];
  readonly hiddenRows: readonly number[];
  readonly merged: readonly Area[];
  readonly tables: readonly BookTable[];
  readonly validations: readonly ListValidation[];
  /** Widths in characters of the default font, by column; missing where default. */
  readonly columnWidths: readonly (number | undefined)[];
  readonly frozenRows?: number;
  readonly frozenColumns?: number;
  /** Pictures of a sheet that is in no file yet; those of a file stay in its package and are not known here. */
  readonly pictures?: readonly BookPicture[];
  /** Charts of a sheet that is in no file yet, beside its cells; those of a file stay in its package. */
  readonly charts?: readonly BookChart[];
}

/** A sheet of cells, with nothing else on it yet. */
export function sheetOfRows(name: string, rows: BookSheet["rows"]): BookSheet {
  return { name, rows, hiddenRows: [], merged: [], tables: [], validations: [], columnWidths: [] };
}

/** A formula that kept its stored value. */
export interface KeptCell {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  /** As the end of "kept as stored: …". */
  readonly why: string;
}

export interface Book {
  readonly sheets: readonly BookSheet[];
  readonly styles: readonly CellStyle[];
  /**
   * Names of ranges in the workbook: name → reference text such as `Conditions!$A$2:$A$4`; with a sheet, it holds there
   * only.
   */
  readonly names: readonly { readonly name: string; readonly reference: string; readonly sheet?: string }[];
  /** True when the file counts days from 1904; values here count from 1900 all the same. */
  readonly datesFrom1904?: true;
  /** Formulas whose value is the one that was stored, because it is not computed here. */
  readonly kept?: readonly KeptCell[];
  /** What a new file says that it is; a file that is there keeps what it says. */
  readonly title?: string;
  /** Bendbook's own settings kept with the workbook (JSON text), if any. */
  readonly settings?: string;
}
