/**
 * The port over a Book in memory, for the command line and for tests.
 */
import type { Area, Book, BookCell, BookSheet, BookTable, CellStyle, CellValue } from "../book";
import { emptyAndFill } from "../emptyAndFill";
import type {
  AddedRow,
  FilledRow,
  NewRow,
  NewSheet,
  PlacedCell,
  Port,
  RowCells,
  SheetChange,
  SheetData,
  SheetPart,
  SheetSummary,
} from "../port";
import { firstRowSheet, placeOfRow } from "../rowPlace";
import { newBookCell, newBookSheet, sheetData, sheetPart } from "../sheetData";
import { freeSheetName } from "../sheetName";

/**
 * A workbook without a screen. The Book given is never changed; `book` is the state now.
 *
 * @example
 * const port = new FilePort(await openBook(bytes, "log.xlsx"));
 * const data = await port.read("Trials");
 */
export class FilePort implements Port {
  readonly host = "file";
  private current: Book;
  private front: string;
  private selected: { readonly sheet: string; readonly area: Area } | undefined;
  private readonly listeners = new Set<(change: SheetChange) => void>();

  constructor(book: Book) {
    this.current = book;
    this.front = (book.sheets.find((sheet) => !sheet.hidden) ?? book.sheets[0])?.name ?? "";
  }

  /** The workbook as it is now. */
  get book(): Book {
    return this.current;
  }

  /** What was selected last, if anything. */
  get selection(): { readonly sheet: string; readonly area: Area } | undefined {
    return this.selected;
  }

  async sheets(): Promise<readonly SheetSummary[]> {
    return this.current.sheets.map(({ name, hidden }) => ({ name, hidden: hidden === true }));
  }

  async activeSheet(): Promise<string> {
    return this.front;
  }

  async read(sheet: string): Promise<SheetData> {
    return sheetData(this.find(sheet), this.current.styles);
  }

  async readArea(sheet: string, area: Area): Promise<SheetPart> {
    return sheetPart(this.find(sheet), this.current.styles, area);
  }

  async select(sheet: string, area: Area): Promise<void> {
    this.find(sheet);
    this.front = sheet;
    this.selected = { sheet, area };
  }

  async addSheet(content: NewSheet): Promise<string> {
    const styles = [...this.current.styles];
    const name = freeSheetName(
      content.name,
      this.current.sheets.map((sheet) => sheet.name),
    );
    const sheet = newBookSheet(name, content, styles);
    this.current = { ...this.current, styles, sheets: [...this.current.sheets, sheet] };
    this.changed({ sheet: name });
    return name;
  }

  async addRow(content: NewRow): Promise<AddedRow> {
    const place = await placeOfRow(this, content);
    if (!place) return { sheet: await this.addSheet(firstRowSheet(content)), row: 1, made: true };
    const styles = [...this.current.styles];
    const cells = content.cells.map((cell) => newBookCell(cell, styles));
    this.current = { ...this.current, styles };
    const area = { row: place.row, column: 0, rows: 1, columns: cells.length };
    this.change(place.sheet, area, (before) => [...cells, ...before.slice(cells.length)]);
    return { ...place, made: false };
  }

  async fillRow({ sheet, row, cells }: RowCells): Promise<FilledRow> {
    const found = this.find(sheet);
    const isFilled = ({ column }: { readonly column: number }) => {
      const cell = found.rows[row]?.[column];
      return cell !== undefined && (cell.formula !== undefined || (cell.value ?? "") !== "");
    };
    const inTheWay = cells.find((cell) => !cell.optional && isFilled(cell));
    if (inTheWay) return { filled: inTheWay.column };
    const free = cells.filter((cell) => !isFilled(cell));
    if (free.length === 0) return { written: [] };
    const styles = [...this.current.styles];
    const columns = free.map(({ column }) => column);
    const first = Math.min(...columns);
    const area = { row, column: first, rows: 1, columns: Math.max(...columns) - first + 1 };
    const table = found.tables.find((one) => isRightBelow(one, area));
    const tables = found.tables.map((one) =>
      one === table ? { ...one, area: { ...one.area, rows: one.area.rows + 1 } } : one,
    );
    const line = filledLine(found.rows[row] ?? [], free, table, styles);
    this.current = { ...this.current, styles };
    this.change(sheet, area, () => line, tables);
    return { written: columns };
  }

