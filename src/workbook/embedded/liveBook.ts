/**
 * A Book running in Univer, in Node or in the browser: what the engine, the port and the grid share.
 */
import type { ICellData, Injector, IRange, IWorkbookData, Nullable, Univer, Workbook, Worksheet } from "@univerjs/core";
import type { FUniver } from "@univerjs/core/facade";
import { areaAddress, cellAddress, quoteSheetName } from "../address";
import {
  isCellError,
  type Area,
  type Book,
  type BookChart,
  type BookPicture,
  type BookSheet,
  type CellStyle,
  type CellValue,
} from "../book";
import type { FilledRow, NewCell, NewSheet, PlacedCell, SheetChange } from "../port";
import { newBookCell, newBookSheet } from "../sheetData";
import { freeSheetName } from "../sheetName";
import type { FunctionLibrary } from "../../functions/call";
import { registerFunctions } from "../../hosts/embedded/bankFunctions";
import { ChangeNotice } from "./changeNotice";
import { areaTyped, FILLED, NAMING, SHIFTS, STRUCTURE, TYPED, type Moved, type Typed } from "./commands";
import { ErrorMessages } from "./errorMessages";
import { mendReading, mendSheetNames } from "./mended/formulaReading";
import { findMistake, type KnownNames } from "./formula/findMistake";
import { readable } from "./formula/readable";
import { disagreements, DISAGREES, takeStored } from "./keptValues";
import { LiveCalls } from "./liveCalls";
import { makeIndexLinear } from "./mended/linearIndex";
import { inTurns, last } from "../turns";
import { whyNotComputed, type Surroundings } from "./formula/notComputed";
import { placesOf, type Places } from "./places";
import { TableFollower, type Followed } from "./tableFollower";
import { scopedNames, type ScopedName } from "./formula/scopedNames";
import {
  fromRange,
  knownSheet,
  sheetId,
  tablesOf,
  toBook,
  toBookInSteps,
  toSnapshot,
  toUniverStyle,
  toWorksheet,
  valueData,
  valueOf,
  type Carried,
  type Running,
  type Stored,
} from "./snapshot";
import type { FormulaCell } from "./formula/tableReference";
import { mixedFraction } from "./formula/fraction";
import type { UniverKit } from "../../hosts/embedded/univerKit";
import { wholeCalculation } from "./mended/wholeCalculation";
import { there } from "../../there";

/** How long a whole calculation may take before the wait for it is given up. */
const PATIENCE_MS = 10 * 60 * 1000;

/** Rows below the last filled one, once a sheet has to grow. */
const SPARE_ROWS = 100;

/** A disagreement may hide another behind it; a chain longer than this is kept as a whole. */
const MOST_ROUNDS = 12;

const NUMBER = 2;
/** Text that the user marked as text with an apostrophe. */
const FORCED_TEXT = 4;

/** What a cell carries besides what was stored and kept there. */
function withoutStored({
  kept: _kept,
  keptFormula: _formula,
  stored: _stored,
  array: _array,
  empty: _empty,
  ...others
}: Carried): Carried {
  return others;
}

/** A new cell as Univer takes it; text stays text. */
function typedCell(cell: NewCell): ICellData {
  const styles: CellStyle[] = [];
  const made = newBookCell(cell, styles);
  return {
    ...(made ? valueData(made.value) : {}),
    ...(typeof made?.value === "string" ? { t: FORCED_TEXT } : {}),
    ...(made?.style === undefined ? {} : { s: toUniverStyle(there(styles[made.style], "a style")) }),
  };
}

/** A sheet as it is, with the looks that its cells name. */
interface SheetNow {
  readonly sheet: BookSheet;
  readonly styles: Book["styles"];
}

let opened = 0;

