/**
 * The formula engine in Node: computes a Book or single formulas without a screen. Node only.
 */
import { createRequire } from "node:module";
import { sheetOfRows, type Book, type CellValue } from "../book";
import type { FunctionLibrary } from "../../functions/call";
import { isErrorCode } from "./formula/errorCodes";
import { findMistake } from "./formula/findMistake";
import { bareFormula, readable } from "./formula/readable";
import { bankLibrary } from "../../functions/library";
import { there } from "../../there";
import { LiveBook } from "./liveBook";
import type { UniverKit } from "../../hosts/embedded/univerKit";

export interface Engine {
  /** The workbook with every formula computed: new values, messages and spills. */
  recalculate(): Promise<Book>;
  /**
   * Computes formulas that stand in no cell; they may refer to the workbook's cells, names and tables.
   * @param formulas as a person types them, with or without "="
   * @returns for each formula a value, or the rows of a spill; errors are CellErrors whose message says what is wrong
   * @example await engine.evaluate(["BANK.BEND(1/8)", "{1,2;3,4}"]) // [1, [[1, 2], [3, 4]]]
   */
  evaluate(formulas: readonly string[]): Promise<(CellValue | CellValue[][])[]>;
  /**
   * Types a value, or a formula that begins with "=", into a cell. Throws an Error that names the sheet when it is not
   * there.
   */
  setCell(sheet: string, row: number, column: number, value: CellValue): void;
  /** The running workbook, for the port. */
  readonly live: LiveBook;
  dispose(): void;
}

const NO_CALCULATION = 2;
const EMPTY: Book = {
  sheets: [sheetOfRows("Sheet1", [])],
  styles: [],
  names: [],
};

/** Starts the engine on a Book, on an empty one when none is given, and computes it. */
export async function createEngine(book: Book = EMPTY, library: FunctionLibrary = bankLibrary): Promise<Engine> {
  const { kit, start } = loadUniver();
  const live = new LiveBook(kit, start(), book.sheets.length > 0 ? book : { ...book, sheets: EMPTY.sheets }, library);
  await live.open();
  const service = live.injector.get(kit.ICalculateFormulaService);

  /** One formula as if it stood in the first cell of the first sheet, without being there. */
  const compute = async (formula: string): Promise<CellValue | CellValue[][]> => {
    const mistake = findMistake(formula, live.knownNames());
    if (mistake) return mistake;
    const sheet = there(live.workbook.getSheetOrders()[0], "a first sheet");
    const results = await service.executeFormulas({
      [live.id]: { [sheet]: { 0: { 0: [`=${readable(formula, live.knownNames().tables)}`] } } },
    });
    const result: unknown = results[live.id]?.[sheet]?.[0]?.[0]?.[0]?.value;
    const value = (cell: unknown, down: number, right: number): CellValue => {
      if (typeof cell === "number" || typeof cell === "boolean") return cell;
      if (typeof cell !== "string") return null;
      if (!isErrorCode(cell)) return cell;
      const message = live.explain(formula, undefined, sheet, 0, 0, down, right, cell) ?? COMMON[cell];
      return message === undefined ? { error: cell } : { error: cell, message };
    };
    return Array.isArray(result)
      ? (result as unknown[][]).map((line, r) => Array.from(line, (cell, c) => value(cell, r, c)))
      : value(result, 0, 0);
  };

  return {
    live,
    async recalculate() {
      await live.settled();
      return live.book();
    },
    async evaluate(formulas) {
      await live.settled();
      const values: (CellValue | CellValue[][])[] = [];
      for (const formula of formulas) values.push(await live.apart(() => compute(bareFormula(formula))));
      return values;
    },
    setCell(sheet, row, column, value) {
      if (typeof value === "string" && value.startsWith("=")) live.setCell(sheet, row, column, null, value);
      else live.setCell(sheet, row, column, value);
    },
    dispose() {
      live.dispose();
    },
  };
}

/** What an error of the spreadsheet's own says when no function of ours said more. */
const COMMON: Readonly<Record<string, string>> = {
  "#DIV/0!": "The formula divides by zero or by a blank cell.",
  "#N/A": "The formula finds no value.",
  "#NAME?": "The formula uses a name that is not known.",
  "#NULL!": "The ranges in the formula have no cell in common.",
  "#NUM!": "The formula has no finite number as its result.",
  "#REF!": "The formula refers to a cell that is not there.",
  "#VALUE!": "The formula uses a value of the wrong kind.",
};

let loaded: { readonly kit: UniverKit; readonly start: () => InstanceType<UniverKit["Univer"]> } | undefined;

/** Univer's CommonJS build: its ES build does not load in Node. */
function loadUniver() {
  if (loaded) return loaded;
  const load = createRequire(import.meta.url);
  const { UniverSheetsNodeCorePreset } = load("@univerjs/preset-sheets-node-core");
  const core = load("@univerjs/core");
  const kit = {
    ...load("@univerjs/engine-formula"),
    ...load("@univerjs/sheets-formula"),
    ...load("@univerjs/core/facade"),
    ...core,
  } as UniverKit;
  const start = () => {
    const univer = new kit.Univer({
      locale: kit.LocaleType.EN_US,
      locales: { [kit.LocaleType.EN_US]: {} },
      logLevel: kit.LogLevel.SILENT,
    });
    const { plugins } = UniverSheetsNodeCorePreset({ formula: { initialFormulaComputing: NO_CALCULATION } });
    for (const plugin of plugins) {
      if (Array.isArray(plugin)) univer.registerPlugin(plugin[0], plugin[1]);
      else univer.registerPlugin(plugin);
    }
    return univer;
  };
  return (loaded = { kit, start });
}
