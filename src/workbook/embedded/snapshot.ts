/**
 * A Book as the workbook data that Univer opens, and back.
 *
 * Every Book style becomes a Univer style with the id "book-<index>"; each cell also carries the index in `custom`,
 * which moves with the cell. A cell whose look is still that of its Book style gets the same index back, so that a
 * saved copy keeps whatever Book cannot say (borders, fonts). Formulas that Univer reads wrongly are rewritten; the
 * cell's `custom` keeps what the user wrote, and it comes back as long as it still means the cell's formula.
 */
import type {
  ICellData,
  IObjectMatrixPrimitiveType,
  IRange,
  IStyleData,
  IWorkbookData,
  IWorksheetData,
  LocaleType,
  Nullable,
} from "@univerjs/core";
import {
  isCellError,
  type Area,
  type Book,
  type BookCell,
  type BookChart,
  BookPicture,
  type BookSheet,
  type BookTable,
  type CellStyle,
  type CellValue,
  type KeptCell,
} from "../book";
import { there } from "../../there";
import { meets } from "../area";
import { isErrorCode } from "./formula/errorCodes";
import { readable, withoutAliases } from "./formula/readable";
import type { Places } from "./places";
import { last } from "../turns";
import { aliasOn, scopedNames, type ScopedName } from "./formula/scopedNames";
import type { FormulaCell, Table } from "./formula/tableReference";

/** What a cell carries besides what Univer knows. */
export interface Carried {
  /** Book style. */
  readonly style?: number;
  /** A formula that was there when the workbook was opened: its look is the user's, not the calculation's. */
  readonly opened?: true;
  /** What the file keeps beside the formula. */
  readonly stored?: Stored;
  /** An array formula of the old kind. */
  readonly array?: true;
  /** A cell with a text without characters, which Univer takes for a blank. */
  readonly empty?: true;
  /** Why the formula is not computed: its cell then holds what is stored. */
  readonly kept?: string;
  /** The formula that is not computed, as Univer holds it. */
  readonly keptFormula?: string;
  /** The formula as the user wrote it, where it had to be rewritten. */
  readonly wrote?: string;
}

/** The value of a formula in the file; of one that fills several cells, theirs row by row. */
export interface Stored {
  readonly value: CellValue;
  readonly rows?: readonly (readonly CellValue[])[];
}

type StyleOf = (index: number) => { readonly s: ICellData["s"]; readonly custom?: Carried };

const TEXT = 1;
const NUMBER = 2;
const BOOLEAN = 3;
const LEAST_ROWS = 200;
const LEAST_COLUMNS = 26;
const PIXELS_PER_CHARACTER = 7;
const COLUMN_PADDING = 5;
const DEFAULT_COLUMN_WIDTH = 72;
const ALIGN = { left: 1, center: 2, right: 3 } as const;
const WRAP = 3;
/** Few enough that a page stays quick in between. */
const ROWS_A_STEP = 20;

/** Univer's id of the sheet with this place in the Book. */
export function sheetId(index: number): string {
  return `sheet-${index + 1}`;
}

/** Workbook data for Univer. Cells that a spill fills are left empty, so that its first cell can fill them. */
export function toSnapshot(book: Book, locale: LocaleType): IWorkbookData {
  return last(toSnapshotInSteps(book, locale));
}

