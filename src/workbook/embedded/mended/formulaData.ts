/**
 * Which formulas Univer's engine computes.
 *
 * As shipped, each calculation and each typed cell goes through all cells of the workbook for formulas, and each
 * calculation builds anew what every formula reads: one edit of a log with 300,000 formulas took 49 s. Here the engine
 * is told of the formulas that nobody else computes; who moves references when rows come and go is still told of all.
 */
import type { ICellData, Injector, IObjectMatrixPrimitiveType, Nullable, Workbook } from "@univerjs/core";
import type { IFormulaData } from "@univerjs/engine-formula";
import type { UniverKit } from "../../../hosts/embedded/univerKit";

/** Formulas with "=" by sheet, row and column. */
export type FormulasOfSheets = Record<string, Record<number, Record<number, { f: string }>>>;

/** Who knows which formulas are the engine's. */
export interface FormulaOwners {
  engine(): FormulasOfSheets;
  /** Whether some formula stands for several cells in Univer's own way. */
  shared(): boolean;
  /** Whether the formula in the cell is computed by somebody else. */
  elsewhere(place: { readonly sheet: string; readonly row: number; readonly column: number }): boolean;
}

/** Tells the engine of its own formulas only. */
export function mendFormulaData(kit: UniverKit, injector: Injector, workbook: Workbook, owners: FormulaOwners): void {
  const model = injector.get(kit.FormulaDataModel);
  const unit = workbook.getUnitId();
  const all = model.getFormulaData.bind(model);
  const whole = model.updateFormulaData.bind(model);
  /** What is answered next, where something else than the engine's formulas is wanted. */
  let instead: (() => IFormulaData) | undefined;

  model.getFormulaData = () => {
    if (instead) return instead();
    if (!owners.shared()) return { [unit]: { ...owners.engine() } };
    const found = all();
    owners.engine();
    for (const [sheet, rows] of Object.entries(found[unit] ?? {})) {
      for (const r in rows)
        for (const c in rows[Number(r)])
          if (owners.elsewhere({ sheet, row: Number(r), column: Number(c) })) delete rows[Number(r)]?.[Number(c)];
    }
    return found;
  };

  /** The engine's answer to typed cells depends on those cells alone where no formula stands for several. */
  model.updateFormulaData = (unitId, sheetId, cellValue) => {
    const sheet = workbook.getSheetBySheetId(sheetId);
    if (unitId !== unit || !sheet || owners.shared() || anyShared(cellValue))
      return withAll(() => whole(unitId, sheetId, cellValue));
    const there: Record<number, Record<number, { f: string }>> = {};
    for (const r in cellValue) {
      for (const c in cellValue[Number(r)]) {
        const f = sheet.getCellMatrix().getValue(Number(r), Number(c))?.f;
        if (typeof f === "string" && f !== "") (there[Number(r)] ??= {})[Number(c)] = { f };
      }
    }
    const found = model as unknown as { _getSheetFormulaIdMap: () => object };
    const shipped = found._getSheetFormulaIdMap;
    found._getSheetFormulaIdMap = () => ({});
    instead = () => ({ [unit]: { [sheetId]: there } });
    try {
      return whole(unitId, sheetId, cellValue);
    } finally {
      instead = undefined;
      found._getSheetFormulaIdMap = shipped;
    }
  };

  const withAll = <Answer>(act: () => Answer): Answer => {
    instead = all;
    try {
      return act();
    } finally {
      instead = undefined;
    }
  };

  const mover = injector.get(kit.UpdateFormulaController) as unknown as { _getUpdateFormula(command: object): object };
  const moved = mover._getUpdateFormula.bind(mover);
  mover._getUpdateFormula = (command) => withAll(() => moved(command));
}

function anyShared(cellValue: IObjectMatrixPrimitiveType<Nullable<ICellData>>): boolean {
  for (const r in cellValue)
    for (const c in cellValue[Number(r)]) if (cellValue[Number(r)]?.[Number(c)]?.si) return true;
  return false;
}
