/**
 * Formulas whose stored value stands: Univer is not Excel, so a formula without a function of ours keeps what the file
 * holds beside it unless something that it reads got a new value, and what Univer does not understand keeps it always.
 * Other formulas compute with the values that were kept.
 *
 * On opening, everything is computed once. A formula that came out otherwise than it is stored, although nothing it
 * reads changed, is one on which Univer and Excel disagree; it is marked, and what depends on it is computed anew. From
 * then on whatever changes a value is an edit, and no formula needs to be asked again why it changed.
 */
import type { Injector } from "@univerjs/core";
import type { BaseValueObject } from "@univerjs/engine-formula";
import { isCellError, type Area, type Book, type BookCell, type CellValue } from "../book";
import { referencesOf, type Named } from "./formula/references";
import { alikeValues, type Stored } from "./snapshot";
import type { FormulaCell } from "./formula/tableReference";
import type { UniverKit } from "../../hosts/embedded/univerKit";

/** What is said of a formula on which the engines disagree. */
export const DISAGREES = "it comes out otherwise here, although nothing it reads has changed";

/**
 * Lets calculations take the stored value of some cells in place of the computed one.
 * @param keptAt the stored value of the formula in the cell; undefined where it is to be computed
 */
export function takeStored(
  kit: UniverKit,
  injector: Injector,
  unit: string,
  keptAt: (sheet: string, row: number, column: number) => Stored | undefined,
): void {
  const runtime = injector.get(kit.IFormulaRuntimeService);
  const shipped = runtime.setRuntimeData.bind(runtime);
  runtime.setRuntimeData = (computed) => {
    const { currentUnitId, currentSubUnitId, currentRow, currentColumn } = runtime;
    const stored = currentUnitId === unit ? keptAt(currentSubUnitId, currentRow, currentColumn) : undefined;
    shipped(stored ? valueObject(kit, unit, currentSubUnitId, currentRow, currentColumn, stored) : computed);
  };
}

function valueObject(
  kit: UniverKit,
  unitId: string,
  sheetId: string,
  row: number,
  column: number,
  { value, rows }: Stored,
): BaseValueObject {
  if (!rows) return single(kit, value);
  return kit.ArrayValueObject.create({
    calculateValueList: rows.map((line) =>
      line.map((one) => (one === null ? kit.NullValueObject.create() : single(kit, one))),
    ),
    rowCount: rows.length,
    columnCount: rows[0]?.length ?? 0,
    unitId,
    sheetId,
    row,
    column,
  });
}

/** A formula of which the file holds no value is an error to those that read it, never a blank that counts as 0. */
function single(kit: UniverKit, value: CellValue): BaseValueObject {
  if (value === null) return kit.ErrorValueObject.create("#N/A" as never);
  if (isCellError(value)) return kit.ErrorValueObject.create(value.error as never);
  if (typeof value === "number") return kit.NumberValueObject.create(value);
  if (typeof value === "boolean") return kit.BooleanValueObject.create(value);
  return kit.StringValueObject.create(value);
}

/** Cells by sheet and row. */
class Cells {
  private readonly sheets = new Map<string, Map<number, Set<number>>>();

  add({ sheet, row, column }: FormulaCell): void {
    let rows = this.sheets.get(sheet.toLowerCase());
    if (!rows) this.sheets.set(sheet.toLowerCase(), (rows = new Map()));
    const columns = rows.get(row);
    if (columns) columns.add(column);
    else rows.set(row, new Set([column]));
  }

  meet(sheet: string, area: Area): boolean {
    const rows = this.sheets.get(sheet.toLowerCase());
    if (!rows) return false;
    const inRow = (columns: ReadonlySet<number> | undefined) => {
      for (const column of columns ?? []) if (column >= area.column && column < area.column + area.columns) return true;
      return false;
    };
    if (area.rows <= rows.size) {
      for (let r = area.row; r < area.row + area.rows; r++) if (inRow(rows.get(r))) return true;
      return false;
    }
    for (const [row, columns] of rows) if (row >= area.row && row < area.row + area.rows && inRow(columns)) return true;
    return false;
  }
}

