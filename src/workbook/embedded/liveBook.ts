/**
 * A Book running in Univer, in Node or in the browser: what the engine, the port and the grid share.
 * May import: the workbook contracts, this folder, ../../functions.
 */
import type { Injector, Univer, Workbook } from "@univerjs/core";
import type { FUniver } from "@univerjs/core/facade";
import { areaAddress, cellAddress, quoteSheetName } from "../address";
import { isCellError, type Area, type Book, type BookSheet, type CellValue } from "../book";
import { registerFunctions, type FunctionLibrary } from "./bankFunctions";
import { ErrorMessages } from "./errorMessages";
import { checkSyntax, explainUnknownName, FormulaSyntaxError } from "./formulaText";
import { makeIndexLinear } from "./linearIndex";
import { toBook, toSnapshot, valueData, valueOf, WORKBOOK_ID, type Running } from "./snapshot";
import type { UniverKit } from "./univerKit";

/** How long a whole calculation may take before the wait for it is given up. */
const PATIENCE_MS = 10 * 60 * 1000;

export class LiveBook {
  readonly api: FUniver;
  readonly workbook: Workbook;
  readonly injector: Injector;
  private readonly messages = new ErrorMessages();
  private readonly endings: { dispose(): void }[] = [];
  private tablesSaid = "";

  /** Opens the Book in a Univer whose plugins are registered. */
  constructor(
    readonly kit: UniverKit,
    readonly univer: Univer,
    private original: Book,
    library: FunctionLibrary,
  ) {
    makeIndexLinear(kit);
    this.api = kit.FUniver.newAPI(univer);
    this.injector = univer.__getInjector();
    // The workbook comes first: Univer makes its formula services with the first workbook.
    this.workbook = univer.createUnit(kit.UniverInstanceType.UNIVER_SHEET, toSnapshot(original, kit.LocaleType.EN_US)) as Workbook;
    registerFunctions(kit, this.injector, library, this.messages);
    this.tellTables(original.sheets, (i) => this.workbook.getSheetOrders()[i]);
    this.endings.push(this.api.getFormula().calculationStart(() => this.messages.begin()));
  }

  /** Computes every formula and resolves when the results stand in the cells. */
  async recalculate(): Promise<void> {
    const applied = this.applied();
    this.api.executeCommand(this.kit.SetFormulaCalculationStartMutation.id, { forceCalculation: true }, { onlyLocal: true });
    await applied;
  }

  /** Formulas are about to be computed outside the cells: what such formulas said before is forgotten. */
  beginMessages(): void {
    this.messages.begin();
  }

  /** Resolves when what was typed until now is computed. */
  async settled(): Promise<void> {
    await this.api.getFormula().onCalculationResultApplied(PATIENCE_MS);
  }

  /** The workbook now, as a Book. */
  book(): Book {
    return toBook(this.running(), this.original);
  }

  /** One sheet now; undefined when there is none of that name. */
  sheet(name: string): { readonly sheet: BookSheet; readonly styles: Book["styles"] } | undefined {
    const id = this.sheetIdOf(name);
    if (id === undefined) return undefined;
    const { sheets, styles } = toBook(this.running(), this.original, id);
    return { sheet: sheets[0], styles };
  }

  get settings(): string | undefined {
    return this.original.settings;
  }

  saveSettings(text: string): void {
    this.original = { ...this.original, settings: text };
  }

  /** What the error in the cell says; undefined when the cell holds no error or nobody said anything. */
  messageAt(sheet: string, row: number, column: number): string | undefined {
    const id = this.sheetIdOf(sheet);
    if (id === undefined) return undefined;
    const value = this.valueAt(id, row, column);
    return isCellError(value) ? this.message(id, row, column, value.error) : undefined;
  }

  /** Puts a value, or a formula that begins with "=", into a cell; the look stays. */
  setCell(sheet: string, row: number, column: number, value: CellValue, formula?: string): void {
    const target = this.api.getActiveWorkbook()?.getSheetByName(sheet);
    if (!target) throw new Error(this.noSheet(sheet));
    const cell = formula === undefined ? { f: null, si: null, p: null, v: null, t: null, ...valueData(value) } : { f: formula, v: null, t: null, p: null, si: null };
    target.getRange(row, column).setValue(cell);
  }

  /** Says that there is no sheet of that name, and which there are. */
  noSheet(name: string): string {
    const names = this.workbook.getSheets().map((sheet) => `"${sheet.getName()}"`);
    return `There is no sheet "${name}" in this workbook; it has ${names.join(", ")}.`;
  }

  sheetIdOf(name: string): string | undefined {
    return this.workbook.getSheets().find((sheet) => sheet.getName() === name)?.getSheetId();
  }

  /** Names of functions, ranges and tables that a formula may use. */
  knownNames(): { readonly functions: string[]; readonly names: string[] } {
    const functions = [...this.injector.get(this.kit.IFunctionService).getExecutors().keys()].map(String);
    const tables = this.original.sheets.flatMap((sheet) => sheet.tables.map((table) => table.name));
    return { functions, names: [...this.original.names.map(({ name }) => name), ...tables] };
  }

  /** What an error says that a formula gave outside any cell, computed as if in the cell given. */
  explain(formula: string, sheet: string, row: number, column: number, down: number, right: number, code: string): string | undefined {
    const said = this.messages.get(sheet, row, column, down, right, code);
    if (said) return said;
    if (code !== "#NAME?" && code !== "#ERROR!" && code !== "#VALUE!") return undefined;
    try {
      checkSyntax(formula);
    } catch (error) {
      if (error instanceof FormulaSyntaxError) return error.message;
      throw error;
    }
    if (code !== "#NAME?") return undefined;
    const { functions, names } = this.knownNames();
    return explainUnknownName(formula, functions, names);
  }