/** The same in steps, a row each. */
export function* toSnapshotInSteps(book: Book, locale: LocaleType): Generator<void, IWorkbookData> {
  const sheets: Record<string, Partial<IWorksheetData>> = {};
  const tables = tablesOf(book);
  const scoped = scopedNames(book.names);
  const styleOf: StyleOf = (index) => ({ s: styleId(index), custom: { style: index } });
  for (const [i, sheet] of book.sheets.entries())
    sheets[sheetId(i)] = yield* toWorksheetInSteps(sheet, sheetId(i), { tables, scoped }, styleOf);
  const names: Record<string, { id: string; name: string; formulaOrRefString: string }> = {};
  book.names.forEach(({ name, reference, sheet }, i) => {
    const known = aliasOn(sheet, name, scoped) ?? name;
    names[`name-${i}`] = {
      id: `name-${i}`,
      name: known,
      formulaOrRefString: readable(
        reference.replace(/^=/, ""),
        tables,
        sheet === undefined ? undefined : { sheet, row: 0, column: 0 },
        scoped,
      ),
    };
  });
  return {
    id: "",
    name: "",
    appVersion: "0.25.1",
    locale,
    styles: Object.fromEntries(book.styles.map((style, i) => [styleId(i), toUniverStyle(style)])),
    sheetOrder: book.sheets.map((_, i) => sheetId(i)),
    sheets,
    resources: [{ name: "SHEET_DEFINED_NAME_PLUGIN", data: JSON.stringify(names) }],
  };
}

/** What formulas on opening may name. */
interface Known {
  readonly tables: readonly Table[];
  readonly scoped: readonly ScopedName[];
}

/** The tables of a Book with their headers. */
export function tablesOf(book: Book): Table[] {
  return book.sheets.flatMap((sheet) =>
    sheet.tables.map((table) =>
      withHeaders(table, sheet.name, (row, column) => sheet.rows[row]?.[column]?.value ?? null),
    ),
  );
}

/**
 * One sheet as Univer holds it.
 * @param id Univer's id for it; Univer finds one when it is undefined
 * @param styleOf how a cell refers to its look
 */
export function toWorksheet(...sheet: Parameters<typeof toWorksheetInSteps>): Partial<IWorksheetData> {
  return last(toWorksheetInSteps(...sheet));
}

function* toWorksheetInSteps(
  sheet: BookSheet,
  id: string | undefined,
  known: Known,
  styleOf: StyleOf,
): Generator<void, Partial<IWorksheetData>> {
  const cellData: IObjectMatrixPrimitiveType<ICellData> = {};
  let rows = LEAST_ROWS;
  let columns = LEAST_COLUMNS;
  for (let r = 0; r < sheet.rows.length; r++) {
    const cells: Record<number, ICellData> = {};
    let any = false;
    sheet.rows[r]?.forEach((cell, c) => {
      const data = cell && toCell(cell, known, { sheet: sheet.name, row: r, column: c }, styleOf, sheet.rows);
      if (!data) return;
      cells[c] = data;
      any = true;
      columns = Math.max(columns, c + 6);
    });
    yield;
    if (!any) continue;
    cellData[r] = cells;
    rows = Math.max(rows, r + 101);
  }
  for (const { area } of sheet.tables) rows = Math.max(rows, area.row + area.rows + 100);
  const columnData: Record<number, { w: number }> = {};
  sheet.columnWidths.forEach((width, c) => {
    if (width !== undefined) columnData[c] = { w: Math.round(width * PIXELS_PER_CHARACTER + COLUMN_PADDING) };
  });
  return {
    ...(id === undefined ? {} : { id }),
    name: sheet.name,
    hidden: sheet.hidden ? 1 : 0,
    cellData,
    rowCount: rows,
    columnCount: columns,
    defaultColumnWidth: DEFAULT_COLUMN_WIDTH,
    mergeData: sheet.merged.map(toRange),
    rowData: Object.fromEntries(sheet.hiddenRows.map((row) => [row, { hd: 1 }])),
    columnData,
    freeze: {
      ySplit: sheet.frozenRows ?? 0,
      xSplit: sheet.frozenColumns ?? 0,
      startRow: sheet.frozenRows ? sheet.frozenRows : -1,
      startColumn: sheet.frozenColumns ? sheet.frozenColumns : -1,
    },
  };
}

/** Univer's range, both ends included. */
function toRange(area: Area): IRange {
  return {
    startRow: area.row,
    startColumn: area.column,
    endRow: area.row + area.rows - 1,
    endColumn: area.column + area.columns - 1,
  };
}

