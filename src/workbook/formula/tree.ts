/** Reads a formula into a tree, as far as it is plain: what follows from rules that all spreadsheets share. */
import { columnNumber } from "../address";
import { FormulaSyntaxError, isFunctionName, piecesOf, plainSheet, tableReferenceAt, type Piece } from "./pieces";

/** A row of a reference, from 0; one that is not fixed moves with the formula and is counted from the formula's own. */
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

/** A sheet is undefined for the formula's own. */
export type Node =
  | { readonly kind: "constant"; readonly value: Constant }
  | { readonly kind: "array"; readonly rows: readonly (readonly Constant[])[] }
  | { readonly kind: "area"; readonly sheet: string | undefined; readonly first: Corner; readonly last: Corner }
  | { readonly kind: "table"; readonly name: string; readonly bracket: string }
  | { readonly kind: "name"; readonly sheet: string | undefined; readonly name: string }
  | { readonly kind: "call"; readonly name: string; readonly given: readonly (Node | undefined)[] }
  | { readonly kind: "pair"; readonly sign: string; readonly left: Node; readonly right: Node }
  | { readonly kind: "negative" | "hundredth"; readonly of: Node };

/** How tight a sign between two values binds; a sign before a value binds tightest of all. */
const BINDING: ReadonlyMap<string, number> = new Map(
  [["=", "<>", "<", ">", "<=", ">="], ["&"], ["+", "-"], ["*", "/"], ["^"]].flatMap((signs, tightness) =>
    signs.map((sign) => [sign, tightness]),
  ),
);

class NotPlain extends Error {}

/**
 * The tree of a formula; undefined where it holds anything that is not plain.
 * @param formula without "="
 * @param row of the cell in which the formula stands; for 0 all rows are counted from the top of the sheet
 * @example treeOf("1+2*3", 0)?.kind // "pair"
 */
export function treeOf(formula: string, row: number): Node | undefined {
  try {
    return new Reader(withoutSpaces(piecesOf(formula)), row).whole();
  } catch (problem) {
    if (problem instanceof NotPlain || problem instanceof FormulaSyntaxError) return undefined;
    throw problem;
  }
}

function withoutSpaces(pieces: readonly Piece[]): readonly Piece[] {
  if (!pieces.some(isSpace)) return pieces;
  // A blank between two values is an operator of its own.
  if (pieces.some((piece, i) => isSpace(piece) && ends(pieces[i - 1]) && begins(pieces[i + 1]))) throw new NotPlain();
  return pieces.filter((piece) => !isSpace(piece));
}

function isSpace({ kind }: Piece): boolean {
  return kind === "space";
}

function ends(piece: Piece | undefined): boolean {
  return piece !== undefined && piece.kind !== "sign" && piece.kind !== "open";
}

function begins(piece: Piece | undefined): boolean {
  return piece !== undefined && piece.kind !== "sign" && piece.kind !== "close";
}

class Reader {
  private at = 0;

  constructor(
    private readonly pieces: readonly Piece[],
    private readonly row: number,
  ) {}

  whole(): Node {
    const tree = this.pair(0);
    if (this.at !== this.pieces.length) throw new NotPlain();
    return tree;
  }

  private get source(): string | undefined {
    return this.pieces[this.at]?.source;
  }

  /** The sign that stands here; undefined where something else does. */
  private get sign(): string | undefined {
    const piece = this.pieces[this.at];
    return piece?.kind === "sign" ? piece.source : undefined;
  }

  private pair(loosest: number): Node {
    let left = this.signed();
    for (;;) {
      const { sign } = this;
      const tightness = sign === undefined ? undefined : BINDING.get(sign);
      if (sign === undefined || tightness === undefined || tightness < loosest) return left;
      this.at++;
      left = { kind: "pair", sign, left, right: this.pair(tightness + 1) };
    }
  }

