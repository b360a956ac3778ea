/** Computes a workbook's formulas without the grid's engine, where all of them are plain enough. */
import type { FunctionLibrary, SheetFunction } from "../../functions/call";
import { sheetFunctions } from "../../functions/call";
import { meets } from "../area";
import { isCellError, type Area, type Book, type BookCell, type BookSheet, type CellValue } from "../book";
import { nameOn, referencesOf } from "../embedded/formula/references";
import { resolveTable, tableAround, type Table } from "../embedded/formula/tableReference";
import { alikeValues, tablesOf } from "../embedded/snapshot";
import type { Node } from "../formula/tree";
import { areaOf, evaluateNode, type FormulaWorld, type Value } from "./evaluate";
import { NeedsEngine, parse } from "./parse";

/**
 * Which formulas are wanted anew: "all", or those of our own functions and whatever reads a value that came out
 * otherwise than it is stored.
 */
export type Wanted = "all" | "ours";

/** @returns undefined where the grid's engine is needed */
export function computeBook(book: Book, library: FunctionLibrary, wanted: Wanted): Book | undefined {
  if (book.datesFrom1904) return undefined;
  try {
    return new Computation(book, library, wanted).result();
  } catch (problem) {
    // A chain of formulas may be longer than the stack is deep.
    if (problem instanceof NeedsEngine || problem instanceof RangeError) return undefined;
    throw problem;
  }
}

/**
 * Computes formulas that stand in no cell and read none.
 * @returns undefined for each that needs the grid's engine
 */
export function computeFormulas(
  formulas: readonly string[],
  library: FunctionLibrary,
): (CellValue | CellValue[][] | undefined)[] {
  const refuse = () => {
    throw new NeedsEngine();
  };
  const around: FormulaWorld = { functions: byName(library), row: 0, cells: refuse, table: refuse, name: refuse };
  return formulas.map((formula) => {
    try {
      const value = evaluateNode(parse(formula, 0), around);
      return Array.isArray(value) ? value.map((line: readonly CellValue[]) => [...line]) : (value as CellValue);
    } catch (problem) {
      if (problem instanceof NeedsEngine) return undefined;
      throw problem;
    }
  });
}

function byName(library: FunctionLibrary): ReadonlyMap<string, SheetFunction> {
  return new Map(sheetFunctions(library).map((one) => [one.name.toUpperCase(), one]));
}

interface Place {
  readonly sheet: number;
  readonly row: number;
  readonly column: number;
}

/** What a formula gave: its own value, and the cells that it fills where there are several. */
interface Done {
  readonly value: CellValue;
  readonly rows?: readonly (readonly CellValue[])[];
}

const UNDER_WAY: Done = { value: null };

class Computation {
  private readonly functions: ReadonlyMap<string, SheetFunction>;
  private readonly ours: RegExp;
  private readonly tables: readonly Table[];
  private readonly done = new Map<BookCell, Done>();
  /** Formulas whose cells came out otherwise than stored. */
  private readonly changed = new Set<BookCell>();
  /** Cells that fill others, by sheet. */
  private readonly anchors: readonly (readonly (Place & { readonly cell: BookCell; readonly area: Area })[])[];
  private readonly trees = new Map<string, Node>();
  private readonly resolved = new Map<string, ReturnType<FormulaWorld["table"]> & { readonly thisRow: boolean }>();
  private readonly reshaped: { readonly sheet: string; readonly area: Area; readonly by: BookCell }[] = [];

  constructor(
    private readonly book: Book,
    library: FunctionLibrary,
    private readonly wanted: Wanted,
  ) {
    this.functions = byName(library);
    this.ours = new RegExp(`\\b${library.namespace}\\.`, "i");
    this.tables = tablesOf(book);
    this.anchors = book.sheets.map(({ rows }, sheet) =>
      rows.flatMap((cells, row) =>
        (cells ?? []).flatMap((cell, column) => (cell?.spill ? [{ sheet, row, column, cell, area: cell.spill }] : [])),
      ),
    );
  }

  result(): Book {
    this.eachFormula((cell, place) => this.compute(cell, place));
    if (this.reshaped.length > 0) this.refuseReadersOfReshaped();
    return { ...this.book, sheets: this.book.sheets.map((sheet, s) => this.sheetNow(sheet, s)) };
  }