  changeRows(sheet: string, rows: readonly Omit<RowCells, "sheet">[]): Promise<void> {
    return emptyAndFill(this, sheet, rows);
  }

  async removeSheet(sheet: string): Promise<void> {
    const found = this.find(sheet);
    const left = this.current.sheets.find((other) => other !== found && !other.hidden);
    if (!left) throw new Error(`The sheet "${sheet}" is the only one that shows: a workbook needs one.`);
    this.current = { ...this.current, sheets: this.current.sheets.filter((other) => other !== found) };
    if (this.front === sheet) this.front = left.name;
    this.changed({ sheet });
  }

  async clearCells(sheet: string, { row, column, rows, columns }: Area): Promise<void> {
    for (let r = row; r < row + rows; r++)
      for (let c = column; c < column + columns; c++) await this.setCell(sheet, r, c, null);
  }

  async loadSettings(): Promise<string | null> {
    return this.current.settings ?? null;
  }

  async saveSettings(text: string): Promise<void> {
    this.current = { ...this.current, settings: text };
  }

  onChange(listener: (change: SheetChange) => void): () => void {
    const own = (change: SheetChange) => listener(change);
    this.listeners.add(own);
    return () => this.listeners.delete(own);
  }

  /** Puts a plain value into a cell, as a person who types it would: a formula there is replaced, the look stays. */
  async setCell(sheet: string, row: number, column: number, value: CellValue): Promise<void> {
    this.change(sheet, { row, column, rows: 1, columns: 1 }, (before) => {
      const cells = [...before];
      const style = cells[column]?.style;
      cells[column] = style === undefined ? { value } : { value, style };
      return cells;
    });
  }

  /** Writes one row of a sheet. @param area the cells that change @param tables where they are now */
  private change(
    sheet: string,
    area: Area,
    cells: (before: readonly (BookCell | undefined)[]) => (BookCell | undefined)[],
    tables?: readonly BookTable[],
  ): void {
    const found = this.find(sheet);
    const rows = [...found.rows];
    rows[area.row] = cells(rows[area.row] ?? []);
    this.current = {
      ...this.current,
      sheets: this.current.sheets.map((other) =>
        other === found ? { ...found, rows, ...(tables && { tables }) } : other,
      ),
    };
    this.changed({ sheet, area });
  }

  private find(name: string): BookSheet {
    const sheet = this.current.sheets.find((candidate) => candidate.name === name);
    if (sheet) return sheet;
    const names = this.current.sheets.map((candidate) => `"${candidate.name}"`).join(", ");
    throw new Error(`There is no sheet "${name}" in this file; it has ${names || "no sheets"}.`);
  }

  private changed(change: SheetChange): void {
    for (const listener of [...this.listeners]) listener(change);
  }
}

/** Whether the cells lie in the row under a table that takes in what is put there. */
function isRightBelow({ area, totals }: BookTable, { row, column, columns }: Area): boolean {
  return (
    !totals && row === area.row + area.rows && column < area.column + area.columns && area.column < column + columns
  );
}

/** A row with cells put in; each keeps the look that was there. @param table whose formulas the row gets */
function filledLine(
  before: readonly (BookCell | undefined)[],
  cells: readonly PlacedCell[],
  table: BookTable | undefined,
  styles: CellStyle[],
): (BookCell | undefined)[] {
  const line = [...before];
  for (const cell of cells) {
    const style = before[cell.column]?.style;
    const made = newBookCell(cell, styles);
    line[cell.column] = made && made.style === undefined && style !== undefined ? { ...made, style } : made;
  }
  table?.calculated?.forEach((formula, index) => {
    const column = table.area.column + index;
    if (formula !== undefined && (line[column]?.value ?? null) === null)
      line[column] = { ...line[column], value: null, formula };
  });
  return line;
}
