/** Computes a formula's tree. Where Excel's rules are more than plain, it is left to the engine. */
import Decimal from "decimal.js";
import { Failure, type AnswerCell, type SheetFunction } from "../../functions/call";
import { isCellError, type Area, type CellError, type CellValue } from "../book";
import type { Edge, Node } from "../formula/tree";
import { NeedsEngine } from "./parse";

/** One value, or the rows of several; a reference is rows always, so that a blank cell is no missing argument. */
export type Value = CellValue | readonly (readonly CellValue[])[];

/** What the formula stands among. */
export interface FormulaWorld {
  readonly functions: ReadonlyMap<string, SheetFunction>;
  /** Row of the cell with the formula. */
  readonly row: number;
  /** Values of an area; `sheet` is undefined for the formula's own. @throws NeedsEngine where there is none */
  cells(sheet: string | undefined, area: Area): readonly (readonly CellValue[])[];
  /** What a structured reference means here. @throws NeedsEngine */
  table(name: string, bracket: string): { readonly sheet: string; readonly area: Area };
  /** What a name means here. @throws NeedsEngine */
  name(sheet: string | undefined, name: string): { readonly sheet: string; readonly area: Area };
}

/** @throws NeedsEngine */
export function evaluateNode(node: Node, around: FormulaWorld): Value {
  switch (node.kind) {
    case "constant":
      return node.value;
    case "array":
      return node.rows;
    case "area":
      return around.cells(node.sheet, areaOf(node, around.row));
    case "table": {
      const { sheet, area } = around.table(node.name, node.bracket);
      return around.cells(sheet, area);
    }
    case "name": {
      const { sheet, area } = around.name(node.sheet, node.name);
      return around.cells(sheet, area);
    }
    case "negative":
      return times(single(evaluateNode(node.of, around)), -1);
    case "hundredth":
      return decimals("/", single(evaluateNode(node.of, around)), 100);
    case "pair":
      return paired(node.sign, single(evaluateNode(node.left, around)), single(evaluateNode(node.right, around)));
    case "call":
      return called(node, around);
    default:
      return node satisfies never;
  }
}

/** The rectangle that a reference means in a row. */
export function areaOf({ first, last }: Extract<Node, { kind: "area" }>, row: number): Area {
  const at = (edge: Edge) => (edge.fixed ? edge.at : edge.at + row);
  const [a, b] = [at(first.row), at(last.row)];
  if (a < 0 || b < 0) throw new NeedsEngine();
  return {
    row: Math.min(a, b),
    column: Math.min(first.column, last.column),
    rows: Math.abs(a - b) + 1,
    columns: Math.abs(first.column - last.column) + 1,
  };
}

function isRows(value: Value): value is readonly (readonly CellValue[])[] {
  return Array.isArray(value);
}

/** A value where one belongs. */
function single(value: Value): CellValue {
  if (!isRows(value)) return value;
  const [line] = value;
  if (value.length !== 1 || line?.length !== 1) throw new NeedsEngine();
  return line[0] ?? null;
}

function times(value: CellValue, by: number): CellValue {
  if (isCellError(value)) return value;
  if (typeof value !== "number") throw new NeedsEngine();
  return value === 0 ? 0 : value * by;
}

function paired(sign: string, left: CellValue, right: CellValue): CellValue {
  if (isCellError(left)) return left;
  if (isCellError(right)) return right;
  if (sign === "&") {
    if (typeof left !== "string" || typeof right !== "string") throw new NeedsEngine();
    return left + right;
  }
  return /^[-+*/^]$/.test(sign) ? decimals(sign, left, right) : compared(sign, left, right);
}

/** In decimals of 20 digits where the result is no whole number: 0.1 + 0.2 is 0.3, as in the engine. */
function decimals(sign: string, left: CellValue, right: CellValue): CellValue {
  if (isCellError(left)) return left;
  if (typeof left !== "number" || typeof right !== "number") throw new NeedsEngine();
  const plain = PLAIN[sign]?.(left, right) ?? NaN;
  if (Number.isSafeInteger(plain)) return plain;
  // A division by zero, or a power beyond all numbers.
  if (!Number.isFinite(plain)) throw new NeedsEngine();
  switch (sign) {
    case "+":
      return new Decimal(left).add(right).toNumber();
    case "-":
      return new Decimal(left).sub(right).toNumber();
    case "*":
      return new Decimal(left).mul(right).toNumber();
    case "/":
      return new Decimal(left).div(right).toNumber();
    default:
      return plain;
  }
}

const PLAIN: Readonly<Record<string, (a: number, b: number) => number>> = {
  "+": (a, b) => a + b,
  "-": (a, b) => a - b,
  "*": (a, b) => a * b,
  "/": (a, b) => a / b,
  "^": (a, b) => a ** b,
};

function compared(sign: string, left: CellValue, right: CellValue): boolean {
  const [a, b] = [left ?? blankBeside(right), right ?? blankBeside(left)];
  if (typeof a === "number" && typeof b === "number") {
    // Programs differ on numbers that differ in their last digits.
    if (a !== b && Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b))) throw new NeedsEngine();
    return ordered(sign, a - b);
  }
  if (sign !== "=" && sign !== "<>") throw new NeedsEngine();
  const plain = (value: CellValue) => {
    if (typeof value !== "string" && typeof value !== "number") throw new NeedsEngine();
    return typeof value === "string" ? `"${value.toLowerCase()}` : value;
  };
  return (plain(a) === plain(b)) === (sign === "=");
}

/** A blank counts as no text beside text, and as 0 beside a number. */
function blankBeside(other: CellValue): CellValue {
  return typeof other === "string" ? "" : 0;
}

