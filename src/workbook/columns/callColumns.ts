/**
 * The calls of a workbook, kept column by column and computed apart from any engine: which cells hold one, which read
 * which, and what is to be computed after a change.
 *
 * Rows that hold the same call of their own neighbours share one form, so a column of 100,000 formulas is one form and
 * a list of numbers. A call that reads what only the engine knows (another formula, a cell that a formula fills, a cell
 * with looks inside its text), that stands in a circle, or that gives several cells, is the engine's: once given up, a
 * cell stays the engine's until the workbook is read anew, and so does every call that reads it. So the engine reads
 * these results and never the other way round, and neither waits for the other.
 */
import type { AnswerCell, SheetFunction } from "../../functions/call";
import { Failure } from "../../functions/call";
import type { CellError } from "../book";
import { callIn, type Call } from "./callFormula";

/** What a cell gives to a call. */
export type Given = number | string | boolean | null | CellError;

/** A cell of the running workbook; sheets go by the workbook's own ids for them. */
export interface Place {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
}

/** The workbook whose calls these are. */
export interface CallCells {
  /** What the cell gives to a call; undefined where only the engine can say. */
  given(place: Place): Given | undefined;
  /** The id of the sheet that formulas name so; undefined when there is none. */
  sheetNamed(name: string): string | undefined;
  /** Whether the sheet reaches so far. */
  reaches(place: Place): boolean;
  /** A call was computed. */
  computed(place: Place, answer: Exclude<AnswerCell, null>): void;
  /** The formula in the cell is the engine's from now on. */
  givenUp(place: Place): void;
}

interface CellSource {
  readonly sheet: string;
  readonly column: number;
  /** The row itself when fixed, otherwise how many rows below the formula's. */
  readonly row: number;
  readonly fixed: boolean;
}

type Source = CellSource | { readonly value: number | string | boolean | null };

/** A call as it reads in every row of one column that holds the same. */
interface Form {
  readonly number: number;
  readonly sheet: string;
  readonly column: number;
  readonly called: SheetFunction;
  readonly sources: readonly Source[];
}

/** Codes of cells besides the numbers of forms. */
const NONE = 0;
const ENGINE = -1;
const FILLED = -2;

const CLEAN = 0;
const DIRTY = 1;
const UNDER_WAY = 2;

/** How often the clock is asked while calls are computed. */
const CLOCK_EVERY = 64;

/** What is known of one column. */
class Column {
  private codes = new Int32Array(256);
  private states = new Uint8Array(256);
  /** Who reads the column: forms that read the row so far below their own, and forms that read one row. */
  readonly readers: { readonly form: Form; readonly row: number; readonly fixed: boolean }[] = [];

  constructor(
    readonly sheet: string,
    readonly column: number,
  ) {}

  get length(): number {
    return this.codes.length;
  }

  code(row: number): number {
    return this.codes[row] ?? NONE;
  }

  state(row: number): number {
    return this.states[row] ?? CLEAN;
  }

  set(row: number, code: number, state: number): void {
    if (row >= this.codes.length) {
      if (code === NONE && state === CLEAN) return;
      const size = Math.max(row + 1, this.codes.length * 2);
      const [codes, states] = [new Int32Array(size), new Uint8Array(size)];
      codes.set(this.codes);
      states.set(this.states);
      [this.codes, this.states] = [codes, states];
    }
    this.codes[row] = code;
    this.states[row] = state;
  }
}

export class CallColumns {
  private readonly columns = new Map<string, Column>();
  private readonly forms: (Form | undefined)[] = [undefined];
  private readonly formByKey = new Map<string, Form>();
  private readonly functions: ReadonlyMap<string, SheetFunction>;
  /** Functions that gave several cells at least once. */
  private readonly spilling = new Set<string>();
  private readonly queue: { readonly at: Column; readonly row: number }[] = [];
  private next = 0;

  constructor(
    functions: readonly SheetFunction[],
    private readonly cells: CallCells,
  ) {
    this.functions = new Map(functions.map((one) => [one.name, one]));
  }

  /** Forgets every cell. */
  clear(): void {
    this.columns.clear();
    this.formByKey.clear();
    this.forms.length = 1;
    this.queue.length = 0;
    this.next = 0;
  }

  /** How many calls wait to be computed. */
  get waiting(): number {
    return this.queue.length - this.next;
  }