export class LiveBook {
  /** No two have the same: Univer remembers how it read a formula by this id and the formula's text. */
  readonly id = `bendbook-${++opened}`;
  readonly api: FUniver;
  readonly workbook: Workbook;
  readonly injector: Injector;
  private readonly messages = new ErrorMessages();
  /** A call of one of our functions: other formulas say nothing. */
  private readonly ours: RegExp;
  private readonly endings: { dispose(): void }[] = [];
  private readonly changes = new ChangeNotice(
    () => this.settled(),
    (id) => (this.disposed ? undefined : this.workbook.getSheetBySheetId(id)?.getName()),
    (id) => !this.disposed && Object.keys(this.spillRanges(id) ?? {}).length > 0,
  );
  private disposed = false;
  private naming = false;
  /** Something was typed since the last wait for its results. */
  private unsettled = false;
  private readonly follower: TableFollower;
  private readonly calls: LiveCalls;
  /** Charts of sheets that were added here, by Univer's id of the sheet. The grid draws none; a saved copy has them. */
  private readonly charts = new Map<string, readonly BookChart[]>();
  /** Pictures that stand on a sheet, by Univer's id of it; where there is a screen, the grid knows them. */
  picturesOf: (sheet: string) => readonly BookPicture[] = () => [];

  /**
   * Opens the Book in a Univer whose plugins are registered.
   * @param snapshot the Book as Univer holds it, where it was made beforehand
   */
  constructor(
    readonly kit: UniverKit,
    readonly univer: Univer,
    private original: Book,
    library: FunctionLibrary,
    snapshot: IWorkbookData = toSnapshot(original, kit.LocaleType.EN_US),
  ) {
    this.ours = new RegExp(`\\b${library.namespace}\\.`, "i");
    makeIndexLinear(kit);
    mendReading(kit);
    this.api = kit.FUniver.newAPI(univer);
    this.injector = univer.__getInjector();
    // The workbook comes first: Univer makes its formula services with the first workbook.
    this.workbook = univer.createUnit(kit.UniverInstanceType.UNIVER_SHEET, { ...snapshot, id: this.id }) as Workbook;
    registerFunctions(kit, this.injector, library, this.messages);
    mendSheetNames(this.injector.get(kit.FormulaDataModel));
    takeStored(kit, this.injector, this.id, (sheet, row, column) => this.storedAt(sheet, row, column));
    this.follower = this.followTables();
    this.calls = new LiveCalls(kit, this.injector, this.workbook, library, this.messages, () => this.disposed);
    const formulas = this.api.getFormula();
    this.endings.push(
      formulas.calculationStart(() => this.messages.begin()),
      this.injector.get(kit.ICommandService).beforeCommandExecuted((command, options) => {
        if (SHIFTS[command.id]) this.follower.expectShift();
        if (command.id !== TYPED) return;
        if (options?.applyFormulaCalculationResult) this.keepLooks(command.params as Typed);
        else if (!options?.fromFormula) this.rewriteTyped(command.params as Typed);
      }),
      this.injector.get(kit.ICommandService).onCommandExecuted((command, options) => {
        const sheet = (command.params as Moved | undefined)?.subUnitId;
        if (STRUCTURE.has(command.id) && sheet !== undefined)
          this.changes.note(sheet, areaTyped(command.id, command.params as Partial<Typed>));
        if (NAMING.has(command.id)) this.readNamesAnew();
        if (command.id === FILLED) this.noteFilled();
        if (!STRUCTURE.has(command.id) || options?.applyFormulaCalculationResult) return;
        this.unsettled = true;
        if (options?.fromFormula) return;
        if (command.id === TYPED) this.calls.typed(command.params as Typed);
        else this.calls.restructured();
        this.follower.follow(command.id, command.params as Moved);
      }),
    );
  }

  private followTables(): TableFollower {
    const places = this.workbook.getSheetOrders().flatMap((id): [string, Places][] => {
      const sheet = knownSheet(this.original, id);
      return sheet ? [[id, placesOf(sheet)]] : [];
    });
    const reader = this.injector.get(this.kit.LexerTreeBuilder);
    const book: Followed = {
      id: this.id,
      workbook: this.workbook,
      api: this.api,
      valueAt: (sheet, row, column) => this.valueAt(sheet, row, column),
      scoped: () => this.scopedNow(),
      setCell: (...cell) => this.setCell(...cell),
      moved: (formula, rows) => reader.moveFormulaRefOffset(formula, 0, rows),
      ended: () => this.disposed,
    };
    return new TableFollower(book, new Map(places));
  }