function ordered(sign: string, difference: number): boolean {
  switch (sign) {
    case "=":
      return difference === 0;
    case "<>":
      return difference !== 0;
    case "<":
      return difference < 0;
    case ">":
      return difference > 0;
    case "<=":
      return difference <= 0;
    case ">=":
      return difference >= 0;
    default:
      throw new NeedsEngine();
  }
}

type Call = Extract<Node, { kind: "call" }>;

function called({ name, given }: Call, around: FormulaWorld): Value {
  const ours = around.functions.get(name);
  if (ours) {
    const values = given.map((node) => (node === undefined ? null : evaluateNode(node, around)));
    return answered(ours.call(values, (value) => withoutWords(value as Value)));
  }
  const plain = Object.hasOwn(PLAIN_FUNCTIONS, name) ? PLAIN_FUNCTIONS[name] : undefined;
  if (!plain || given.includes(undefined)) throw new NeedsEngine();
  return plain(given as readonly Node[], around);
}

/** Rows of cells; an error in a cell is its code alone. */
function withoutWords(value: Value): readonly (readonly CellValue[])[] {
  const rows = isRows(value) ? value : [[value]];
  if (!rows.some((line) => line.some((cell) => isCellError(cell) && cell.message !== undefined))) return rows;
  return rows.map((line) => line.map((cell) => (isCellError(cell) ? { error: cell.error } : cell)));
}

function answered(answer: ReturnType<SheetFunction["call"]>): Value {
  if (answer instanceof Failure) return errorOf(answer);
  const [first] = answer;
  if (answer.length === 1 && first?.length === 1) return cellOf(first[0] ?? null);
  return answer.map((line) => line.map(cellOf));
}

const cellOf = (cell: AnswerCell): CellValue => (cell instanceof Failure ? errorOf(cell) : cell);
const errorOf = ({ code, message }: Failure): CellError => ({ error: code, message });

/** Truth values, as conditions have them; an error is the whole answer. */
function truths(given: readonly Node[], around: FormulaWorld): readonly boolean[] | CellError {
  const found: boolean[] = [];
  for (const node of given) {
    const value = single(evaluateNode(node, around));
    if (isCellError(value)) return value;
    if (typeof value !== "boolean") throw new NeedsEngine();
    found.push(value);
  }
  return found;
}

/** Functions of the spreadsheet that logs put around ours. */
const PLAIN_FUNCTIONS: Readonly<Record<string, (given: readonly Node[], around: FormulaWorld) => Value>> = {
  IF(given, around) {
    const [condition, then, otherwise] = given;
    if (!condition || !then || given.length > 3) throw new NeedsEngine();
    if (otherwise) {
      const guarded = guardedCells(condition, then, otherwise, around);
      if (guarded) return guarded;
    }
    const asked = truths([condition], around);
    if ("error" in asked) return asked;
    return asked[0] ? evaluateNode(then, around) : otherwise ? evaluateNode(otherwise, around) : false;
  },
  AND(given, around) {
    const all = truths(given, around);
    return "error" in all ? all : all.every(Boolean);
  },
  OR(given, around) {
    const all = truths(given, around);
    return "error" in all ? all : all.some(Boolean);
  },
  NOT(given, around) {
    const all = truths(given, around);
    if (given.length !== 1) throw new NeedsEngine();
    return "error" in all ? all : !all[0];
  },
  ROWS: (given, around) => cellsGiven(given, around).length,
  COLUMNS: (given, around) => cellsGiven(given, around)[0]?.length ?? 0,
  COUNTIF(given, around) {
    const [area, wanted] = given;
    if (!area || !wanted || given.length !== 2) throw new NeedsEngine();
    const value = single(evaluateNode(wanted, around));
    // Signs and stand-ins have meanings of their own, and so has text that may be a number.
    if (typeof value !== "string" || !/^[a-z][a-z ]*$/i.test(value) || /^(?:true|false)$/i.test(value))
      throw new NeedsEngine();
    const lower = value.toLowerCase();
    return cellsGiven([area], around)
      .flat()
      .filter((cell) => typeof cell === "string" && cell.toLowerCase() === lower).length;
  },
};

/**
 * `IF(range="","",range)`, by which logs keep blanks from functions that would take them for 0: each cell is asked by
 * itself. Undefined where the condition is about one cell only.
 */
function guardedCells(condition: Node, then: Node, otherwise: Node, around: FormulaWorld): Value | undefined {
  if (condition.kind !== "pair") return undefined;
  const left = evaluateNode(condition.left, around);
  if (!isRows(left) || (left.length === 1 && left[0]?.length === 1)) return undefined;
  const right = single(evaluateNode(condition.right, around));
  const held = single(evaluateNode(then, around));
  const rows = evaluateNode(otherwise, around);
  if (condition.sign === "&" || !isRows(rows) || rows.length !== left.length) throw new NeedsEngine();
  return left.map((line, r) => {
    if (rows[r]?.length !== line.length) throw new NeedsEngine();
    return line.map((cell, c) => {
      const asked = paired(condition.sign, cell, right);
      if (isCellError(asked)) return asked;
      if (typeof asked !== "boolean") throw new NeedsEngine();
      return asked ? held : (rows[r]?.[c] ?? null);
    });
  });
}

/** The cells of a function's only argument, which is a reference. */
function cellsGiven(given: readonly Node[], around: FormulaWorld): readonly (readonly CellValue[])[] {
  const [node] = given;
  if (!node || given.length !== 1 || !/^(?:area|table|name)$/.test(node.kind)) throw new NeedsEngine();
  const value = evaluateNode(node, around);
  if (!isRows(value)) throw new NeedsEngine();
  return value;
}