/** A formula whose cell, or one of the cells it fills, is not what is stored. */
interface Differing {
  readonly place: FormulaCell;
  readonly formula: string;
  readonly cells: readonly FormulaCell[];
  /** An array formula of the old kind that would no longer fill its own range. */
  readonly misfits: boolean;
}

/**
 * The formulas whose new value nothing justifies: no function of ours is in them, and nothing that they read changed.
 * @param stored the workbook as it was opened
 * @param computed the same after a calculation, every cell where it was
 * @param ours whether a formula calls a function of ours
 */
export function disagreements(
  stored: Book,
  computed: Book,
  named: Named,
  ours: (formula: string) => boolean,
): FormulaCell[] {
  const changed = new Cells();
  const justified = new Cells();
  const misfits: FormulaCell[] = [];
  let open: (Differing & { readonly reads: readonly { readonly sheet: string; readonly area: Area }[] })[] = [];
  const keptAlready = new Set((computed.kept ?? []).map(({ sheet, row, column }) => `${sheet}\n${row}\n${column}`));
  eachDiffering(stored, computed, (one, before) => {
    if (keptAlready.has(`${one.place.sheet}\n${one.place.row}\n${one.place.column}`)) return;
    if (one.misfits) misfits.push(one.place);
    for (const cell of one.cells) changed.add(cell);
    if (ours(one.formula) || (before.value === null && !before.spill))
      for (const cell of one.cells) justified.add(cell);
    else open.push({ ...one, reads: readsOf(one, computed, named) });
  });
  for (let again = true; again;) {
    const left: typeof open = [];
    for (const one of open) {
      if (!one.reads.some(({ sheet, area }) => justified.meet(sheet, area))) left.push(one);
      else for (const cell of one.cells) justified.add(cell);
    }
    again = left.length < open.length;
    open = left;
  }
  if (misfits.length > 0) return misfits;
  const roots = open.filter(({ reads }) => !reads.some(({ sheet, area }) => changed.meet(sheet, area)));
  return (roots.length > 0 ? roots : open).map(({ place }) => place);
}

function readsOf({ formula, place }: Differing, book: Book, named: Named) {
  try {
    return referencesOf(formula, place, named).map(({ sheet, area, spill }) => {
      const anchor = book.sheets.find(({ name }) => name.toLowerCase() === sheet.toLowerCase())?.rows[area.row]?.[
        area.column
      ];
      return { sheet, area: spill && anchor?.spill ? anchor.spill : area };
    });
  } catch {
    return [];
  }
}

function eachDiffering(stored: Book, computed: Book, visit: (one: Differing, before: BookCell) => void): void {
  computed.sheets.forEach((sheet, s) => {
    const was = stored.sheets[s]?.rows;
    sheet.rows.forEach((cells, row) =>
      cells?.forEach((cell, column) => {
        const before = was?.[row]?.[column];
        if (!cell || cell.formula === undefined || before?.formula === undefined) return;
        const filled = filledCells(cell, before, row, column).filter(
          ([r, c]) => !alikeValues(sheet.rows[r]?.[c]?.value ?? null, was?.[r]?.[c]?.value ?? null),
        );
        const reshaped = JSON.stringify(cell.spill ?? null) !== JSON.stringify(before.spill ?? null);
        if (filled.length === 0 && !reshaped) return;
        const at = { sheet: sheet.name, row, column };
        visit(
          {
            place: at,
            formula: before.formula,
            cells: filled.map(([r, c]) => ({ ...at, row: r, column: c })),
            misfits: reshaped && before.array === true,
          },
          before,
        );
      }),
    );
  });
}

/** The cells that a formula fills now or filled before. */
function filledCells(now: BookCell, before: BookCell, row: number, column: number): [number, number][] {
  const rows = Math.max(1, now.spill?.rows ?? 1, before.spill?.rows ?? 1);
  const columns = Math.max(1, now.spill?.columns ?? 1, before.spill?.columns ?? 1);
  return Array.from({ length: rows * columns }, (_, i) => [row + Math.floor(i / columns), column + (i % columns)]);
}
