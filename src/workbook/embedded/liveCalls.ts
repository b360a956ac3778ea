/**
 * Calls of our functions in a running workbook, computed apart from Univer's engine and in turns short enough for a
 * page; README.md says why. The engine is given the other formulas only, and reads what is computed here.
 */
import type { ICellData, Injector, IObjectMatrixPrimitiveType, Nullable, Workbook, Worksheet } from "@univerjs/core";
import { Failure, sheetFunctions, type AnswerCell, type FunctionLibrary } from "../../functions/call";
import type { Listener } from "../../hosts/embedded/bankFunctions";
import type { UniverKit } from "../../hosts/embedded/univerKit";
import type { Area } from "../book";
import { CallColumns, type Given, type Place } from "../columns/callColumns";
import { TYPED, type Typed } from "./commands";
import { isErrorCode } from "./formula/errorCodes";
import { inTurns, last } from "../turns";
import { mendFormulaData, type FormulasOfSheets } from "./mended/formulaData";

/** How long a page may compute before it looks after its user again, in ms. */
const TURN_MS = 25;

const TEXT = 1;
const NUMBER = 2;
const BOOLEAN = 3;
const FORCED_TEXT = 4;

type Cells = IObjectMatrixPrimitiveType<Nullable<ICellData>>;

export class LiveCalls {
  private readonly columns: CallColumns;
  /** The command that tells the engine of changed cells. */
  private readonly forEngine: string;
  /** The engine's formulas, by sheet, row and column. */
  private readonly engine: FormulasOfSheets = {};
  private engineCount = 0;
  /** Some formula stands for several cells in Univer's own way: then Univer is asked which there are. */
  private shared = false;
  /** Rows, columns or sheets came or went: everything is read anew before it is used. */
  private stale = true;
  /** What is to be told of cells that hold new results, or that became the engine's. */
  private news = new Map<string, Cells>();
  private running: Promise<void> | undefined;
  private computedOnce = false;
  private readonly textLooks = new Map<string, boolean>();
  private readonly sheets = new Map<string, Worksheet>();

  /** @param listener hears what functions say of errors @param ended whether the workbook is gone */
  constructor(
    private readonly kit: UniverKit,
    private readonly injector: Injector,
    private readonly workbook: Workbook,
    library: FunctionLibrary,
    private readonly listener: Listener,
    private readonly ended: () => boolean,
  ) {
    this.columns = new CallColumns(sheetFunctions(library), {
      given: (place) => this.given(place),
      sheetNamed: (name) => this.workbook.getSheetBySheetName(name)?.getSheetId(),
      reaches: ({ sheet, row, column }) => {
        const found = this.sheet(sheet);
        return found !== undefined && row < found.getRowCount() && column < found.getColumnCount();
      },
      computed: (place, answer) => this.computed(place, answer),
      givenUp: (place) => this.givenUp(place),
    });
    this.forEngine = toldToEngine(kit, injector);
    mendFormulaData(kit, injector, workbook, {
      engine: () => {
        this.refresh();
        return this.engine;
      },
      shared: () => this.shared,
      elsewhere: (place) => this.columns.has(place),
    });
  }

  /** How many formulas are left to the engine. */
  get engineFormulas(): number {
    this.refresh();
    return this.engineCount;
  }

  /** Whether any is. */
  get engineHasFormulas(): boolean {
    return this.engineFormulas > 0;
  }

  /** Whether the formula in the cell is computed here. */
  has(place: Place): boolean {
    this.refresh();
    return this.columns.has(place);
  }

  /** Rows, columns or sheets came or went. */
  restructured(): void {
    if (this.stale) return;
    this.stale = true;
    setTimeout(() => {
      if (!this.ended()) this.go();
    });
  }

  /** Something was put into cells. */
  typed({ subUnitId: sheet, cellValue = {} }: Typed): void {
    if (this.stale) return;
    const matrix = this.sheet(sheet)?.getCellMatrix();
    if (!matrix) return;
    for (const r in cellValue) {
      for (const c in cellValue[Number(r)]) {
        const place = { sheet, row: Number(r), column: Number(c) };
        this.read(place, matrix.getValue(place.row, place.column));
        this.columns.changed(place);
      }
    }
    this.go();
  }

  /** Formulas fill these cells besides their own. */
  filled(sheet: string, { row, column, rows, columns }: Area): void {
    if (this.stale) return;
    for (let r = row; r < row + rows; r++)
      for (let c = column; c < column + columns; c++)
        if (r > row || c > column) this.columns.filled({ sheet, row: r, column: c });
    this.tell();
  }