/** What a value looks like inside a Univer cell; text stays text whatever it looks like. */
export function valueData(value: CellValue): Pick<ICellData, "v" | "t"> {
  if (value === null || value === "") return {};
  if (isCellError(value)) return { v: value.error, t: TEXT };
  if (typeof value === "number") return { v: value, t: NUMBER };
  if (typeof value === "boolean") return { v: value ? 1 : 0, t: BOOLEAN };
  return { v: value, t: TEXT };
}

function toCell(
  cell: BookCell,
  { tables, scoped }: Known,
  place: FormulaCell,
  styleOf: StyleOf,
  rows: BookSheet["rows"],
): ICellData | undefined {
  const data: ICellData = cell.spilled ? {} : valueData(cell.value);
  const carried: { -readonly [K in keyof Carried]: Carried[K] } = {};
  if (cell.formula !== undefined && !cell.spilled) {
    const rewritten = readable(cell.formula, tables, place, scoped);
    data.f = `=${rewritten}`;
    carried.opened = true;
    carried.stored = storedOf(cell, rows);
    if (cell.array) carried.array = true;
    if (rewritten !== cell.formula) carried.wrote = cell.formula;
  }
  if (cell.formula === undefined && cell.value === "") {
    Object.assign(data, { v: "", t: TEXT });
    carried.empty = true;
  }
  if (cell.style !== undefined) {
    const look = styleOf(cell.style);
    data.s = look.s;
    Object.assign(carried, look.custom);
  }
  if (Object.keys(carried).length > 0) data.custom = carried;
  return Object.keys(data).length > 0 ? data : undefined;
}

function storedOf({ value, spill }: BookCell, rows: BookSheet["rows"]): Stored {
  if (!spill) return { value };
  const line = (r: number) =>
    Array.from({ length: spill.columns }, (_, c) => rows[spill.row + r]?.[spill.column + c]?.value ?? null);
  return { value, rows: Array.from({ length: spill.rows }, (_, r) => line(r)) };
}

function styleId(index: number): string {
  return `book-${index}`;
}

/** A look as Univer writes it. */
export function toUniverStyle(style: CellStyle): IStyleData {
  return {
    ...(style.format && style.format !== "General" ? { n: { pattern: style.format } } : {}),
    ...(style.bold ? { bl: 1 } : {}),
    ...(style.italic ? { it: 1 } : {}),
    ...(style.fontSize ? { fs: style.fontSize } : {}),
    ...(style.color ? { cl: { rgb: style.color } } : {}),
    ...(style.fill ? { bg: { rgb: style.fill } } : {}),
    ...(style.horizontal ? { ht: ALIGN[style.horizontal] } : {}),
    ...(style.wrap ? { tb: WRAP } : {}),
  };
}

function fromUniverStyle(style: IStyleData): CellStyle {
  const horizontal = (Object.keys(ALIGN) as (keyof typeof ALIGN)[]).find((name) => ALIGN[name] === style.ht);
  return {
    ...(style.n?.pattern && style.n.pattern !== "General" ? { format: style.n.pattern } : {}),
    ...(style.bl ? { bold: true } : {}),
    ...(style.it ? { italic: true } : {}),
    ...(style.fs ? { fontSize: style.fs } : {}),
    ...(style.cl?.rgb ? { color: style.cl.rgb } : {}),
    ...(style.bg?.rgb ? { fill: style.bg.rgb } : {}),
    ...(horizontal ? { horizontal } : {}),
    ...(style.tb === WRAP ? { wrap: true } : {}),
  };
}