  /** Whether the call in the cell is computed here. */
  has({ sheet, row, column }: Place): boolean {
    return (this.columns.get(keyOf(sheet, column))?.code(row) ?? NONE) > 0;
  }

  /**
   * Notes the formula that a cell now holds, without "="; undefined for none. A call waits to be computed; what reads
   * the cell is not touched (`changed` does that).
   * @returns whether it is computed here
   */
  put(place: Place, formula: string | undefined): boolean {
    const { sheet, row, column } = place;
    const form = formula === undefined ? undefined : this.formOf(place, formula);
    if (formula === undefined) {
      this.columns.get(keyOf(sheet, column))?.set(row, NONE, CLEAN);
      return false;
    }
    const at = this.columnAt(sheet, column);
    if (!form) {
      at.set(row, ENGINE, CLEAN);
      this.giveUpReaders(at, row);
      return false;
    }
    at.set(row, form.number, DIRTY);
    this.queue.push({ at, row });
    return true;
  }

  /** What stands in the cell is another value: whatever reads it, near or far, waits to be computed. */
  changed({ sheet, row, column }: Place): void {
    const walk: [string, number, number][] = [[sheet, column, row]];
    for (let one = walk.pop(); one; one = walk.pop()) {
      const [fromSheet, fromColumn, fromRow] = one;
      this.eachReader(fromSheet, fromColumn, fromRow, (at, r) => {
        if (at.state(r) !== CLEAN) return;
        at.set(r, at.code(r), DIRTY);
        this.queue.push({ at, row: r });
        walk.push([at.sheet, at.column, r]);
      });
    }
  }

  /** A formula elsewhere fills the cell: what reads it is the engine's. */
  filled({ sheet, row, column }: Place): void {
    const at = this.columnAt(sheet, column);
    if (at.code(row) !== NONE) return;
    at.set(row, FILLED, CLEAN);
    this.giveUpReaders(at, row);
  }

  /**
   * Computes what waits, at most for so many ms.
   * @returns whether all of it is done
   */
  compute(budget: number): boolean {
    const end = performance.now() + budget;
    let count = 0;
    while (this.next < this.queue.length) {
      if (++count % CLOCK_EVERY === 0 && performance.now() > end) return false;
      const one = this.queue[this.next++];
      if (one) this.resolve(one.at, one.row);
    }
    this.queue.length = 0;
    this.next = 0;
    return true;
  }

  /** Computes one call after those that it reads. */
  private resolve(first: Column, firstRow: number): void {
    const stack: [Column, number][] = [[first, firstRow]];
    for (let top = stack.at(-1); top; top = stack.at(-1)) {
      const [at, row] = top;
      const form = at.code(row) > 0 ? this.forms[at.code(row)] : undefined;
      if (!form || at.state(row) === CLEAN) {
        stack.pop();
        continue;
      }
      at.set(row, form.number, UNDER_WAY);
      const unknown = this.unknownSources(form, row);
      if (unknown === undefined) this.giveUp(at, row);
      else if (unknown.length > 0) {
        stack.push(...unknown);
        continue;
      } else this.computeCall(form, at, row);
      stack.pop();
    }
  }

  /** The calls that this one reads and that are not computed yet; undefined when it is the engine's. */
  private unknownSources(form: Form, row: number): [Column, number][] | undefined {
    const unknown: [Column, number][] = [];
    for (const source of form.sources) {
      if (!("sheet" in source)) continue;
      const at = this.columns.get(keyOf(source.sheet, source.column));
      if (!at) continue;
      const r = source.fixed ? source.row : row + source.row;
      if (at.code(r) < 0 || at.state(r) === UNDER_WAY) return undefined;
      if (at.state(r) === DIRTY) unknown.push([at, r]);
    }
    return unknown;
  }

  private computeCall(form: Form, at: Column, row: number): void {
    const place = { sheet: form.sheet, row, column: form.column };
    const given: (Given | undefined)[] = form.sources.map((source) =>
      "sheet" in source
        ? this.cells.given({
            sheet: source.sheet,
            column: source.column,
            row: source.fixed ? source.row : row + source.row,
          })
        : source.value,
    );
    if (given.includes(undefined)) return this.giveUp(at, row);
    const answer = form.called.call(
      form.sources.map((source, i) => ("sheet" in source ? [[given[i]]] : given[i])),
      (value) => (Array.isArray(value) ? value : [[value]]),
    );
    const cell = answer instanceof Failure ? answer : answer.length === 1 ? answer[0]?.[0] : undefined;
    if (!(answer instanceof Failure) && (answer.length > 1 || (answer[0]?.length ?? 0) > 1))
      this.spilling.add(form.called.name);
    if (cell === undefined || cell === null || this.spilling.has(form.called.name)) return this.giveUp(at, row);
    at.set(row, form.number, CLEAN);
    this.cells.computed(place, cell);
  }