  /**
   * Computes every call anew. Nobody is told of the results: the engine is to compute all of its own next.
   * @param progress hears what share is done
   */
  async computeAll(progress: (share: number) => void = () => {}): Promise<void> {
    while (this.running) await this.running;
    // What was read and never computed, as on opening, need not be read again.
    if (this.computedOnce) this.stale = true;
    this.computedOnce = true;
    this.refresh();
    const all = this.columns.waiting;
    while (!this.columns.compute(TURN_MS)) {
      progress(1 - this.columns.waiting / all);
      await this.turn();
    }
    this.news.clear();
  }

  /** Resolves when every call is computed. */
  async done(): Promise<void> {
    this.refresh();
    this.go();
    while (this.running) await this.running;
  }

  /** Computes what waits: at once what fits into one turn, the rest in turns. */
  private go(): void {
    this.refresh();
    if (this.running) return;
    if (this.step()) return;
    this.running = this.steps().finally(() => (this.running = undefined));
  }

  private async steps(): Promise<void> {
    do await this.turn();
    while (!this.ended() && !this.step());
  }

  private step(): boolean {
    const done = this.columns.compute(TURN_MS);
    this.tell();
    return done;
  }

  private turn(): Promise<void> {
    return new Promise((resolve) => setTimeout(resolve));
  }

  /** Reads the formulas of a workbook that was just opened, in turns. */
  async readInTurns(): Promise<void> {
    await inTurns(this.reading());
  }

  /** Reads the formulas of the workbook anew where that is needed. */
  private refresh(): void {
    if (!this.stale) return;
    last(this.reading());
  }

  private *reading(): Generator<void> {
    this.stale = false;
    this.shared = false;
    this.sheets.clear();
    this.columns.clear();
    for (const sheet of Object.keys(this.engine)) delete this.engine[sheet];
    this.engineCount = 0;
    for (const sheet of this.workbook.getSheets()) this.sheets.set(sheet.getSheetId(), sheet);
    for (const [id, sheet] of this.sheets) {
      const rows = sheet.getCellMatrix().getMatrix();
      for (const r in rows) {
        const line = rows[Number(r)];
        for (const c in line) {
          const cell = line[Number(c)];
          if (cell?.f || cell?.si) this.read({ sheet: id, row: Number(r), column: Number(c) }, cell);
        }
        yield;
      }
    }
    const ranges = this.injector.get(this.kit.FormulaDataModel).getArrayFormulaRange()?.[this.workbook.getUnitId()];
    for (const sheet in ranges) this.noteFilled(sheet, ranges[sheet]);
  }

  private noteFilled(sheet: string, ranges: IObjectMatrixPrimitiveType<Nullable<Filled>> | null | undefined): void {
    for (const r in ranges) {
      for (const c in ranges[Number(r)]) {
        const range = ranges[Number(r)]?.[Number(c)];
        if (!range) continue;
        const { startRow: row, startColumn: column, endRow, endColumn } = range;
        this.filled(sheet, { row, column, rows: endRow - row + 1, columns: endColumn - column + 1 });
      }
    }
  }

  /** What the cell holds now is known from here on. */
  private read(place: Place, cell: Nullable<ICellData>): void {
    const { sheet, row, column } = place;
    const line = this.engine[sheet]?.[row];
    if (line?.[column]) {
      delete line[column];
      this.engineCount--;
    }
    if (cell?.si) this.shared = true;
    const formula = typeof cell?.f === "string" && cell.f.startsWith("=") ? cell.f.slice(1) : undefined;
    const holds = formula ?? (cell?.si ? "" : undefined);
    if (!this.columns.put(place, holds) && holds !== undefined) this.toEngine(place, cell?.f ?? "");
  }

  private toEngine({ sheet, row, column }: Place, formula: string): void {
    const rows = (this.engine[sheet] ??= {});
    const line = (rows[row] ??= {});
    if (!line[column]) this.engineCount++;
    line[column] = { f: formula };
  }

  private givenUp(place: Place): void {
    const cell = this.sheet(place.sheet)?.getCellMatrix().getValue(place.row, place.column);
    if (!cell?.f && !cell?.si) return;
    this.toEngine(place, cell.f ?? "");
    // Put in once more as it is, so that the engine computes it.
    this.note(place, { v: cell.v ?? null, t: cell.t ?? null });
  }