  /**
   * Computes the workbook as it was opened; what Univer and Excel disagree on keeps its stored value.
   * @param progress hears what share of our functions' calls is computed
   */
  async open(progress?: (share: number) => void): Promise<void> {
    await this.calls.readInTurns();
    this.markNotComputed();
    await this.recalculate(progress);
    // Only what the engine computed can be otherwise than Excel would have it.
    if (!this.calls.engineHasFormulas) return;
    for (let round = 0; ; round++) {
      const found = disagreements(
        this.original,
        this.book(),
        { tables: tablesOf(this.original), names: this.original.names },
        (formula) => this.ours.test(formula),
      );
      if (found.length === 0 || round === MOST_ROUNDS) return;
      for (const place of found) this.keepAt(place, DISAGREES);
      await this.recalculate();
    }
  }

  /** Cells that formulas fill are the engine's, and what reads them. */
  private noteFilled(): void {
    for (const id of this.workbook.getSheetOrders()) {
      const ranges = this.spillRanges(id);
      for (const r in ranges) {
        for (const c in ranges[Number(r)]) {
          const range = ranges[Number(r)]?.[Number(c)];
          if (range) this.calls.filled(id, fromRange(range));
        }
      }
    }
  }

  /** Computes every formula and resolves when the results stand in the cells. */
  async recalculate(progress?: (share: number) => void): Promise<void> {
    await this.calls.computeAll(progress);
    if (!this.calls.engineHasFormulas) return;
    const start = () =>
      void this.api.executeCommand(
        this.kit.SetFormulaCalculationStartMutation.id,
        { forceCalculation: true },
        { onlyLocal: true },
      );
    const session = this.injector.get(this.kit.FormulaCalculationSessionService);
    // A formula that turns out to fill cells which a call reads takes that call to the engine, too.
    let left: number;
    do {
      left = this.calls.engineFormulas;
      await wholeCalculation(session, start, PATIENCE_MS);
    } while (this.calls.engineFormulas > left);
  }

  /** Computes something outside the cells without disturbing what the cells' errors say. */
  apart<T>(compute: () => Promise<T>): Promise<T> {
    return this.messages.apart(compute);
  }

  /** Resolves when what was typed until now is computed. */
  async settled(): Promise<void> {
    await this.calls.done();
    if (!this.unsettled) return;
    this.unsettled = false;
    if (!this.calls.engineHasFormulas) return;
    await this.api.getFormula().onCalculationResultApplied(PATIENCE_MS);
  }

  private active() {
    return there(this.api.getActiveWorkbook(), "an open workbook");
  }

  /** The workbook now, as a Book. */
  book(): Book {
    return toBook(this.running(this.snapshotWithNames()), this.original);
  }

  /** The same in steps; whoever changes something meanwhile makes the steps worthless. */
  bookInSteps(): Generator<void, Book> {
    return toBookInSteps(this.running(this.snapshotWithNames()), this.original);
  }

  /** What Univer holds, not copied, with the names that it saves beside it. */
  private snapshotWithNames(): IWorkbookData {
    const names = this.injector.get(this.kit.IDefinedNamesService).getDefinedNameMap(this.id) ?? {};
    const resources = [{ name: "SHEET_DEFINED_NAME_PLUGIN", data: JSON.stringify(names) }];
    return { ...this.workbook.getSnapshot(), resources };
  }

  /** One sheet now; undefined when there is none of that name. @param area the cells wanted, all when left out */
  sheet(name: string, area?: Area): SheetNow | undefined {
    return last(this.sheetInSteps(name, area));
  }

  /** The same with pauses: what is edited meanwhile may come or not, and whoever listens for changes asks anew. */
  sheetInTurns(name: string, area?: Area): Promise<SheetNow | undefined> {
    return inTurns(this.sheetInSteps(name, area));
  }