/** What a running workbook holds besides its snapshot. Sheets go by Univer's ids. */
export interface Running {
  readonly snapshot: IWorkbookData;
  /** Cells that spills fill, and the ranges they fill, by sheet. */
  readonly spilledCells: (sheet: string) => IObjectMatrixPrimitiveType<Nullable<ICellData>> | undefined;
  readonly spillRanges: (sheet: string) => IObjectMatrixPrimitiveType<Nullable<IRange>> | undefined;
  readonly places: (sheet: string) => Places;
  readonly tables: readonly Table[];
  readonly scoped: readonly ScopedName[];
  /** Pictures that stand on a sheet which is in no file yet. */
  readonly pictures: (sheet: string) => readonly BookPicture[];
  /** Charts of such a sheet. */
  readonly charts: (sheet: string) => readonly BookChart[];
  readonly messageAt: (sheet: string, row: number, column: number, code: string) => string | undefined;
}

/** What is wanted of a workbook. */
interface Only {
  /** Univer's id of the sheet; the others are left out. */
  readonly sheet: string;
  /** Its cells; others may be left out. All when missing. */
  readonly area?: Area;
}

/**
 * The running workbook as a Book: values, computed ones included, formulas, spills, looks and places.
 * @param original what the workbook was opened from; it lends what Univer does not hold
 */
export function toBook(running: Running, original: Book, only?: Only): Book {
  return last(toBookInSteps(running, original, only));
}

/** The same in steps of some rows each, for a page that has something else to do in between. */
export function* toBookInSteps(running: Running, original: Book, only?: Only): Generator<void, Book> {
  const styles: CellStyle[] = [...original.styles];
  const looks = new StyleIndex(styles, running.snapshot.styles);
  const order = running.snapshot.sheetOrder.filter((id) => only === undefined || id === only.sheet);
  const kept: KeptCell[] = [];
  const sheets: BookSheet[] = [];
  for (const id of order) sheets.push(yield* toSheet(running, id, original, looks, kept, only?.area));
  return {
    sheets,
    styles,
    names: namesOf(running, original),
    ...(original.datesFrom1904 ? { datesFrom1904: true } : {}),
    ...(kept.length > 0 ? { kept } : {}),
    ...(original.title === undefined ? {} : { title: original.title }),
    ...(original.settings === undefined ? {} : { settings: original.settings }),
  };
}

function* toSheet(
  running: Running,
  id: string,
  original: Book,
  looks: StyleIndex,
  kept: KeptCell[],
  area?: Area,
): Generator<void, BookSheet> {
  const data = there(running.snapshot.sheets[id], `the sheet ${id}`);
  const name = data.name ?? id;
  const known = knownSheet(original, id);
  const ranges = running.spillRanges(id);
  const wanted = area && spillsInto(ranges, area) ? undefined : area;
  const matrix = (wanted ? rowsIn(data.cellData, wanted) : data.cellData) ?? {};
  const rows: (BookCell | undefined)[][] = [];
  let count = 0;
  for (const r in matrix) {
    const row = Number(r);
    const line: (BookCell | undefined)[] = [];
    for (const c in matrix[row]) {
      const cell = matrix[row]?.[Number(c)];
      const made = cell && toBookCell(running, { id, name, row, column: Number(c) }, cell, looks, kept);
      if (made) line[Number(c)] = made;
    }
    if (line.length > 0) rows[row] = line;
    if (++count % ROWS_A_STEP === 0) yield;
  }
  putSpills(running, id, rows);

  const pictures = running.pictures(id);
  const charts = running.charts(id);
  const rowData = (data.rowData ?? {}) as Record<number, { hd?: number } | undefined>;
  return {
    name,
    ...(data.hidden ? { hidden: true } : {}),
    rows,
    hiddenRows: Object.keys(rowData)
      .map(Number)
      .filter((row) => rowData[row]?.hd === 1)
      .sort((a, b) => a - b),
    merged: (data.mergeData ?? []).map(fromRange),
    tables: running.places(id).tables,
    validations: running.places(id).validations,
    columnWidths: columnWidths(data, known),
    ...(pictures.length > 0 ? { pictures } : {}),
    ...(charts.length > 0 ? { charts } : {}),
    ...(data.freeze && data.freeze.ySplit > 0 ? { frozenRows: data.freeze.ySplit } : {}),
    ...(data.freeze && data.freeze.xSplit > 0 ? { frozenColumns: data.freeze.xSplit } : {}),
  };
}