  private computed(place: Place, answer: Exclude<AnswerCell, null>): void {
    const { sheet, row, column } = place;
    const cell = this.sheet(sheet)?.getCellMatrix().getValue(row, column);
    if (!cell) return;
    this.listener.enter(sheet, row, column);
    if (answer instanceof Failure) this.listener.say(sheet, row, column, 0, 0, answer.code, answer.message);
    const result = resultData(answer);
    if (cell.v === result.v && cell.t === result.t) return;
    // In place, because the next call may read it; who else wants to know is told at the end of the turn.
    Object.assign(cell, result);
    this.note(place, result);
  }

  private note({ sheet, row, column }: Place, cell: ICellData): void {
    let cells = this.news.get(sheet);
    if (!cells) this.news.set(sheet, (cells = {}));
    (cells[row] ??= {})[column] = cell;
  }

  /** Lets the screen and the panel know of new results, and then the engine. */
  private tell(): void {
    const news = this.news;
    if (news.size === 0) return;
    this.news = new Map();
    const commands = this.injector.get(this.kit.ICommandService);
    const unitId = this.workbook.getUnitId();
    for (const [subUnitId, cellValue] of news) {
      const results: Typed = { unitId, subUnitId, cellValue };
      // Local changes do not reach those who take a value for something typed, which ends the formula, nor the engine.
      commands.syncExecuteCommand(TYPED, results, { fromFormula: true, onlyLocal: true });
      if (this.engineCount > 0) commands.syncExecuteCommand(this.forEngine, results);
    }
  }

  private sheet(id: string): Worksheet | undefined {
    return this.sheets.get(id);
  }

  /** What the cell gives to a call, as the engine would read it; undefined where only the engine can say. */
  private given({ sheet, row, column }: Place): Given | undefined {
    const cell = this.sheet(sheet)?.getCellMatrix().getValue(row, column);
    if (!cell) return null;
    if (cell.p) return undefined;
    const { v, t } = cell;
    if (v === undefined || v === null || (v === "" && !cell.f)) return cell.f || cell.si ? undefined : null;
    if (typeof v === "string" && v.startsWith("#")) return isErrorCode(v) ? { error: v } : undefined;
    if (t === TEXT || t === FORCED_TEXT) return String(v);
    if (t === BOOLEAN) return v === 1 || v === true ? true : v === 0 || v === false ? false : undefined;
    if (t !== NUMBER && t !== undefined && t !== null) return undefined;
    if (typeof v !== "number" || !Number.isFinite(v)) return undefined;
    return this.showsText(cell) ? (t === NUMBER ? String(v) : undefined) : v;
  }

  /** Whether the cell's format says that whatever stands in it is text. */
  private showsText(cell: ICellData): boolean {
    const { s } = cell;
    if (!s) return false;
    const known = typeof s === "string" ? this.textLooks.get(s) : undefined;
    if (known !== undefined) return known;
    const pattern = this.workbook.getStyles().getStyleByCell(cell)?.n?.pattern ?? "";
    const found = pattern === "@" || pattern === "@@@";
    if (typeof s === "string") this.textLooks.set(s, found);
    return found;
  }
}

/** Registers a command that changes nothing and makes the engine compute what reads the cells that it names. */
function toldToEngine(kit: UniverKit, injector: Injector): string {
  const id = "bendbook.mutation.results";
  const commands = injector.get(kit.ICommandService);
  if (!commands.hasCommand(id)) commands.registerCommand({ id, type: kit.CommandType.MUTATION, handler: () => true });
  const dirty = injector.get(kit.IActiveDirtyManagerService);
  const shipped = dirty.get(TYPED);
  if (shipped) dirty.register(id, { commandId: id, getDirtyData: (command) => shipped.getDirtyData(command) });
  return id;
}

interface Filled {
  readonly startRow: number;
  readonly startColumn: number;
  readonly endRow: number;
  readonly endColumn: number;
}

/** A result as Univer's cells hold it. */
function resultData(answer: Exclude<AnswerCell, null>): Pick<ICellData, "v" | "t"> {
  if (answer instanceof Failure) return { v: answer.code, t: TEXT };
  if (typeof answer === "number") return { v: answer, t: NUMBER };
  if (typeof answer === "boolean") return { v: answer ? 1 : 0, t: BOOLEAN };
  return { v: answer, t: TEXT };
}
