/** The workbook behind the host as plain data, and what people do to it. */
import type { Area, Book, CellValue } from "../../src/workbook/book";
import { isCellError } from "../../src/workbook/book";
import { ExcelFailure } from "./failure";

export const LAST_ROW = 1048576;
export const LAST_COLUMN = 16384;

export interface HostCell {
  value: number | string | boolean;
  error?: boolean;
  formula?: string;
  /** Its formula was written since the workbook was opened. */
  fresh?: boolean;
  format: string;
  bold?: boolean;
  wrap?: boolean;
}

export interface HostTable {
  readonly id: string;
  readonly sheet: HostSheet;
  name: string;
  area: Area;
  totals?: true;
  /** Headings of a table whose header row is hidden. */
  columns?: readonly string[];
}

export interface HostPicture {
  readonly id: string;
  readonly png: string;
  width?: number;
  name?: string;
  altTextDescription?: string;
  lockAspectRatio?: boolean;
  left?: number;
  top?: number;
}

export interface HostChart {
  readonly id: string;
  readonly type: string;
  title?: string;
  legend?: boolean;
  xTitle?: string;
  yTitle?: string;
  series?: string;
  values?: string;
  xValues?: string;
  from?: string;
  to?: string;
}

export interface HostPart {
  readonly id: string;
  namespace: string;
  xml: string;
}

/** Something that the client may have asked to hear of. */
export type HostEvent =
  | { readonly kind: "changed"; readonly sheet: HostSheet; readonly area: Area; readonly source: "Local" | "Remote" }
  | { readonly kind: "calculated"; readonly sheet: HostSheet };

/** How a sheet goes onto paper. */
export interface HostPaper {
  orientation: "Portrait" | "Landscape";
  zoom: { scale?: number; horizontalFitToPages?: number; verticalFitToPages?: number };
  /** In points. */
  margins: Partial<Record<"left" | "right" | "top" | "bottom" | "header" | "footer", number>>;
  titleRows?: string;
  area?: string;
  readonly foot: { left: string; centre: string; right: string };
}

export class HostSheet {
  readonly cells = new Map<number, HostCell>();
  readonly hiddenRows = new Set<number>();
  readonly widths = new Map<number, number>();
  readonly charts: HostChart[] = [];
  readonly pictures: HostPicture[] = [];
  merged: Area[] = [];
  tables: HostTable[] = [];
  frozenRows = 0;
  readonly paper: HostPaper = {
    orientation: "Portrait",
    zoom: { scale: 100 },
    margins: {},
    foot: { left: "", centre: "", right: "" },
  };
  visibility: "Visible" | "Hidden" | "VeryHidden" = "Visible";
  /** Its cells are locked. */
  isProtected = false;
  constructor(
    readonly workbook: HostWorkbook,
    readonly id: string,
    public name: string,
  ) {}

  /** @throws ExcelFailure where its cells are locked */
  mayBeEdited(): void {
    if (this.isProtected) throw new ExcelFailure("AccessDenied", "You cannot perform the requested operation.");
  }

  cell(row: number, column: number): HostCell | undefined {
    return this.cells.get(row * LAST_COLUMN + column);
  }

  make(row: number, column: number): HostCell {
    const key = row * LAST_COLUMN + column;
    let cell = this.cells.get(key);
    if (!cell) this.cells.set(key, (cell = { value: "", format: "General" }));
    return cell;
  }

  /** The smallest rectangle around what is used within an area; valuesOnly leaves out cells that only have a look. */
  used(within: Area, valuesOnly: boolean): Area | null {
    let [top, left, bottom, right] = [Infinity, Infinity, -1, -1];
    for (const [key, cell] of this.cells) {
      if (valuesOnly && cell.value === "" && cell.formula === undefined) continue;
      const row = Math.floor(key / LAST_COLUMN);
      const column = key % LAST_COLUMN;
      const outside =
        row < within.row ||
        column < within.column ||
        row >= within.row + within.rows ||
        column >= within.column + within.columns;
      if (outside) continue;
      [top, left] = [Math.min(top, row), Math.min(left, column)];
      [bottom, right] = [Math.max(bottom, row), Math.max(right, column)];
    }
    return bottom < 0 ? null : { row: top, column: left, rows: bottom - top + 1, columns: right - left + 1 };
  }
}