  /** Tells the formula engine where tables are now; nothing happens when they are where they were. */
  tellTables(sheets: readonly BookSheet[], idOf: (index: number) => string): void {
    const tables = sheets.flatMap((sheet, i) => sheet.tables.map((table) => ({ table, sheet, id: idOf(i) })));
    const said = JSON.stringify(tables.map(({ table, sheet, id }) => [table, id, headersOf(sheet, table.area)]));
    if (said === this.tablesSaid) return;
    this.tablesSaid = said;
    for (const { table, sheet, id } of tables) {
      const { area } = table;
      this.api.executeCommand(
        this.kit.SetSuperTableMutation.id,
        {
          unitId: WORKBOOK_ID,
          tableName: table.name,
          reference: {
            sheetId: id,
            range: { startRow: area.row, startColumn: area.column, endRow: area.row + area.rows - 1, endColumn: area.column + area.columns - 1 },
            titleMap: new Map(headersOf(sheet, area).map((title, i) => [title, i])),
          },
        },
        { onlyLocal: true },
      );
    }
  }

  dispose(): void {
    for (const ending of this.endings) ending.dispose();
    this.univer.dispose();
  }

  private applied(): Promise<void> {
    return new Promise((resolve, reject) => {
      const waiting = this.api.getFormula().calculationResultApplied(() => done());
      const ended = this.api.getFormula().calculationEnd((state) => {
        // Nothing to compute: there will be no result to wait for.
        if (state !== 3) done();
      });
      const late = setTimeout(() => done(new Error("The calculation did not end within ten minutes.")), PATIENCE_MS);
      const done = (error?: Error) => {
        clearTimeout(late);
        waiting.dispose();
        ended.dispose();
        if (error) reject(error);
        else resolve();
      };
    });
  }

  private running(): Running {
    const model = this.injector.get(this.kit.FormulaDataModel);
    const cells = model.getArrayFormulaCellData()?.[WORKBOOK_ID];
    const ranges = model.getArrayFormulaRange()?.[WORKBOOK_ID];
    return {
      snapshot: this.api.getActiveWorkbook()!.save(),
      spilledCells: (sheet) => cells?.[sheet] ?? undefined,
      spillRanges: (sheet) => ranges?.[sheet] ?? undefined,
      messageAt: (sheet, row, column, code) => this.message(sheet, row, column, code),
    };
  }

  private valueAt(id: string, row: number, column: number): CellValue {
    const cell = this.workbook.getSheetBySheetId(id)?.getCellMatrix().getValue(row, column);
    const value = cell ? valueOf(cell) : null;
    if (value !== null) return value;
    const spilled = this.injector.get(this.kit.FormulaDataModel).getArrayFormulaCellData()?.[WORKBOOK_ID]?.[id]?.[row]?.[column];
    return spilled ? valueOf(spilled) : null;
  }

  private message(id: string, row: number, column: number, code: string): string | undefined {
    const [anchorRow, anchorColumn] = this.anchorOf(id, row, column);
    const formula = this.workbook.getSheetBySheetId(id)?.getCellMatrix().getValue(anchorRow, anchorColumn)?.f;
    if (typeof formula !== "string") return undefined;
    if (code === "#SPILL!") return this.blockedBy(id, row, column);
    return this.explain(formula.replace(/^=/, ""), id, anchorRow, anchorColumn, row - anchorRow, column - anchorColumn, code);
  }

  /** The cell whose formula fills this one. */
  private anchorOf(id: string, row: number, column: number): [number, number] {
    const ranges = this.injector.get(this.kit.FormulaDataModel).getArrayFormulaRange()?.[WORKBOOK_ID]?.[id];
    for (const r in ranges ?? {}) {
      if (Number(r) > row) continue;
      const line = ranges![Number(r)];
      for (const c in line ?? {}) {
        const range = line[Number(c)];
        if (range && row >= range.startRow && row <= range.endRow && column >= range.startColumn && column <= range.endColumn) return [Number(r), Number(c)];
      }
    }
    return [row, column];
  }

  private blockedBy(id: string, row: number, column: number): string | undefined {
    const range = this.injector.get(this.kit.FormulaDataModel).getArrayFormulaRange()?.[WORKBOOK_ID]?.[id]?.[row]?.[column];
    const sheet = this.workbook.getSheetBySheetId(id);
    if (!range || !sheet) return undefined;
    const area: Area = { row, column, rows: range.endRow - range.startRow + 1, columns: range.endColumn - range.startColumn + 1 };
    const needs = `The result fills ${areaAddress(area)}`;
    for (let r = row; r < row + area.rows; r++) {
      for (let c = column; c < column + area.columns; c++) {
        const cell = r === row && c === column ? undefined : sheet.getCellMatrix().getValue(r, c);
        if (cell && (valueOf(cell) !== null || cell.f)) return `${needs}, but ${quoteSheetName(sheet.getName())}!${cellAddress(r, c)} is not empty. Clear it or move the formula.`;
      }
    }
    return `${needs}, and something is in the way or the sheet ends before. Clear those cells or move the formula.`;
  }
}

function headersOf(sheet: BookSheet, area: Area): string[] {
  return Array.from({ length: area.columns }, (_, i) => {
    const value = sheet.rows[area.row]?.[area.column + i]?.value;
    return value === null || value === undefined || isCellError(value) ? `Column${i + 1}` : String(value);
  });
}