  private *sheetInSteps(name: string, area?: Area): Generator<void, SheetNow | undefined> {
    const id = this.sheetIdOf(name);
    if (id === undefined) return undefined;
    const running = this.running(this.workbook.getSnapshot());
    const { sheets, styles } = yield* toBookInSteps(running, this.original, { sheet: id, area });
    return { sheet: there(sheets[0], "the sheet asked for"), styles };
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
    const cell: ICellData =
      formula === undefined
        ? { f: null, si: null, p: null, v: null, t: null, ...valueData(value) }
        : { f: formula, v: null, t: null, p: null, si: null };
    target.getRange(row, column).setValue(cell);
  }

  /** Puts a number with its format into a cell, as an act that can be undone. */
  setNumber(sheet: string, row: number, column: number, value: number, format: string): void {
    const target = this.api.getActiveWorkbook()?.getSheetByName(sheet);
    if (!target) throw new Error(this.noSheet(sheet));
    target
      .getRange(row, column)
      .setValue({ v: value, t: NUMBER, f: null, si: null, p: null, s: { n: { pattern: format } } });
  }

  /** Calls back when something is put into the cell; returns how to stop. */
  onCell(sheet: string, row: number, column: number, listener: () => void): () => void {
    const id = this.sheetIdOf(sheet);
    const watching = this.injector.get(this.kit.ICommandService).onCommandExecuted((command, options) => {
      if (command.id !== TYPED || options?.applyFormulaCalculationResult) return;
      const { subUnitId, cellValue } = command.params as Typed;
      if (subUnitId === id && cellValue?.[row]?.[column] !== undefined) listener();
    });
    return () => watching.dispose();
  }

  /** Brings the sheet to the front, a hidden one too, and selects the cells. */
  select(sheet: string, area: Area): void {
    const target = this.api.getActiveWorkbook()?.getSheetByName(sheet);
    if (!target) throw new Error(this.noSheet(sheet));
    if (target.isSheetHidden()) target.showSheet();
    target.activate();
    target.getRange(area.row, area.column, area.rows, area.columns).activate();
  }

  /** Adds a sheet after the others; the one in front stays in front. */
  addSheet(content: NewSheet): string {
    const workbook = this.active();
    const front = workbook.getActiveSheet();
    const name = freeSheetName(
      content.name,
      this.workbook.getSheets().map((sheet) => sheet.getName()),
    );
    const styles: CellStyle[] = [];
    const sheet = toWorksheet(
      newBookSheet(name, content, styles),
      undefined,
      { tables: this.follower.tables, scoped: this.scopedNow() },
      (index) => ({ s: toUniverStyle(there(styles[index], "a style")) }),
    );
    const added = workbook.insertSheet(name, { sheet });
    if (content.charts) this.charts.set(added.getSheetId(), content.charts);
    front.activate();
    return name;
  }

  /** Puts cells into a row from column A on, as one act that can be undone. */
  putRow(sheet: string, row: number, cells: readonly NewCell[]): void {
    this.sheetWithRow(sheet, row)
      .getRange(row, 0, 1, cells.length)
      .setValues([cells.map(typedCell)]);
  }

  /** Fills cells of a row as one act that can be undone, when those that are not optional are empty. */
  fillRow(sheet: string, row: number, cells: readonly PlacedCell[]): FilledRow {
    const target = this.sheetWithRow(sheet, row);
    const matrix = target.getSheet().getCellMatrix();
    const isFilled = ({ column }: PlacedCell) => {
      const cell = matrix.getValue(row, column);
      return Boolean(cell && (cell.f || cell.si || (valueOf(cell) ?? "") !== ""));
    };
    const inTheWay = cells.find((cell) => !cell.optional && isFilled(cell));
    if (inTheWay) return { filled: inTheWay.column };
    const free = cells.filter((cell) => !isFilled(cell));
    const columns = free.map(({ column }) => column);
    if (columns.length === 0) return { written: [] };
    const written = this.injector.get(this.kit.ICommandService).syncExecuteCommand("sheet.command.set-range-values", {
      unitId: this.id,
      subUnitId: target.getSheetId(),
      range: { startRow: row, endRow: row, startColumn: Math.min(...columns), endColumn: Math.max(...columns) },
      value: { [row]: Object.fromEntries(free.map((cell) => [cell.column, typedCell(cell)])) },
    });
    if (!written) throw new Error(`Row ${row + 1} of the sheet "${sheet}" could not be written.`);
    return { written: columns };
  }

