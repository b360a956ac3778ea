/**
 * Tables, drop-down lists and the formulas that name them, kept right while somebody types and rows come and go: Univer
 * knows of no tables.
 */
import type { ICellData, Nullable, Workbook, Worksheet } from "@univerjs/core";
import type { FUniver } from "@univerjs/core/facade";
import { dataArea, type CellValue } from "../book";
import { SHIFTS, shiftOf, TYPED, type Moved, type Typed } from "./commands";
import { readable } from "./formula/readable";
import { isTableFormula, withNewHeaders } from "./formula/tableFormula";
import type { ScopedName } from "./formula/scopedNames";
import type { FormulaCell, Table } from "./formula/tableReference";
import { fillsBelow, fillsBetween, fillsOfTable, type Around } from "./newRows";
import { grown, shifted, type Places, type Shift } from "./places";
import { valueOf, withHeaders, type Carried } from "./snapshot";

const NO_PLACES: Places = { tables: [], validations: [], closed: new Set() };

/** What is asked of the workbook that is followed. */
export interface Followed {
  readonly id: string;
  readonly workbook: Workbook;
  readonly api: FUniver;
  valueAt(sheet: string, row: number, column: number): CellValue;
  /** The names of single sheets, by what the sheets are called now. */
  scoped(): readonly ScopedName[];
  setCell(sheet: string, row: number, column: number, value: CellValue, formula?: string): void;
  /** A formula with "=" as it reads that many rows further down. */
  moved(formula: string, rows: number): string;
  ended(): boolean;
}

/** Rows that came to a sheet. */
interface NewRows {
  /** Those that tables gained, by table. */
  readonly added: ReadonlyMap<string, readonly number[]>;
  /** The row that somebody typed into. */
  readonly outside: number | undefined;
  /** Those that were put in between others. */
  readonly put: readonly number[];
}

/** The one row that something was typed into; undefined when there are several, or nothing but blanks. */
function typedRow({ cellValue = {} }: Typed): number | undefined {
  const [row, ...others] = Object.keys(cellValue).map(Number);
  if (row === undefined || others.length > 0) return undefined;
  const cells: Nullable<ICellData>[] = Object.values(cellValue[row] ?? {});
  return cells.some((cell) => cell && (cell.v ?? cell.f ?? cell.p)) ? row : undefined;
}

/** The data rows that each table gained: by growing downwards, or by rows put in between. */
function newRowsOf(before: Places, now: Places, shift: Shift | undefined): Map<string, readonly number[]> {
  const found = new Map<string, readonly number[]>();
  for (const table of now.tables) {
    const { row, rows } = dataArea(table);
    const old = before.tables.find(({ name }) => name === table.name);
    const grownBy = old ? table.area.rows - old.area.rows : 0;
    const put = shift?.axis === "row" && shift.count > 0 && shift.at >= row && shift.at < row + rows ? shift.count : 0;
    const first = put > 0 && shift ? shift.at : row + rows - grownBy;
    if (grownBy + put > 0)
      found.set(
        table.name,
        Array.from({ length: grownBy + put }, (_, i) => first + i),
      );
  }
  return found;
}

export class TableFollower {
  private current: readonly Table[] = [];
  private shifting = false;

  /** @param places where tables and lists are, by Univer's id of the sheet; changed here as they move */
  constructor(
    private readonly book: Followed,
    private readonly places: Map<string, Places>,
  ) {
    this.current = this.tablesNow();
  }

  /** All tables with their headers. */
  get tables(): readonly Table[] {
    return this.current;
  }

  placesOn(sheet: string): Places {
    return this.places.get(sheet) ?? NO_PLACES;
  }

  /**
   * Tables grow with rows typed below them, move with rows put in, and get other headers; formulas that name them
   * follow.
   */
  follow(command: string, moved: Moved): void {
    this.move(command, moved);
    const before = this.current;
    const now = this.tablesNow();
    this.current = now;
    // Rows put in or taken out: Univer moves the formulas' ranges next, and then they are written anew.
    if (SHIFTS[command] || JSON.stringify(now) === JSON.stringify(before)) return;
    const scoped = this.book.scoped();
    this.eachRewritten((cell, wrote, place) => {
      if (cell.f !== `=${readable(wrote, before, place, scoped)}`) return;
      const renamed = withNewHeaders(wrote, before, now, place);
      if (renamed !== wrote) (cell.custom as { wrote?: string }).wrote = renamed;
      const wanted = `=${readable(renamed, now, place, scoped)}`;
      if (cell.f !== wanted) this.putFormula(place, wanted);
    });
  }