  private eachFormula(visit: (cell: BookCell, place: Place) => void): void {
    for (const [sheet, { rows }] of this.book.sheets.entries())
      for (let row = 0; row < rows.length; row++) {
        const cells = rows[row];
        if (!cells) continue;
        for (let column = 0; column < cells.length; column++) {
          const cell = cells[column];
          if (cell?.formula !== undefined) visit(cell, { sheet, row, column });
        }
      }
  }

  private compute(cell: BookCell, place: Place): Done {
    const known = this.done.get(cell);
    if (known === UNDER_WAY) throw new NeedsEngine();
    if (known) return known;
    this.done.set(cell, UNDER_WAY);
    const ours = this.ours.test(cell.formula ?? "");
    let done = this.computed(cell, place, ours);
    if (this.isNew(cell, place, done)) {
      if (!ours && cell.value !== null && !this.readsChanged(cell, place)) {
        // A formula of the spreadsheet's own that nothing changed keeps what is stored; the engine says so in words.
        if (this.wanted === "all") throw new NeedsEngine();
        done = { value: cell.value };
      } else this.changed.add(cell);
    }
    this.done.set(cell, done);
    return done;
  }

  private computed(cell: BookCell, place: Place, ours: boolean): Done {
    try {
      if (cell.array || (cell.spill && !ours)) throw new NeedsEngine();
      const value = this.valueOf(cell.formula ?? "", place);
      if (!Array.isArray(value)) return { value: wholeValue(value as CellValue) };
      const rows = value as readonly (readonly CellValue[])[];
      const first = rows[0]?.[0] ?? null;
      if (rows.length === 1 && rows[0]?.length === 1) return { value: wholeValue(first) };
      this.makeRoom(cell, place, rows);
      return { value: first, rows };
    } catch (problem) {
      // What is beyond us keeps its stored value as long as nothing that it reads has changed.
      if (!(problem instanceof NeedsEngine) || ours || this.wanted === "all" || cell.value === null || cell.spill)
        throw problem;
      if (this.readsChanged(cell, place)) throw problem;
      return { value: cell.value };
    }
  }

  private valueOf(formula: string, place: Place): Value {
    const { sheets } = this.book;
    const own = sheets[place.sheet];
    return evaluateNode(this.treeOf(formula, place.row), {
      functions: this.functions,
      row: place.row,
      cells: (sheet, area) => this.cells(sheet === undefined ? place.sheet : this.sheetNamed(sheet), area),
      table: (name, bracket) => this.table(name, bracket, { ...place, sheet: own?.name ?? "" }),
      name: (sheet, name) => {
        const meant = nameOn(sheet ?? own?.name ?? "", name, this.book.names);
        const tree = meant ? parse(meant.reference.replace(/^=/, ""), 0) : undefined;
        // What is not fixed means other cells in every cell that uses it.
        if (
          tree?.kind !== "area" ||
          tree.sheet === undefined ||
          !/^[^$]*!\$[A-Z]+\$\d+(:\$[A-Z]+\$\d+)?$/.test(meant?.reference.replace(/^=|'[^]*'/g, "") ?? "")
        )
          throw new NeedsEngine();
        return { sheet: tree.sheet, area: areaOf(tree, 0) };
      },
    });
  }

  /** The tree of a formula; formulas that are the same seen from their own rows share one. */
  private treeOf(formula: string, row: number): Node {
    const key = sharedText(formula, row);
    let tree = this.trees.get(key);
    if (!tree) this.trees.set(key, (tree = parse(formula, row)));
    return tree;
  }

