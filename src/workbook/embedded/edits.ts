/**
 * What was changed in the running workbook, act by act, each small enough to be kept at once, and done again later on a
 * workbook as it was before.
 *
 * An edit is one of Univer's own changes with sheets named instead of numbered, because a workbook that is opened again
 * numbers its sheets anew. Results of calculations are none: they are computed again. Looks are spelled out, since
 * their numbers belong to one opening of the workbook too.
 */
import type { ICellData, Injector, IObjectMatrixPrimitiveType, Nullable, Workbook } from "@univerjs/core";
import type { UniverKit } from "../../hosts/embedded/univerKit";
import { TYPED } from "./commands";

/** A change that can be done again. Plain JSON. */
export interface BookEdit {
  readonly command: string;
  readonly params: unknown;
}

/** Changes of cells and sheets. Widths, merges and the like wait for the next whole copy. */
const KEPT: ReadonlySet<string> = new Set([
  TYPED,
  "sheet.mutation.set.numfmt",
  "sheet.mutation.remove.numfmt",
  ...["insert-row", "remove-rows", "insert-col", "remove-col", "move-range", "move-rows", "move-columns"].map(
    (name) => `sheet.mutation.${name}`,
  ),
  ...["reorder-range", "set-worksheet-name", "insert-sheet", "remove-sheet"].map((name) => `sheet.mutation.${name}`),
]);

/** Stands for a sheet in an edit. */
interface NamedSheet {
  readonly sheetNamed: string;
}

/** Calls back with each edit, in order, as soon as it is done; returns how to stop. */
export function watchEdits(
  kit: UniverKit,
  injector: Injector,
  workbook: Workbook,
  listener: (edit: BookEdit) => void,
): () => void {
  const namesNow = () => new Map(workbook.getSheets().map((sheet) => [sheet.getSheetId(), sheet.getName()]));
  // As they were before the change: a sheet that is renamed or taken out is named as whoever does it again finds it.
  let names = namesNow();
  const watching = injector.get(kit.ICommandService).onCommandExecuted((command, options) => {
    if (!KEPT.has(command.id) || options?.applyFormulaCalculationResult || options?.fromFormula) return;
    const { unitId, ...params } = (command.params ?? {}) as { unitId?: string };
    if (unitId !== workbook.getUnitId()) return;
    const plain = command.id === TYPED ? withPlainLooks(params, workbook) : params;
    listener({
      command: command.id,
      params: mapped(plain, (id: string) => {
        const sheetNamed = names.get(id);
        return sheetNamed === undefined ? id : { sheetNamed };
      }),
    });
    names = namesNow();
  });
  return () => watching.dispose();
}

/** Does the edits again, in order. @returns how many could not be done, because their sheet is not there */
export function redo(kit: UniverKit, injector: Injector, workbook: Workbook, edits: readonly BookEdit[]): number {
  const commands = injector.get(kit.ICommandService);
  let failed = 0;
  for (const { command, params } of edits) {
    if (!KEPT.has(command)) throw new Error(`"${command}" is no edit.`);
    const ids = new Map(workbook.getSheets().map((sheet) => [sheet.getName(), sheet.getSheetId()]));
    let missing = false;
    const known = mapped(params, (sheet: string | NamedSheet) => {
      if (typeof sheet === "string") return sheet;
      missing ||= !ids.has(sheet.sheetNamed);
      return ids.get(sheet.sheetNamed) ?? "";
    });
    if (missing || !commands.syncExecuteCommand(command, { unitId: workbook.getUnitId(), ...(known as object) }))
      failed++;
  }
  return failed;
}

/** The parameters with each sheet, wherever it is named, turned into what `turn` gives. */
function mapped<From>(value: unknown, turn: (sheet: From) => unknown): unknown {
  if (Array.isArray(value)) return value.map((one) => mapped(one, turn));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, one]) => [key, key === "subUnitId" ? turn(one as From) : mapped(one, turn)]),
  );
}

interface Cells {
  readonly cellValue?: IObjectMatrixPrimitiveType<Nullable<ICellData>>;
}

function withPlainLooks(params: Cells, workbook: Workbook): Cells {
  const cellValue: IObjectMatrixPrimitiveType<Nullable<ICellData>> = {};
  for (const [row, line] of Object.entries(params.cellValue ?? {})) {
    const cells: Record<number, Nullable<ICellData>> = (cellValue[Number(row)] = {});
    for (const [column, cell] of Object.entries<Nullable<ICellData>>(line ?? {})) {
      const { style: _number, ...custom } = (cell?.custom ?? {}) as { style?: number };
      cells[Number(column)] = cell && {
        ...cell,
        ...(typeof cell.s === "string" && { s: workbook.getStyles().get(cell.s) ?? null }),
        ...(cell.custom && { custom }),
      };
    }
  }
  return { ...params, cellValue };
}