  /** The sheet, which grows where it has no such row yet. */
  private sheetWithRow(sheet: string, row: number) {
    const target = this.api.getActiveWorkbook()?.getSheetByName(sheet);
    if (!target) throw new Error(this.noSheet(sheet));
    if (row >= target.getMaxRows())
      target.insertRowsAfter(target.getMaxRows() - 1, row + 1 - target.getMaxRows() + SPARE_ROWS);
    return target;
  }

  removeSheet(sheet: string): void {
    const workbook = this.active();
    const target = workbook.getSheetByName(sheet);
    if (!target) throw new Error(this.noSheet(sheet));
    if (!workbook.getSheets().some((other) => other.getSheetName() !== sheet && !other.isSheetHidden()))
      throw new Error(`The sheet "${sheet}" is the only one that shows: a workbook needs one.`);
    workbook.deleteSheet(target);
  }

  clearCells(sheet: string, { row, column, rows, columns }: Area): void {
    const target = this.api.getActiveWorkbook()?.getSheetByName(sheet);
    if (!target) throw new Error(this.noSheet(sheet));
    const empty: ICellData = { v: null, f: null, si: null, p: null, t: null };
    target
      .getRange(row, column, rows, columns)
      .setValues(Array.from({ length: rows }, () => Array.from({ length: columns }, () => empty)));
  }

  /** Calls back after cells changed and everything is computed; returns how to stop. */
  onChange(listener: (change: SheetChange) => void): () => void {
    return this.changes.listen(listener);
  }

  /** Calls back with the sheet's name and the cells when others are selected; returns how to stop. */
  onSelect(listener: (sheet: string, area: Area) => void): () => void {
    let last = "";
    const watching = this.injector.get(this.kit.ICommandService).onCommandExecuted((command) => {
      if (command.id !== "sheet.operation.set-selections") return;
      const { subUnitId, selections } = command.params as {
        subUnitId: string;
        selections: readonly { range: IRange }[];
      };
      const name = this.workbook.getSheetBySheetId(subUnitId)?.getName();
      const range = selections.at(-1)?.range;
      if (name === undefined || !range) return;
      const area = fromRange(range);
      const now = JSON.stringify([name, area]);
      if (now === last) return;
      last = now;
      listener(name, area);
    });
    return () => watching.dispose();
  }

  /** Says that there is no sheet of that name, and which there are. */
  noSheet(name: string): string {
    const names = this.workbook.getSheets().map((sheet) => `"${sheet.getName()}"`);
    return `There is no sheet "${name}" in this workbook; it has ${names.join(", ")}.`;
  }

  sheetIdOf(name: string): string | undefined {
    return this.workbook
      .getSheets()
      .find((sheet) => sheet.getName() === name)
      ?.getSheetId();
  }

  /** Names of functions, ranges and tables that a formula may use. */
  knownNames(): KnownNames {
    return {
      functions: [...this.functionNames()],
      names: this.names().map(({ name }) => name),
      tables: this.follower.tables,
      sheets: this.workbook.getSheets().map((sheet) => sheet.getName()),
    };
  }

  /** What an error says that a formula gave outside any cell, computed as if in the cell given. */
  explain(
    formula: string,
    place: FormulaCell | undefined,
    sheet: string,
    row: number,
    column: number,
    down: number,
    right: number,
    code: string,
  ): string | undefined {
    const said = this.ours.test(formula) ? this.messages.get(sheet, row, column, down, right, code) : undefined;
    if (said) return said;
    if (code !== "#NAME?" && code !== "#REF!" && code !== "#ERROR!" && code !== "#VALUE!") return undefined;
    return findMistake(formula, this.knownNames(), place)?.message;
  }