  private table(name: string, bracket: string, place: { sheet: string; row: number; column: number }) {
    const around = tableAround(name, this.tables, place);
    if (!around) throw new NeedsEngine();
    const key = `${around.name}\n${bracket}`;
    let known = this.resolved.get(key);
    if (!known) {
      const resolved = resolveTable(name, bracket, this.tables, place);
      if ("problem" in resolved) throw new NeedsEngine();
      const tree = parse(resolved.range, 0);
      if (tree.kind !== "area") throw new NeedsEngine();
      known = { sheet: around.sheet, area: areaOf(tree, 0), thisRow: /@|#this row/i.test(bracket) };
      this.resolved.set(key, known);
    }
    if (!known.thisRow) return known;
    const { area, totals } = around;
    const last = area.row + area.rows - (totals ? 2 : 1);
    const first = around.columns ? area.row : area.row + 1;
    if (place.sheet !== around.sheet || place.row < first || place.row > last) throw new NeedsEngine();
    return { sheet: known.sheet, area: { ...known.area, row: place.row } };
  }

  private sheetNamed(name: string): number {
    const found = this.book.sheets.findIndex((sheet) => sheet.name.toLowerCase() === name.toLowerCase());
    if (found < 0) throw new NeedsEngine();
    return found;
  }

  private cells(sheet: number, { row, column, rows, columns }: Area): CellValue[][] {
    if (rows * columns > MOST_READ) throw new NeedsEngine();
    const lines = this.book.sheets[sheet]?.rows ?? [];
    return Array.from({ length: rows }, (_, r) =>
      Array.from({ length: columns }, (_, c) =>
        this.valueAt({ sheet, row: row + r, column: column + c }, lines[row + r]?.[column + c]),
      ),
    );
  }

  private valueAt(place: Place, cell: BookCell | undefined): CellValue {
    if (!cell) return null;
    if (cell.formula !== undefined) return this.compute(cell, place).value;
    if (!cell.spilled) return cell.value;
    const anchor = this.anchorOf(place);
    if (!anchor) return cell.value;
    const { rows } = this.compute(anchor.cell, anchor);
    return rows?.[place.row - anchor.row]?.[place.column - anchor.column] ?? null;
  }

  private anchorOf({ sheet, row, column }: Place) {
    const point = { row, column, rows: 1, columns: 1 };
    return this.anchors[sheet]?.find(({ area }) => meets(area, point));
  }

  /** Whether a formula's value, or any cell that it fills, is another one than is stored. */
  private isNew(cell: BookCell, place: Place, { value, rows }: Done): boolean {
    if (!alikeValues(value, cell.value)) return true;
    if (!rows && !cell.spill) return false;
    const stored = this.book.sheets[place.sheet]?.rows;
    if (!sameSize(cell.spill, rows)) return true;
    return (rows ?? []).some((line, r) =>
      line.some((one, c) => !alikeValues(one, stored?.[place.row + r]?.[place.column + c]?.value ?? null)),
    );
  }

  /** Whether anything that a formula reads came out otherwise than it is stored. @throws NeedsEngine */
  private readsChanged(cell: BookCell, { sheet, row, column }: Place): boolean {
    const name = this.book.sheets[sheet]?.name ?? "";
    let read: ReturnType<typeof referencesOf>;
    try {
      read = referencesOf(
        cell.formula ?? "",
        { sheet: name, row, column },
        { tables: this.tables, names: this.book.names },
      );
    } catch {
      return false;
    }
    return read.some(({ sheet: named, area, spill }) => {
      if (spill) throw new NeedsEngine();
      return this.isChanged(this.sheetNamed(named), area);
    });
  }

  private isChanged(sheet: number, area: Area): boolean {
    const lines = this.book.sheets[sheet]?.rows ?? [];
    for (let r = area.row; r < Math.min(area.row + area.rows, lines.length); r++) {
      const cells = lines[r] ?? [];
      for (let c = area.column; c < Math.min(area.column + area.columns, cells.length); c++) {
        const cell = cells[c];
        const place = { sheet, row: r, column: c };
        const source =
          cell?.formula !== undefined ? { cell, ...place } : cell?.spilled ? this.anchorOf(place) : undefined;
        if (!source) continue;
        this.compute(source.cell, source);
        if (this.changed.has(source.cell)) return true;
      }
    }
    return false;
  }

  /** Makes sure that the cells that a formula is to fill are free. @throws NeedsEngine */
  private makeRoom(anchor: BookCell, { sheet, row, column }: Place, rows: readonly (readonly CellValue[])[]): void {
    const area = { row, column, rows: rows.length, columns: rows[0]?.length ?? 0 };
    const own = this.book.sheets[sheet];
    if (!own || own.merged.some((one) => meets(one, area)) || own.tables.some((one) => meets(one.area, area)))
      throw new NeedsEngine();
    for (let r = row; r < row + area.rows; r++)
      for (let c = column; c < column + area.columns; c++) {
        const cell = own.rows[r]?.[c];
        if (!cell || cell === anchor || (cell.formula === undefined && (cell.value ?? "") === "")) continue;
        if (!cell.spilled || this.anchorOf({ sheet, row: r, column: c })?.cell !== anchor) throw new NeedsEngine();
      }
    if (!sameSize(anchor.spill, rows))
      for (const one of [area, ...(anchor.spill ? [anchor.spill] : [])])
        this.reshaped.push({ sheet: own.name, area: one, by: anchor });
  }

  /** What reads cells that a formula newly fills, or no longer fills, may have been computed too early. */
  private refuseReadersOfReshaped(): void {
    const named = { tables: this.tables, names: this.book.names };
    this.eachFormula((cell, { sheet, row, column }) => {
      const place = { sheet: this.book.sheets[sheet]?.name ?? "", row, column };
      const meetsOne = referencesOf(cell.formula ?? "", place, named).some(({ sheet: read, area }) =>
        this.reshaped.some(
          (one) => one.by !== cell && one.sheet.toLowerCase() === read.toLowerCase() && meets(one.area, area),
        ),
      );
      if (meetsOne) throw new NeedsEngine();
    });
  }

  /** The sheet with its new values; rows without one are the rows that it had. */
  private sheetNow(sheet: BookSheet, s: number): BookSheet {
    const changes: { row: number; column: number; cell: BookCell }[] = [];
    sheet.rows.forEach((cells, row) =>
      cells?.forEach((cell, column) => {
        const done = cell?.formula === undefined ? undefined : this.done.get(cell);
        if (!cell || !done) return;
        const told = isCellError(done.value);
        if (this.changed.has(cell) || told || cell.spill)
          changes.push(...this.filled(cell, { sheet: s, row, column }, done));
      }),
    );
    if (changes.length === 0) return sheet;
    const rows = [...sheet.rows];
    const own = new Set<number>();
    for (const { row, column, cell } of changes) {
      const line = own.has(row) ? (rows[row] as (BookCell | undefined)[]) : [...(rows[row] ?? [])];
      own.add(row);
      line[column] = cell;
      rows[row] = line;
    }
    return { ...sheet, rows };
  }

  /** The cells that a formula fills, and those that it filled before, as they are now. */
  private filled(cell: BookCell, { sheet, row, column }: Place, { value, rows }: Done) {
    const stored = this.book.sheets[sheet]?.rows ?? [];
    const { spill, ...single } = cell;
    const changes: { row: number; column: number; cell: BookCell }[] = [];
    for (let r = 0; r < (spill?.rows ?? 1); r++)
      for (let c = 0; c < (spill?.columns ?? 1); c++) {
        const before = stored[row + r]?.[column + c];
        if (!before?.spilled || before.formula !== undefined) continue;
        const { spilled: _, ...emptied } = before;
        changes.push({ row: row + r, column: column + c, cell: { ...emptied, value: null } });
      }
    (rows ?? []).forEach((line, r) =>
      line.forEach((one, c) => {
        const before = stored[row + r]?.[column + c];
        if (r + c > 0)
          changes.push({
            row: row + r,
            column: column + c,
            cell: { ...before, value: kept(one, before?.value), spilled: true },
          });
      }),
    );
    const area = rows && { row, column, rows: rows.length, columns: rows[0]?.length ?? 0 };
    changes.push({ row, column, cell: { ...single, value: kept(value, cell.value), ...(area && { spill: area }) } });
    return changes;
  }
}

/** More cells than this are not handed to a function from here. */
const MOST_READ = 20_000_000;

/** A blank in a cell of its own counts as 0 in some programs. */
function wholeValue(value: CellValue): CellValue {
  if (value === null) throw new NeedsEngine();
  return value;
}

/** The stored value where the new one is alike, the new one with its words where it is an error. */
function kept(value: CellValue, stored: CellValue | undefined): CellValue {
  return stored !== undefined && alikeValues(value, stored) && !isCellError(value) ? stored : value;
}

function sameSize(area: Area | undefined, rows: readonly (readonly unknown[])[] | undefined): boolean {
  return (area?.rows ?? 1) === (rows?.length ?? 1) && (area?.columns ?? 1) === (rows?.[0]?.length ?? 1);
}

/** The formula with the rows of its plain references counted from its own, where that cannot be mistaken. */
function sharedText(formula: string, row: number): string {
  if (!REFERENCE.test(formula)) return formula;
  if (!/^(?:[^"'[\n]|"[^"\d]*")*$/.test(formula)) return `${formula}\n${row}`;
  return formula.replace(REFERENCES, (_, letters: string, number: string) => `${letters}\n${Number(number) - row}`);
}

const REFERENCE = /(?<![\w.$])\$?[A-Z]{1,3}\$?\d/i;
const REFERENCES = /(?<![\w.$])(\$?[A-Z]{1,3})(\d+)(?![\w.($])/gi;