  /** The formula in the cell is the engine's, and so are the calls that read it, near or far. */
  private giveUp(at: Column, row: number): void {
    if (at.code(row) === ENGINE) return;
    at.set(row, ENGINE, CLEAN);
    this.cells.givenUp({ sheet: at.sheet, row, column: at.column });
    this.giveUpReaders(at, row);
  }

  private giveUpReaders(from: Column, fromRow: number): void {
    const walk: [Column, number][] = [[from, fromRow]];
    for (let one = walk.pop(); one; one = walk.pop()) {
      const [at, row] = one;
      this.eachReader(at.sheet, at.column, row, (reader, r) => {
        reader.set(r, ENGINE, CLEAN);
        this.cells.givenUp({ sheet: reader.sheet, row: r, column: reader.column });
        walk.push([reader, r]);
      });
    }
  }

  private eachReader(sheet: string, column: number, row: number, visit: (at: Column, row: number) => void): void {
    for (const { form, row: offset, fixed } of this.columns.get(keyOf(sheet, column))?.readers ?? []) {
      if (fixed && offset !== row) continue;
      const at = this.columnAt(form.sheet, form.column);
      if (!fixed) {
        if (row - offset >= 0 && at.code(row - offset) === form.number) visit(at, row - offset);
        continue;
      }
      for (let r = 0; r < at.length; r++) if (at.code(r) === form.number) visit(at, r);
    }
  }

  private columnAt(sheet: string, column: number): Column {
    const key = keyOf(sheet, column);
    let found = this.columns.get(key);
    if (!found) this.columns.set(key, (found = new Column(sheet, column)));
    return found;
  }

  /** The form of the call that the formula is; undefined when it is the engine's. */
  private formOf(place: Place, formula: string): Form | undefined {
    const call = callIn(formula);
    const called = call && this.functions.get(call.name);
    if (!call || !called || this.spilling.has(call.name)) return undefined;
    const sources = this.sourcesOf(place, call);
    if (!sources) return undefined;
    const at = this.columnAt(place.sheet, place.column);
    // Most formulas are as the one above.
    const above = this.forms[Math.max(NONE, at.code(place.row - 1))];
    if (above?.called === called && alike(above.sources, sources)) return above;
    const key = JSON.stringify([place.sheet, place.column, call.name, sources]);
    return this.formByKey.get(key) ?? this.newForm(key, place, called, sources);
  }

  private newForm(key: string, { sheet, column }: Place, called: SheetFunction, sources: readonly Source[]): Form {
    const form: Form = { number: this.forms.length, sheet, column, called, sources };
    this.forms.push(form);
    this.formByKey.set(key, form);
    for (const source of sources)
      if ("sheet" in source)
        this.columnAt(source.sheet, source.column).readers.push({ form, row: source.row, fixed: source.fixed });
    return form;
  }

  private sourcesOf(place: Place, call: Call): Source[] | undefined {
    const sources: Source[] = [];
    for (const argument of call.arguments) {
      if (!argument) sources.push({ value: null });
      else if (argument.kind === "constant") sources.push({ value: argument.value });
      else {
        const { column, row } = argument.first;
        const sheet = argument.sheet === undefined ? place.sheet : this.cells.sheetNamed(argument.sheet);
        if (sheet === undefined || !this.cells.reaches({ sheet, row: row.at, column })) return undefined;
        sources.push({ sheet, column, row: row.fixed ? row.at : row.at - place.row, fixed: row.fixed });
      }
    }
    return sources;
  }
}

function alike(a: readonly Source[], b: readonly Source[]): boolean {
  return (
    a.length === b.length &&
    a.every((one, i) => {
      const other = b[i];
      if (!other || !("sheet" in one) || !("sheet" in other))
        return other !== undefined && !("sheet" in one) && !("sheet" in other) && one.value === other.value;
      const { sheet, column, row, fixed } = other;
      return one.row === row && one.column === column && one.fixed === fixed && one.sheet === sheet;
    })
  );
}

function keyOf(sheet: string, column: number): string {
  return `${column} ${sheet}`;
}