/** A cell as the Book holds it; undefined when it holds nothing. Formulas that keep their stored value are listed. */
function toBookCell(
  running: Running,
  {
    id,
    name,
    row,
    column,
  }: { readonly id: string; readonly name: string; readonly row: number; readonly column: number },
  cell: ICellData,
  looks: StyleIndex,
  kept: KeptCell[],
): BookCell | undefined {
  const carried = (cell.custom ?? {}) as Carried;
  const style = looks.indexOf(cell, carried.style);
  let value = valueOf(cell);
  if (isCellError(value)) value = withMessage(running, id, row, column, value);
  const formula = typeof cell.f === "string" && cell.f.startsWith("=") ? cell.f.slice(1) : undefined;
  if (formula !== undefined && carried.kept !== undefined) {
    kept.push({ sheet: name, row, column, why: carried.kept });
    value = carried.stored?.value ?? null;
  } else if (formula !== undefined && carried.stored) value = asStored(emptyText(cell, value), carried.stored.value);
  else if (formula !== undefined || carried.empty) value = emptyText(cell, value);
  if (value === null && formula === undefined && style === undefined) return undefined;
  return {
    value,
    ...(formula === undefined ? {} : { formula: asWritten(formula, carried, running, { sheet: name, row, column }) }),
    ...(formula !== undefined && carried.array ? { array: true } : {}),
    ...(style === undefined ? {} : { style }),
  };
}

/** Puts what formulas fill besides their own cells into the rows. */
function putSpills(running: Running, id: string, rows: (BookCell | undefined)[][]): void {
  const cells = running.snapshot.sheets[id]?.cellData;
  const spilled = running.spilledCells(id);
  const put = (r: number, c: number, cell: BookCell) => ((rows[r] ??= [])[c] = cell);
  eachCell(running.spillRanges(id), (r, c, range) => {
    const anchor = rows[r]?.[c];
    if (anchor?.formula === undefined || (isCellError(anchor.value) && anchor.value.error === "#SPILL!")) return;
    const filled = fromRange(range);
    const stored = (cells?.[r]?.[c]?.custom as Carried | undefined)?.stored?.rows;
    put(r, c, { ...anchor, spill: filled });
    for (let down = 0; down < filled.rows; down++) {
      for (let right = 0; right < filled.columns; right++) {
        if (down === 0 && right === 0) continue;
        const cell = spilled?.[r + down]?.[c + right];
        let value = cell ? valueOf(cell) : null;
        if (isCellError(value)) value = withMessage(running, id, r + down, c + right, value);
        value = asStored(value, stored?.[down]?.[right] ?? value);
        put(r + down, c + right, { ...rows[r + down]?.[c + right], value, spilled: true });
      }
    }
  });
}

/** The rows of cells that an area lies in. */
function rowsIn<T>(
  matrix: IObjectMatrixPrimitiveType<T> | undefined,
  { row, rows }: Area,
): IObjectMatrixPrimitiveType<T> {
  const found: IObjectMatrixPrimitiveType<T> = {};
  for (let r = row; r < row + rows; r++) {
    const line = matrix?.[r];
    if (line) found[r] = line;
  }
  return found;
}

/** Whether a formula fills cells of the area from elsewhere, so that its cell is needed, too. */
function spillsInto(ranges: IObjectMatrixPrimitiveType<Nullable<IRange>> | undefined, area: Area): boolean {
  let found = false;
  eachCell(ranges, (_row, _column, range) => {
    found ||= meets(fromRange(range), area);
  });
  return found;
}

