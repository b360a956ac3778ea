/**
 * Computes the formulas that the panel writes: arithmetic, comparisons, IF, AND, OR, ISNUMBER and functions of an
 * add-in. A blank is null; it equals "" and counts as 0, as in Excel. What is not known here is said loudly.
 */
import { parseAddress } from "../../src/workbook/address";
import { isCellError, type Area, type CellError, type CellValue } from "../../src/workbook/book";
import { UnknownConstruct } from "./failure";

type Cells = readonly (readonly CellValue[])[];
type Operand = CellValue | Cells;

export interface FormulaWorld {
  /** Cells of the formula's own sheet, a blank as null. */
  cells(area: Area): Cells;
  /** A function of the add-in; an argument left out is null, all others are rows of cells. */
  call(name: string, given: readonly (Cells | null)[]): Operand;
}

const TOKEN =
  /\s*(?:(\d+\.?\d*(?:e[+-]?\d+)?|\.\d+)|"((?:[^"]|"")*)"|([A-Z_][A-Z0-9_.]*(?=\())|(\$?[A-Z]{1,3}\$?\d+(?::\$?[A-Z]{1,3}\$?\d+)?)|(TRUE|FALSE)|(<>|<=|>=|[-+*/^=<>(),&%]))/iy;

interface Token {
  readonly number?: number;
  readonly text?: string;
  readonly name?: string;
  readonly area?: Area;
  readonly truth?: boolean;
  readonly sign?: string;
}

function tokens(formula: string): Token[] {
  const found: Token[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < formula.trimEnd().length) {
    const at = TOKEN.lastIndex;
    const [, number, text, name, area, truth, sign] = TOKEN.exec(formula) ?? [];
    if (TOKEN.lastIndex <= at) throw new UnknownConstruct(`in the formula "${formula}": ${formula.slice(at)}`);
    if (number !== undefined) found.push({ number: Number(number) });
    else if (text !== undefined) found.push({ text: text.replace(/""/g, '"') });
    else if (name !== undefined) found.push({ name: name.toUpperCase() });
    else if (area !== undefined) found.push({ area: parseAddress(area.replace(/\$/g, "")) });
    else if (truth !== undefined) found.push({ truth: truth.toUpperCase() === "TRUE" });
    else found.push({ sign });
  }
  return found;
}

/** @param formula without "=" */
export function computed(formula: string, world: FormulaWorld): Operand {
  return new Reading(tokens(formula), formula, world).whole();
}

/** Operators by how tightly they bind, the loosest first. */
const LEVELS: readonly (readonly string[])[] = [
  ["=", "<>", "<", ">", "<=", ">="],
  ["&"],
  ["+", "-"],
  ["*", "/"],
  ["^"],
];

/** What a part of a formula comes to, once it is asked: IF asks for one of its two only. */
type Part = () => Operand;

class Reading {
  private at = 0;

  constructor(
    private readonly tokens: readonly Token[],
    private readonly formula: string,
    private readonly world: FormulaWorld,
  ) {}

  whole(): Operand {
    const part = this.level(0);
    if (this.at < this.tokens.length) throw this.unknown();
    return part();
  }

  private unknown(): UnknownConstruct {
    return new UnknownConstruct(`the formula "${this.formula}", at part ${this.at + 1}`);
  }

  private takes(...signs: readonly string[]): string | undefined {
    const sign = this.tokens[this.at]?.sign;
    if (sign === undefined || !signs.includes(sign)) return undefined;
    this.at++;
    return sign;
  }

  private level(depth: number): Part {
    const signs = LEVELS[depth];
    if (!signs) return this.signed();
    let left = this.level(depth + 1);
    for (let sign = this.takes(...signs); sign !== undefined; sign = this.takes(...signs)) {
      const [operator, a, b] = [sign, left, this.level(depth + 1)];
      left = () => combined(operator, single(a()), single(b()));
    }
    return left;
  }

  private signed(): Part {
    if (this.takes("-")) {
      const part = this.signed();
      return () => combined("-", 0, single(part()));
    }
    const part = this.operand();
    return this.takes("%") ? () => combined("/", single(part()), 100) : part;
  }

  private operand(): Part {
    const { number, text, truth, area, name, sign } = this.tokens[this.at++] ?? {};
    const constant = number ?? text ?? truth;
    if (constant !== undefined) return () => constant;
    if (area) return () => this.world.cells(area);
    if (name !== undefined) return this.called(name);
    if (sign !== "(") throw this.unknown();
    const inner = this.level(0);
    if (!this.takes(")")) throw this.unknown();
    return inner;
  }

  /** A function, from its opening bracket on. */
  private called(name: string): Part {
    this.at++;
    const given: (Part | null)[] = [];
    let ends = this.takes(")") !== undefined;
    while (!ends) {
      const next = this.tokens[this.at]?.sign ?? "";
      given.push([",", ")"].includes(next) ? null : this.level(0));
      ends = this.takes(")") !== undefined;
      if (!ends && !this.takes(",")) throw this.unknown();
    }
    if (!name.includes(".")) return () => builtIn(name, given);
    return () =>
      this.world.call(
        name,
        given.map((part) => (part ? rowsOf(part()) : null)),
      );
  }
}

function rowsOf(value: Operand): Cells {
  return isCells(value) ? value : [[value]];
}

function isCells(value: Operand): value is Cells {
  return Array.isArray(value);
}

/** One value of what may be a range. */
function single(value: Operand): CellValue {
  return isCells(value) ? (value[0]?.[0] ?? null) : value;
}

function builtIn(name: string, given: readonly (Part | null)[]): CellValue {
  const asked = (index: number, missing: CellValue) => single(given[index]?.() ?? missing);
  const all = () => given.map((_, index) => asked(index, null));
  switch (name) {
    case "IF": {
      const condition = asked(0, null);
      return isCellError(condition) ? condition : condition ? asked(1, null) : asked(2, false);
    }
    case "AND":
      return all().find(isCellError) ?? all().every(Boolean);
    case "OR":
      return all().find(isCellError) ?? all().some(Boolean);
    case "ISNUMBER":
      return typeof asked(0, null) === "number";
    default:
      throw new UnknownConstruct(`the function ${name} in a formula`);
  }
}

function combined(sign: string, left: CellValue, right: CellValue): CellValue {
  if (isCellError(left)) return left;
  if (isCellError(right)) return right;
  if (sign === "&") return `${left ?? ""}${right ?? ""}`;
  if (/[=<>]/.test(sign)) return compared(sign, left, right);
  const [a, b] = [numberOf(left), numberOf(right)];
  if (typeof a !== "number") return a;
  if (typeof b !== "number") return b;
  if (sign === "/" && b === 0) return { error: "#DIV/0!" };
  return { "+": a + b, "-": a - b, "*": a * b, "/": a / b, "^": a ** b }[sign] ?? { error: "#VALUE!" };
}

function numberOf(value: Exclude<CellValue, CellError>): number | CellError {
  const number = value === "" ? NaN : Number(value);
  return Number.isFinite(number) ? number : { error: "#VALUE!" };
}

function compared(sign: string, left: Exclude<CellValue, CellError>, right: Exclude<CellValue, CellError>): boolean {
  const blank = (one: unknown, other: unknown) => one ?? (typeof other === "string" ? "" : 0);
  const [a, b] = [blank(left, right) as number, blank(right, left) as number];
  return { "=": a === b, "<>": a !== b, "<": a < b, ">": a > b, "<=": a <= b, ">=": a >= b }[sign] ?? false;
}
