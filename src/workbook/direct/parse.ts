/** Reads a formula into a tree, as far as it is plain. */
import { columnNumber } from "../address";
import { isFunctionName, piecesOf, tableReferenceAt, type Piece } from "../embedded/formula/formulaText";

/** The formula is beyond what is computed here. */
export class NeedsEngine extends Error {}

/** A row or a column of a reference, from 0; one that is not fixed moves with the formula. */
export interface Edge {
  readonly at: number;
  readonly fixed: boolean;
}

/** A cell of a reference. */
interface Corner {
  readonly row: Edge;
  readonly column: number;
}

type Constant = number | string | boolean;

export type Node =
  | { readonly kind: "constant"; readonly value: Constant }
  | { readonly kind: "array"; readonly rows: readonly (readonly Constant[])[] }
  | {
      readonly kind: "area";
      readonly sheet: string | undefined;
      readonly first: Corner;
      readonly last: Corner;
    }
  | { readonly kind: "table"; readonly name: string; readonly bracket: string }
  | { readonly kind: "name"; readonly sheet: string | undefined; readonly name: string }
  | { readonly kind: "call"; readonly name: string; readonly given: readonly (Node | undefined)[] }
  | { readonly kind: "pair"; readonly sign: string; readonly left: Node; readonly right: Node }
  | { readonly kind: "negative" | "hundredth"; readonly of: Node };

/** What binds tighter comes later; a sign before a value binds tightest of all. */
const BINDING: readonly (readonly string[])[] = [
  ["=", "<>", "<", ">", "<=", ">="],
  ["&"],
  ["+", "-"],
  ["*", "/"],
  ["^"],
];

/**
 * The tree of a formula; references that are not fixed are kept as rows from the formula's own.
 * @param row of the cell in which the formula stands
 * @throws NeedsEngine where it holds anything that is not plain
 * @example parse("1+2*3", 0) // the sum of 1 and the product of 2 and 3
 */
export function parse(formula: string, row: number): Node {
  let pieces: Piece[];
  try {
    pieces = piecesOf(formula);
  } catch {
    throw new NeedsEngine();
  }
  // A blank between two references is an operator of its own.
  if (pieces.some(({ kind }, i) => kind === "space" && touches(pieces[i - 1]) && touches(pieces[i + 1])))
    throw new NeedsEngine();
  const reader = new Reader(
    pieces.filter(({ kind }) => kind !== "space"),
    row,
  );
  const tree = reader.pair(0);
  if (!reader.ended) throw new NeedsEngine();
  return tree;
}

function touches(piece: Piece | undefined): boolean {
  return piece !== undefined && piece.kind !== "sign";
}

class Reader {
  private at = 0;

  constructor(
    private readonly pieces: readonly Piece[],
    private readonly row: number,
  ) {}

  get ended(): boolean {
    return this.at === this.pieces.length;
  }

  private get source(): string | undefined {
    return this.pieces[this.at]?.source;
  }

  pair(level: number): Node {
    const signs = BINDING[level];
    if (!signs) return this.signed();
    let left = this.pair(level + 1);
    for (let sign = this.source; sign !== undefined && this.isSign() && signs.includes(sign); sign = this.source) {
      this.at++;
      left = { kind: "pair", sign, left, right: this.pair(level + 1) };
    }
    return left;
  }

  private isSign(): boolean {
    return this.pieces[this.at]?.kind === "sign";
  }

  private signed(): Node {
    const sign = this.isSign() ? this.source : undefined;
    if (sign === "-" || sign === "+") {
      this.at++;
      const of = this.signed();
      // Programs differ on -2^2.
      if (this.source === "^") throw new NeedsEngine();
      return sign === "-" ? { kind: "negative", of } : { kind: "pair", sign: "+", left: ZERO, right: of };
    }
    let value = this.value();
    while (this.isSign() && this.source === "%") {
      this.at++;
      value = { kind: "hundredth", of: value };
    }
    return value;
  }