  dispose(): void {
    this.disposed = true;
    // Univer's progress timer outlives it, and would ask for words that are gone.
    this.injector.get(this.kit.LocaleService).t = (key) => key;
    for (const ending of this.endings) ending.dispose();
    this.univer.dispose();
  }

  /**
   * Rewrites what Univer would read wrongly, before it reaches the cells: formulas, and whole numbers with a fraction.
   */
  private rewriteTyped(typed: Typed): void {
    const sheet = typed.unitId === this.id ? this.workbook.getSheetBySheetId(typed.subUnitId) : undefined;
    if (!sheet) return;
    const around = this.surroundings();
    const scoped = this.scopedNow();
    const lines = typed.cellValue;
    for (const r in lines ?? {}) {
      const line = lines?.[Number(r)];
      for (const c in line ?? {}) {
        const cell = line?.[Number(c)];
        const fraction =
          cell && typeof cell.v === "string" && cell.t !== FORCED_TEXT && !cell.f ? mixedFraction(cell.v) : undefined;
        if (cell && fraction && !this.formatAt(sheet, Number(r), Number(c)))
          Object.assign(cell, { v: fraction.value, t: NUMBER, s: { n: { pattern: fraction.format } } });
        const before = (sheet.getCellMatrix().getValue(Number(r), Number(c))?.custom ?? {}) as Carried;
        const isNew = this.forgetStored(cell, before);
        if (typeof cell?.f !== "string" || !cell.f.startsWith("=")) continue;
        const place = { sheet: sheet.getName(), row: Number(r), column: Number(c) };
        const wrote = cell.f.slice(1);
        const rewritten = readable(wrote, this.follower.tables, place, scoped);
        const kept = isNew
          ? whyNotComputed(wrote, place, around, { ours: this.ours.test(wrote), stored: false })
          : undefined;
        if (rewritten === wrote && kept === undefined) continue;
        const carried: Carried = {
          ...(isNew ? withoutStored(before) : before),
          ...cell.custom,
          wrote,
          ...(kept === undefined ? {} : { kept, keptFormula: `=${rewritten}`, stored: { value: null } }),
        };
        cell.f = `=${rewritten}`;
        cell.custom = { ...carried };
      }
    }
  }

  /**
   * Another formula or value in the cell is computed, whatever was kept there. What Univer writes when references move
   * has a formula and no value, and undoing brings its own marks along; a kept formula that is confirmed unchanged
   * stays kept. Univer has put the new formula into the cell already, so the old one is remembered beside the mark.
   * @returns whether what is typed is something new
   */
  private forgetStored(typed: Nullable<ICellData>, carried: Carried): boolean {
    if (!typed || typed.custom?.kept !== undefined) return false;
    if (typed.v === undefined && typed.p === undefined) {
      if (carried.kept === undefined || typeof typed.f !== "string")
        return typeof typed.f === "string" && carried.stored === undefined;
      typed.custom = { ...carried, keptFormula: typed.f };
      return false;
    }
    if (carried.kept !== undefined && typed.f === carried.keptFormula) return false;
    if ((carried.kept !== undefined || carried.stored !== undefined || carried.empty) && typed.custom === undefined)
      typed.custom = { ...withoutStored(carried) };
    return true;
  }

  /** Formulas that are known beforehand not to be computed as Excel computes them. */
  private markNotComputed(): void {
    const around = this.surroundings();
    for (const [s, { name, rows }] of this.original.sheets.entries()) {
      rows.forEach((cells, row) =>
        cells?.forEach((cell, column) => {
          if (cell?.formula === undefined) return;
          const place = { sheet: name, row, column };
          if (this.calls.has({ ...place, sheet: sheetId(s) })) return;
          const why = whyNotComputed(cell.formula, place, around, {
            ours: this.ours.test(cell.formula),
            stored: cell.value !== null,
          });
          if (why !== undefined) this.keepAt(place, why);
        }),
      );
    }
  }

