/**
 * What the panel and the command line need of a workbook, whoever holds it: Excel, the embedded grid or a file. Rows
 * and columns count from 0; a blank is null, never 0 and never "".
 */
import type { Area, BookChart, BookTable, CellValue } from "./book";

/** Every cell of a sheet's used range, read in one round trip. */
export interface SheetData {
  readonly sheet: string;
  /** Sheet row and column of values[0][0]. */
  readonly firstRow: number;
  readonly firstColumn: number;
  /** Rectangular; empty array when the sheet is empty. */
  readonly values: readonly (readonly CellValue[])[];
  /** Number format codes, same shape; they tell dates and percentages from plain numbers. */
  readonly formats: readonly (readonly string[])[];
  /** Sheet rows that are hidden or filtered out; they are still in `values`. */
  readonly hiddenRows: readonly number[];
  readonly merged: readonly Area[];
  readonly tables: readonly BookTable[];
}

export interface SheetSummary {
  readonly name: string;
  readonly hidden: boolean;
}

/** Some cells of a sheet as they are now, and what stands around them. */
export interface SheetPart {
  /** Same shape as the area that was asked for. */
  readonly values: readonly (readonly CellValue[])[];
  readonly formats: readonly (readonly string[])[];
  /** Those of the area's rows that are hidden. */
  readonly hiddenRows: readonly number[];
  /** Those that reach into the area. */
  readonly merged: readonly Area[];
  /** All tables of the sheet. */
  readonly tables: readonly BookTable[];
}

/** What changed. */
export interface SheetChange {
  readonly sheet: string;
  /** All changed cells lie in it; missing when anything on the sheet may have changed. */
  readonly area?: Area;
}

/** One cell to write. `format` is a number format code. */
export interface NewCell {
  readonly value: number | string | boolean | null;
  /**
   * Formula without "=", for the panel's own cells only: never made from what a user typed. `value` is what it gives,
   * null when it is not known.
   */
  readonly formula?: string;
  readonly format?: string;
  readonly bold?: boolean;
  readonly wrap?: boolean;
}

export interface NewSheet {
  /** Wanted name; the port adds " 2", " 3" … when it is taken, and mends characters a sheet name may not have. */
  readonly name: string;
  readonly rows: readonly (readonly NewCell[])[];
  /** In characters. */
  readonly columnWidths?: readonly number[];
  /** Rows at the top that name the columns: they stay in sight and stand on every printed page. */
  readonly headingRows?: number;
  /** Native charts beside the cells. The embedded grid does not draw them; a saved copy has them. */
  readonly charts?: readonly BookChart[];
}

/** One row for a sheet that gathers rows under the same headings. */
export interface NewRow {
  /** Wanted name of the sheet, mended like that of a NewSheet. */
  readonly sheet: string;
  readonly headings: readonly string[];
  /** As many as headings. */
  readonly cells: readonly NewCell[];
  /** In characters, for a sheet that is made. */
  readonly columnWidths?: readonly number[];
}

/** Where a row went. */
export interface AddedRow {
  readonly sheet: string;
  /** Sheet row, from 0. */
  readonly row: number;
  /** Whether the sheet was made for it. */
  readonly made: boolean;
}

/** Cells for a row of a sheet that is there, each in a column of its own. */
export interface RowCells {
  readonly sheet: string;
  /** Sheet row, from 0. */
  readonly row: number;
  readonly cells: readonly PlacedCell[];
}

export interface PlacedCell extends NewCell {
  /** Sheet column, from 0. */
  readonly column: number;
  /** Left out where the sheet's cell holds something, a formula that shows nothing among it. */
  readonly optional?: boolean;
}

/** The columns that were written, or the one that held something already, and then nothing was. */
export type FilledRow = { readonly written: readonly number[] } | { readonly filled: number };

/** A picture for a sheet of its own. */
export interface NewPicture {
  /** Wanted name of the sheet, mended like that of a NewSheet. */
  readonly name: string;
  /** A PNG file in base64. */
  readonly png: string;
  /** Width in points; the height follows. */
  readonly width: number;
  /** What it shows, for those who do not see it. */
  readonly label: string;
}

export interface Port {
  readonly host: "excel" | "embedded" | "file";
  /** All sheets in order; hidden ones are said to be so. */
  sheets(): Promise<readonly SheetSummary[]>;
  /** Name of the sheet in front. */
  activeSheet(): Promise<string>;
  /** Reads a sheet's used range. Throws an Error that names the sheet when there is none of that name. */
  read(sheet: string): Promise<SheetData>;
  /** Reads the cells of an area, which lies inside what `read` gave. Throws as `read` does. */
  readArea(sheet: string, area: Area): Promise<SheetPart>;
  /**
   * Brings the sheet to the front and selects the cells. With `keyboard` what is typed next goes there too, where the
   * host can: Excel gives a pane no way to hand the keyboard back.
   */
  select(sheet: string, area: Area, keyboard?: boolean): Promise<void>;
  /** Adds a sheet after the others; never touches a cell that is there. Returns the name it got. */
  addSheet(content: NewSheet): Promise<string>;
  /**
   * Writes a row under everything on the visible sheet of the wanted name ("Shots", "Shots 2" …) whose first row begins
   * with exactly the headings; makes such a sheet where there is none, as when the user changed the headings. Never
   * touches a filled cell. The embedded grid can undo it; Excel offers no undo for what an add-in writes.
   */
  addRow(content: NewRow): Promise<AddedRow>;
  /**
   * Writes cells into a row of a log, when every cell that is not optional is empty; no other cell is touched. A row
   * right below a table becomes part of it with the formulas of its columns; below rows outside a table, a formula that
   * the three rows above agree in goes on where the host computes formulas. Throws an Error that names the sheet when
   * there is none of that name.
   */
  fillRow(content: RowCells): Promise<FilledRow>;
  /**
   * Writes cells into rows of a sheet whatever stands there: for a table of the panel's own, such as the set-up. A cell
   * whose value is null is emptied; cells that are not named keep what they have. Throws as `fillRow` does.
   */
  changeRows(sheet: string, rows: readonly Omit<RowCells, "sheet">[]): Promise<void>;
  /**
   * Takes a sheet out of the workbook. The panel asks for it only to take back what it wrote itself, see panel/undo.ts.
   */
  removeSheet(sheet: string): Promise<void>;
  /** Empties cells, values and formulas; their looks stay. */
  clearCells(sheet: string, area: Area): Promise<void>;
  /** Puts a picture on a new sheet and returns the sheet's name; missing where the host has no pictures. */
  addPicture?(picture: NewPicture): Promise<string>;
  /** The settings text kept with the workbook, or null. */
  loadSettings(): Promise<string | null>;
  saveSettings(text: string): Promise<void>;
  /**
   * Calls back after cells changed (by the user or by recalculation), with the sheet and where on it; returns how to
   * stop.
   */
  onChange(listener: (change: SheetChange) => void): () => void;
}