/** What the user wrote, if that still means what the cell computes. */
function asWritten(formula: string, carried: Carried, { tables, scoped }: Running, place: FormulaCell): string {
  if (carried.wrote !== undefined && readable(carried.wrote, tables, place, scoped) === formula) return carried.wrote;
  return withoutAliases(formula, scoped, place);
}

/** A text without characters, where a formula gives it or the file had it; elsewhere Univer writes it for a blank. */
function emptyText(cell: ICellData, value: CellValue): CellValue {
  return value === null && cell.v === "" ? "" : value;
}

/** The stored value itself where the computed one is no other: a last digit or an empty text is no news. */
function asStored(computed: CellValue, stored: CellValue): CellValue {
  return alikeValues(computed, stored) && !isCellError(stored) ? stored : computed;
}

/** Alike to 12 digits: programs store 15 to 17, and sums may be taken in another order. */
export function alikeValues(a: CellValue, b: CellValue): boolean {
  if (typeof a === "number" && typeof b === "number")
    return Math.abs(a - b) <= 1e-12 * Math.max(Math.abs(a), Math.abs(b));
  if (isCellError(a) && isCellError(b)) return a.error === b.error;
  return a === b || ((a === null || a === "") && (b === null || b === ""));
}

/** The Book's sheet that Univer's sheet was opened from; undefined when it was added since. */
export function knownSheet(original: Book, id: string): BookSheet | undefined {
  return original.sheets.find((_, i) => sheetId(i) === id);
}

/**
 * The table with its headers as structured references name them: one that is blank is named by its place, and one that
 * another column has already gets a number, as in Excel.
 * @param before the headers until now: a column that kept its own goes by it
 */
export function withHeaders(
  table: BookTable,
  sheet: string,
  valueAt: (row: number, column: number) => CellValue,
  before: readonly string[] = [],
): Table {
  if (table.columns) return { ...table, sheet, headers: table.columns };
  const said = Array.from({ length: table.area.columns }, (_, i) => {
    const value = valueAt(table.area.row, table.area.column + i);
    return value === null || value === "" || isCellError(value) ? `Column${i + 1}` : String(value);
  });
  const taken = new Set(said.filter((header, i) => header === before[i]).map((header) => header.toLowerCase()));
  const headers = said.map((wanted, i) => {
    if (wanted === before[i]) return wanted;
    let header = wanted;
    for (let n = 2; taken.has(header.toLowerCase()); n++) header = `${wanted}${n}`;
    taken.add(header.toLowerCase());
    return header;
  });
  return { ...table, sheet, headers };
}

function withMessage(
  running: Running,
  id: string,
  row: number,
  column: number,
  value: Exclude<CellValue, null | number | string | boolean>,
): CellValue {
  const message = running.messageAt(id, row, column, value.error);
  return message === undefined ? value : { ...value, message };
}

/** The value in a Univer cell: rich text as plain text, an error code as a CellError, blank as null. */
export function valueOf(cell: ICellData): CellValue {
  const text = cell.p?.body?.dataStream;
  const value = text === undefined ? cell.v : text.replace(/\r\n$/, "").replace(/\r/g, "\n");
  if (value === null || value === undefined || value === "") return null;
  if (cell.t === BOOLEAN) return value === 1 || value === true || value === "1" || value === "TRUE";
  if (typeof value === "string" && isErrorCode(value)) return { error: value };
  if (cell.t === NUMBER && typeof value === "string" && value.trim() !== "" && Number.isFinite(Number(value)))
    return Number(value);
  return value;
}

/** The area of a Univer range. */
export function fromRange(range: IRange): Area {
  return {
    row: range.startRow,
    column: range.startColumn,
    rows: range.endRow - range.startRow + 1,
    columns: range.endColumn - range.startColumn + 1,
  };
}