  private keepAt({ sheet, row, column }: FormulaCell, kept: string): void {
    const cell = this.workbook.getSheetBySheetName(sheet)?.getCellMatrix().getValue(row, column);
    if (cell?.f) cell.custom = { ...cell.custom, kept, keptFormula: cell.f };
  }

  private storedAt(sheet: string, row: number, column: number): Stored | undefined {
    const carried = this.workbook.getSheetBySheetId(sheet)?.getCellMatrix().getValue(row, column)?.custom as
      | Carried
      | undefined;
    return carried?.kept === undefined ? undefined : (carried.stored ?? { value: null });
  }

  private surroundings(): Surroundings {
    const { original } = this;
    const hidden = new Map<string, boolean>();
    const formats = function* (sheet: string, { row, column, rows, columns }: Area): Iterable<string> {
      const lines = original.sheets.find(({ name }) => name.toLowerCase() === sheet.toLowerCase())?.rows ?? [];
      for (let r = row; r < Math.min(row + rows, lines.length); r++) {
        for (const cell of lines[r]?.slice(column, column + columns) ?? [])
          if (cell?.style !== undefined) yield original.styles[cell.style]?.format ?? "General";
      }
    };
    return {
      functions: this.functionNames(),
      names: original.names,
      tables: this.follower.tables,
      datesFrom1904: original.datesFrom1904 === true,
      formats,
      hasHiddenRows: (name) => {
        let found = hidden.get(name);
        if (found === undefined) {
          const rows = this.workbook.getSheetBySheetName(name)?.getConfig().rowData ?? {};
          hidden.set(name, (found = Object.values(rows).some((row) => row?.hd === 1)));
        }
        return found;
      },
    };
  }

  private functionNames(): ReadonlySet<string> {
    const executors = this.injector.get(this.kit.IFunctionService).getExecutors();
    return new Set([...executors.keys()].map((name) => String(name).toUpperCase()));
  }

  /** The names of single sheets, by what the sheets are called now; "" for a sheet that is gone. */
  private scopedNow(): ScopedName[] {
    const { names, sheets } = this.original;
    const ids = new Map(sheets.map(({ name }, i) => [name, sheetId(i)]));
    return scopedNames(names).map((one) => ({
      ...one,
      sheet: this.workbook.getSheetBySheetId(ids.get(one.sheet) ?? "")?.getName() ?? "",
    }));
  }

  private formatAt(sheet: Worksheet, row: number, column: number): string | undefined {
    return this.workbook.getStyles().getStyleByCell(sheet.getCellMatrix().getValue(row, column))?.n?.pattern;
  }

  /**
   * A result that comes with a number format of its own (a sum of dates) does not change a cell that was opened with
   * one.
   */
  private keepLooks(results: Typed): void {
    const sheet = results.unitId === this.id ? this.workbook.getSheetBySheetId(results.subUnitId) : undefined;
    if (!sheet) return;
    const lines = results.cellValue;
    for (const r in lines ?? {}) {
      const line = lines?.[Number(r)];
      for (const c in line ?? {}) {
        const cell = line?.[Number(c)];
        if (cell?.s && sheet.getCellMatrix().getValue(Number(r), Number(c))?.custom?.opened) delete cell.s;
      }
    }
  }

  /**
   * Univer goes on reading named ranges as it read them first; it is made to forget that, and to compute everything.
   */
  private readNamesAnew(): void {
    if (this.naming) return;
    this.naming = true;
    this.unsettled = true;
    queueMicrotask(() => {
      this.naming = false;
      if (this.disposed) return;
      this.injector.get(this.kit.IFunctionService).deleteFormulaAstCacheKey(...this.names().map(({ name }) => name));
      this.api.getFormula().executeCalculation();
    });
  }

  private names(): readonly { readonly name: string }[] {
    return Object.values(this.injector.get(this.kit.IDefinedNamesService).getDefinedNameMap(this.id) ?? {});
  }