  private signed(): Node {
    const { sign } = this;
    if (sign === "-" || sign === "+") {
      this.at++;
      const of = this.signed();
      // Programs differ on -2^2.
      if (this.source === "^") throw new NotPlain();
      return sign === "-" ? { kind: "negative", of } : { kind: "pair", sign: "+", left: ZERO, right: of };
    }
    let value = this.value();
    while (this.sign === "%") {
      this.at++;
      value = { kind: "hundredth", of: value };
    }
    return value;
  }

  private value(): Node {
    const { pieces, at } = this;
    const piece = pieces[at];
    if (!piece) throw new NotPlain();
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
        return pieces[at + 1]?.kind === "open" && isFunctionName(piece) ? this.call(piece.source) : this.named(piece);
      default:
        // An error, a closing bracket or a sign that stands where a value belongs.
        throw new NotPlain();
    }
  }

  private grouped(): Node {
    this.at++;
    const inside = this.pair(0);
    if (this.pieces[this.at]?.kind !== "close") throw new NotPlain();
    this.at++;
    return inside;
  }

  private call(name: string): Node {
    this.at += 2;
    const given: (Node | undefined)[] = [];
    for (;;) {
      const piece = this.pieces[this.at];
      if (!piece) throw new NotPlain();
      if (piece.source === "," || piece.kind === "close") {
        // BANK.X() has no argument; BANK.X(1,,2) leaves one out.
        if (piece.source === "," || given.length > 0) given.push(undefined);
      } else given.push(this.pair(0));
      const end = this.pieces[this.at];
      this.at++;
      if (end?.kind === "close") return { kind: "call", name: name.toUpperCase(), given };
      if (end?.source !== ",") throw new NotPlain();
    }
  }

  /** A reference, a name or a truth value. */
  private named(piece: Piece): Node {
    const qualified = this.pieces[this.at + 1]?.source === "!";
    const sheet = qualified ? sheetOfThisBook(piece) : undefined;
    if (qualified) this.at += 2;
    const name = this.pieces[this.at];
    if (name?.kind !== "name") throw new NotPlain();
    this.at++;
    const first = this.corner(name.source);
    const { sign } = this;
    if (!first) {
      if (sign === ":" || sign === "!") throw new NotPlain();
      const truth = qualified ? undefined : truthValue(name.source);
      return truth === undefined ? { kind: "name", sheet, name: name.source } : { kind: "constant", value: truth };
    }
    if (sign === "#") throw new NotPlain();
    if (sign !== ":") return { kind: "area", sheet, first, last: first };
    const last = this.corner(this.pieces[this.at + 1]?.source ?? "");
    if (!last) throw new NotPlain();
    this.at += 2;
    const after = this.sign;
    if (after === ":" || after === "#" || after === "!") throw new NotPlain();
    return { kind: "area", sheet, first, last };
  }

  private corner(source: string): Corner | undefined {
    const [, letters, fixed, number] = CELL.exec(source) ?? [];
    if (letters === undefined) return undefined;
    const [at, column] = [Number(number) - 1, columnNumber(letters)];
    if (at > LAST_ROW || column > LAST_COLUMN) return undefined;
    return { column, row: fixed === "$" ? { at, fixed: true } : { at: at - this.row, fixed: false } };
  }
}

const ZERO: Node = { kind: "constant", value: 0 };
const CELL = /^\$?([A-Z]{1,3})(\$?)([1-9]\d{0,6})$/i;
const LAST_COLUMN = 16_383;
const LAST_ROW = 1_048_575;

function sheetOfThisBook(piece: Piece): string {
  const name = plainSheet(piece);
  // Another workbook's, or several sheets at once.
  if (/[[\]:]/.test(name)) throw new NotPlain();
  return name;
}

function constant(source: string): Constant {
  if (source.startsWith('"')) return source.slice(1, -1).replace(/""/g, '"');
  const number = /^[+-]?[\d.]+(?:e[+-]?\d+)?$/i.test(source) ? Number(source) : NaN;
  const value = Number.isFinite(number) ? number : truthValue(source);
  if (value === undefined) throw new NotPlain();
  return value;
}

function truthValue(source: string): boolean | undefined {
  const truth = /^(?:(TRUE)|FALSE)$/i.exec(source);
  return truth ? truth[1] !== undefined : undefined;
}