function columnWidths(data: Partial<IWorksheetData>, known: BookSheet | undefined): (number | undefined)[] {
  const widths: (number | undefined)[] = [];
  const columns = (data.columnData ?? {}) as Record<number, { w?: number } | undefined>;
  for (const key of Object.keys(columns)) {
    const column = Number(key);
    const pixels = columns[column]?.w;
    if (pixels === undefined) continue;
    const before = known?.columnWidths[column];
    const same = before !== undefined && Math.round(before * PIXELS_PER_CHARACTER + COLUMN_PADDING) === pixels;
    widths[column] = same ? before : (pixels - COLUMN_PADDING) / PIXELS_PER_CHARACTER;
  }
  return widths;
}

function namesOf({ snapshot, scoped }: Running, original: Book): Book["names"] {
  const resource = snapshot.resources?.find(({ name }) => name === "SHEET_DEFINED_NAME_PLUGIN");
  if (!resource) return original.names;
  const stored = JSON.parse(resource.data || "{}") as Record<string, { name: string; formulaOrRefString: string }>;
  return Object.values(stored).flatMap(({ name: running, formulaOrRefString }) => {
    const own = scoped.find(({ alias }) => alias === running);
    const sheet = own?.sheet;
    // A name of a sheet that was taken out.
    if (own && sheet === "") return [];
    const name = own?.name ?? running;
    const reference = withoutAliases(formulaOrRefString.replace(/^=/, ""), scoped, {
      sheet: sheet ?? "",
      row: 0,
      column: 0,
    });
    const before = original.names.find(
      (one) => one.name === name && one.sheet === sheet && one.reference.replace(/^=/, "") === reference,
    );
    return [before ?? { name, reference, ...(sheet === undefined ? {} : { sheet }) }];
  });
}

function eachCell<T>(
  matrix: IObjectMatrixPrimitiveType<Nullable<T>> | undefined,
  visit: (row: number, column: number, cell: T) => void,
): void {
  if (!matrix) return;
  for (const r in matrix) {
    const line = matrix[Number(r)];
    if (!line) continue;
    for (const c in line) {
      const cell = line[Number(c)];
      if (cell !== null && cell !== undefined) visit(Number(r), Number(c), cell);
    }
  }
}

/** Finds the Book style of a Univer cell, appending looks that no Book style has. */
class StyleIndex {
  private readonly byLook = new Map<string, number>();
  private readonly byId = new Map<string, CellStyle>();

  constructor(
    private readonly styles: CellStyle[],
    private readonly univerStyles: IWorkbookData["styles"],
  ) {
    styles.forEach((style, i) => {
      const look = lookOf(style);
      if (!this.byLook.has(look)) this.byLook.set(look, i);
    });
  }

  indexOf(cell: ICellData, carried: number | undefined): number | undefined {
    if (carried !== undefined && cell.s === styleId(carried)) return carried;
    const style = this.styleOf(cell.s);
    if (!style) return carried !== undefined && lookOf(this.styles[carried] ?? {}) === lookOf({}) ? carried : undefined;
    const look = lookOf(style);
    if (carried !== undefined && this.styles[carried] && lookOf(this.styles[carried]) === look) return carried;
    const found = this.byLook.get(look);
    if (found !== undefined) return found;
    if (look === lookOf({})) return undefined;
    const index = this.styles.push(style) - 1;
    this.byLook.set(look, index);
    return index;
  }

  private styleOf(style: ICellData["s"]): CellStyle | undefined {
    if (!style) return undefined;
    if (typeof style !== "string") return fromUniverStyle(style);
    let known = this.byId.get(style);
    if (!known) {
      const data = this.univerStyles[style];
      if (!data) return undefined;
      this.byId.set(style, (known = fromUniverStyle(data)));
    }
    return known;
  }
}

function lookOf(style: CellStyle): string {
  return JSON.stringify([
    style.format && style.format !== "General" ? style.format : "",
    style.bold === true,
    style.italic === true,
    style.fontSize ?? 0,
    style.color?.toLowerCase() ?? "",
    style.fill?.toLowerCase() ?? "",
    style.horizontal ?? "",
    style.wrap === true,
  ]);
}