  private running(snapshot: IWorkbookData): Running {
    const model = this.injector.get(this.kit.FormulaDataModel);
    const cells = model.getArrayFormulaCellData()?.[this.id];
    const ranges = model.getArrayFormulaRange()?.[this.id];
    return {
      snapshot,
      spilledCells: (sheet) => cells?.[sheet] ?? undefined,
      spillRanges: (sheet) => ranges?.[sheet] ?? undefined,
      places: (sheet) => this.follower.placesOn(sheet),
      tables: this.follower.tables,
      scoped: this.scopedNow(),
      pictures: (sheet) => this.picturesOf(sheet),
      charts: (sheet) => this.charts.get(sheet) ?? [],
      messageAt: (sheet, row, column, code) => this.message(sheet, row, column, code),
    };
  }

  private valueAt(id: string, row: number, column: number): CellValue {
    const cell = this.workbook.getSheetBySheetId(id)?.getCellMatrix().getValue(row, column);
    const value = cell ? valueOf(cell) : null;
    if (value !== null) return value;
    const spilled = this.injector.get(this.kit.FormulaDataModel).getArrayFormulaCellData()?.[this.id]?.[id]?.[row]?.[
      column
    ];
    return spilled ? valueOf(spilled) : null;
  }

  private message(id: string, row: number, column: number, code: string): string | undefined {
    const [anchorRow, anchorColumn] = this.anchorOf(id, row, column);
    const formula = this.workbook.getSheetBySheetId(id)?.getCellMatrix().getValue(anchorRow, anchorColumn)?.f;
    if (typeof formula !== "string") return undefined;
    const why = (
      this.workbook.getSheetBySheetId(id)?.getCellMatrix().getValue(anchorRow, anchorColumn)?.custom as
        | Carried
        | undefined
    )?.kept;
    if (why !== undefined)
      return `Kept as stored: ${why}. Your spreadsheet program computes it when it opens the copy.`;
    if (code === "#SPILL!") return this.blockedBy(id, row, column);
    const place = {
      sheet: there(this.workbook.getSheetBySheetId(id) || undefined, "the sheet of the formula").getName(),
      row: anchorRow,
      column: anchorColumn,
    };
    return this.explain(
      formula.replace(/^=/, ""),
      place,
      id,
      anchorRow,
      anchorColumn,
      row - anchorRow,
      column - anchorColumn,
      code,
    );
  }

  /** The cell whose formula fills this one. */
  private anchorOf(id: string, row: number, column: number): [number, number] {
    const ranges = this.spillRanges(id);
    for (const r in ranges ?? {}) {
      if (Number(r) > row) continue;
      const line = ranges?.[Number(r)];
      for (const c in line ?? {}) {
        const range = line?.[Number(c)];
        if (
          range &&
          row >= range.startRow &&
          row <= range.endRow &&
          column >= range.startColumn &&
          column <= range.endColumn
        )
          return [Number(r), Number(c)];
      }
    }
    return [row, column];
  }

  /** The cells that formulas of a sheet fill besides their own, by where the formulas stand. */
  private spillRanges(id: string) {
    return this.injector.get(this.kit.FormulaDataModel).getArrayFormulaRange()?.[this.id]?.[id];
  }

  private blockedBy(id: string, row: number, column: number): string | undefined {
    const range = this.spillRanges(id)?.[row]?.[column];
    const sheet = this.workbook.getSheetBySheetId(id);
    if (!range || !sheet) return undefined;
    const area: Area = {
      row,
      column,
      rows: range.endRow - range.startRow + 1,
      columns: range.endColumn - range.startColumn + 1,
    };
    const needs = `The result fills ${areaAddress(area)}`;
    for (let r = row; r < row + area.rows; r++) {
      for (let c = column; c < column + area.columns; c++) {
        const cell = r === row && c === column ? undefined : sheet.getCellMatrix().getValue(r, c);
        if (cell && (valueOf(cell) !== null || cell.f))
          return `${needs}, but ${quoteSheetName(sheet.getName())}!${cellAddress(r, c)} is not empty. Clear it or move the formula.`;
      }
    }
    return `${needs}, and something is in the way or the sheet ends before. Clear those cells or move the formula.`;
  }
}