  private move(command: string, moved: Moved): void {
    const { subUnitId: id = "" } = moved;
    const places = this.places.get(id);
    const matrix = this.book.workbook.getSheetBySheetId(id)?.getCellMatrix();
    if (!places || !matrix) return;
    const shift = shiftOf(command, moved);
    const moving = shift ? shifted(places, shift) : places;
    const isFilled = (row: number, column: number) => {
      const cell = matrix.getValue(row, column);
      return Boolean(cell && (cell.f || valueOf(cell) !== null));
    };
    const now = grown(moving, isFilled);
    this.places.set(id, now);
    this.expectNewRows(id, now, {
      added: newRowsOf(moving, now, shift),
      outside: command === TYPED ? typedRow(moved as Typed) : undefined,
      put: shift?.axis === "row" ? Array.from({ length: Math.max(0, shift.count) }, (_, k) => shift.at + k) : [],
    });
  }

  /** Rows that came to a log get its formulas and their numbers, once Univer has moved what it moves. */
  private expectNewRows(id: string, { tables }: Places, { added, outside, put }: NewRows): void {
    if (added.size === 0 && outside === undefined && put.length === 0) return;
    queueMicrotask(() => {
      const sheet = this.book.ended() ? undefined : this.book.workbook.getSheetBySheetId(id);
      if (!sheet) return;
      const around = this.aroundIn(sheet);
      const columns = sheet.getLastColumnWithContent() + 1;
      const inTable = (row: number) => tables.some(({ area }) => row >= area.row && row < area.row + area.rows);
      const fills = [
        ...(this.places.get(id)?.tables ?? []).flatMap((table) =>
          fillsOfTable(table, added.get(table.name) ?? [], around),
        ),
        ...(outside === undefined || inTable(outside) ? [] : fillsBelow(outside, columns, around)),
        ...(put.length === 0 || put.some(inTable) ? [] : fillsBetween(put, columns, around)),
      ];
      for (const { row, column, formula, value } of fills)
        this.book.setCell(
          sheet.getName(),
          row,
          column,
          value ?? null,
          formula === undefined ? undefined : `=${formula}`,
        );
    });
  }

  private aroundIn(sheet: Worksheet): Around {
    const cellAt = (row: number, column: number) => sheet.getCellMatrix().getValue(row, column);
    return {
      formulaAt: (row, column) => {
        const cell = cellAt(row, column);
        return typeof cell?.f === "string"
          ? ((cell.custom as Carried | undefined)?.wrote ?? cell.f.slice(1))
          : undefined;
      },
      valueAt: (row, column) => this.book.valueAt(sheet.getSheetId(), row, column),
      shifted: (formula, rows) => this.book.moved(`=${formula}`, rows).slice(1),
    };
  }

  /**
   * Rows or columns are about to come or go. From what the user wrote, formulas that name tables are written anew when
   * that is done; what the user wrote is dropped where the formula was edited since.
   */
  expectShift(): void {
    if (this.shifting) return;
    this.shifting = true;
    const scoped = this.book.scoped();
    this.eachRewritten((cell, wrote, place) => {
      if (cell.f !== `=${readable(wrote, this.current, place, scoped)}`)
        delete (cell.custom as { wrote?: string }).wrote;
    });
    queueMicrotask(() => {
      this.shifting = false;
      if (this.book.ended()) return;
      this.eachRewritten((cell, wrote, place) => {
        const wanted = `=${readable(wrote, this.current, place, scoped)}`;
        if (cell.f !== wanted && isTableFormula(wrote)) this.putFormula(place, wanted);
      });
    });
  }

  private eachRewritten(visit: (cell: ICellData, wrote: string, place: FormulaCell) => void): void {
    for (const sheet of this.book.workbook.getSheets()) {
      const name = sheet.getName();
      sheet.getCellMatrix().forValue((row, column, cell) => {
        const wrote = (cell?.custom as Carried | undefined)?.wrote;
        if (cell && wrote !== undefined) visit(cell, wrote, { sheet: name, row, column });
      });
    }
  }

  /** Not a user's act: it is not undone on its own. */
  private putFormula({ sheet, row, column }: FormulaCell, formula: string): void {
    this.book.api.executeCommand(TYPED, {
      unitId: this.book.id,
      subUnitId: this.book.workbook.getSheetBySheetName(sheet)?.getSheetId(),
      cellValue: { [row]: { [column]: { f: formula, v: null, t: null } } },
    });
  }

  private tablesNow(): Table[] {
    return this.book.workbook.getSheets().flatMap((sheet) => {
      const valueAt = (row: number, column: number) => this.book.valueAt(sheet.getSheetId(), row, column);
      return (this.places.get(sheet.getSheetId())?.tables ?? []).map((table) =>
        withHeaders(table, sheet.getName(), valueAt, this.current.find(({ name }) => name === table.name)?.headers),
      );
    });
  }
}