export class HostWorkbook {
  sheets: HostSheet[] = [];
  /** Id of the sheet in front. */
  active = "";
  selected: { sheet: string; area: Area } | undefined;
  parts: HostPart[] = [];
  /** No sheet may be added, removed, moved or renamed. */
  isProtected = false;
  /** Whether the add-in is to start with this workbook: what Office.addin.setStartupBehavior last asked for. */
  startState: "Inactive" | "Background" | "Visible" = "Inactive";
  /** Events that the client asked for, by the name of the registering method. */
  readonly registered = new Set<string>();
  /** Tells the client, when it asked for such events. */
  tell: (event: HostEvent) => void = () => undefined;
  /** Computes a sheet after cells of it changed. */
  calculate: (sheet: HostSheet) => void = () => undefined;
  private made = 0;

  static of(book: Book): HostWorkbook {
    const workbook = new HostWorkbook();
    for (const from of book.sheets) {
      const sheet = workbook.addSheet(from.name);
      if (from.hidden) sheet.visibility = "Hidden";
      from.rows.forEach((row, r) =>
        row?.forEach((cell, c) => {
          if (!cell) return;
          const made = sheet.make(r, c);
          made.format = (cell.style === undefined ? undefined : book.styles[cell.style]?.format) ?? "General";
          put(made, cell.value);
          if (cell.formula !== undefined) made.formula = `=${cell.formula}`;
        }),
      );
      from.hiddenRows.forEach((row) => sheet.hiddenRows.add(row));
      sheet.merged = [...from.merged];
      for (const { name, area, totals, columns } of from.tables)
        workbook.addTable(sheet, name, area, { totals, columns });
    }
    workbook.active = workbook.sheets.find(({ visibility }) => visibility === "Visible")?.id ?? "";
    return workbook;
  }

  /** An id that nothing else in this workbook has. */
  newId(): string {
    return `{${(++this.made).toString().padStart(8, "0")}-0000-0000-0000-000000000000}`;
  }

  addSheet(name: string): HostSheet {
    const sheet = new HostSheet(this, this.newId(), name);
    this.sheets.push(sheet);
    return sheet;
  }

  addTable(sheet: HostSheet, name: string, area: Area, more: Pick<HostTable, "totals" | "columns"> = {}): HostTable {
    const table: HostTable = { id: this.newId(), sheet, name, area, ...more };
    sheet.tables.push(table);
    return table;
  }

  /** What a user does who types the value; a co-author's edit is the same with "Remote". */
  type(name: string, row: number, column: number, value: CellValue, source: "Local" | "Remote" = "Local"): void {
    const sheet = this.sheet(name);
    put(sheet.make(row, column), value);
    this.edited(sheet, { row, column, rows: 1, columns: 1 }, source);
  }

  /** Cells have changed: what follows from them is computed, and whoever listens is told. */
  edited(sheet: HostSheet, area: Area, source: "Local" | "Remote" = "Local"): void {
    this.tell({ kind: "changed", sheet, area, source });
    this.calculate(sheet);
  }

  /** By name in any case, or by id. */
  find(nameOrId: unknown): HostSheet | undefined {
    const wanted = String(nameOrId).toLowerCase();
    return this.sheets.find(({ name, id }) => name.toLowerCase() === wanted || id.toLowerCase() === wanted);
  }

  /** @throws ExcelFailure ItemNotFound */
  sheet(nameOrId: unknown): HostSheet {
    const found = this.find(nameOrId);
    if (!found) throw new ExcelFailure("ItemNotFound", "The requested resource doesn't exist.");
    return found;
  }
}

/** Puts a value into a cell as it is, nothing made of it. */
function put(cell: HostCell, value: CellValue): void {
  delete cell.formula;
  delete cell.error;
  if (isCellError(value)) [cell.value, cell.error] = [value.error, true];
  else cell.value = value ?? "";
}