  private value(): Node {
    const { pieces, at } = this;
    const piece = pieces[at];
    if (!piece) throw new NeedsEngine();
    const table = tableReferenceAt(pieces, at);
    if (table) {
      this.at += table.length;
      return { kind: "table", name: table.name, bracket: table.bracket };
    }
    switch (piece.kind) {
      case "number":
      case "text":
        this.at++;
        return { kind: "constant", value: constant(piece.source) };
      case "array":
        this.at++;
        return { kind: "array", rows: (piece.elements ?? []).map((line) => line.map(constant)) };
      case "open":
        return this.grouped();
      case "name":
      case "sheet":
        return isFunctionName(piece) && pieces[at + 1]?.kind === "open" ? this.call(piece.source) : this.named();
      default:
        // An error, a closing bracket or a sign that stands where a value belongs.
        throw new NeedsEngine();
    }
  }

  private grouped(): Node {
    this.at++;
    const inside = this.pair(0);
    if (this.pieces[this.at]?.kind !== "close") throw new NeedsEngine();
    this.at++;
    return inside;
  }

  private call(name: string): Node {
    this.at += 2;
    const given: (Node | undefined)[] = [];
    for (;;) {
      const piece = this.pieces[this.at];
      if (!piece) throw new NeedsEngine();
      if (piece.source === "," || piece.kind === "close") {
        // BANK.X() has no argument; BANK.X(1,,2) leaves one out.
        if (piece.source === "," || given.length > 0) given.push(undefined);
      } else given.push(this.pair(0));
      const end = this.pieces[this.at];
      this.at++;
      if (end?.kind === "close") return { kind: "call", name: name.toUpperCase(), given };
      if (end?.source !== ",") throw new NeedsEngine();
    }
  }

  private named(): Node {
    const piece = this.pieces[this.at];
    const qualified = this.pieces[this.at + 1]?.source === "!";
    const sheet = qualified && piece ? plainSheet(piece) : undefined;
    if (qualified) this.at += 2;
    const name = this.pieces[this.at];
    if (name?.kind !== "name") throw new NeedsEngine();
    this.at++;
    const first = this.corner(name.source);
    if (!first) {
      if (this.source === ":" || this.source === "!") throw new NeedsEngine();
      const truth = /^(?:(TRUE)|FALSE)$/i.exec(name.source);
      if (truth && !qualified) return { kind: "constant", value: truth[1] !== undefined };
      return { kind: "name", sheet, name: name.source };
    }
    if (this.source === "#") throw new NeedsEngine();
    if (this.source !== ":") return { kind: "area", sheet, first, last: first };
    const last = this.corner(this.pieces[this.at + 1]?.source ?? "");
    if (!last) throw new NeedsEngine();
    this.at += 2;
    if (this.source === ":" || this.source === "#" || this.source === "!") throw new NeedsEngine();
    return { kind: "area", sheet, first, last };
  }

  private corner(source: string): Corner | undefined {
    const [, letters, fixed, number] = /^\$?([A-Z]{1,3})(\$?)([1-9]\d{0,6})$/i.exec(source) ?? [];
    if (letters === undefined) return undefined;
    const at = Number(number) - 1;
    return {
      column: columnNumber(letters),
      row: fixed === "$" ? { at, fixed: true } : { at: at - this.row, fixed: false },
    };
  }
}

const ZERO: Node = { kind: "constant", value: 0 };

function plainSheet({ kind, source }: Piece): string {
  const name = kind === "sheet" ? source.slice(1, -1).replace(/''/g, "'") : source;
  // Another workbook's, or several sheets at once.
  if (/[[\]:]/.test(name)) throw new NeedsEngine();
  return name;
}

function constant(source: string): Constant {
  if (source.startsWith('"')) return source.slice(1, -1).replace(/""/g, '"');
  const truth = /^(?:(TRUE)|FALSE)$/i.exec(source);
  if (truth) return truth[1] !== undefined;
  const number = Number(source);
  if (!/^[+-]?[\d.]+(?:e[+-]?\d+)?$/i.test(source) || !Number.isFinite(number)) throw new NeedsEngine();
  return number;
}
