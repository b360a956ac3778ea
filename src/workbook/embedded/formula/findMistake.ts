/** What is wrong with a formula, as far as its text says. */
import { distance } from "fastest-levenshtein";
import {
  FormulaSyntaxError,
  isFunctionName,
  isReferenceOrConstant,
  piecesOf,
  plainSheet,
  tableReferenceAt,
  type Piece,
} from "../../formula/pieces";
import { resolveTable, type FormulaCell, type Table } from "./tableReference";

/** What may stand in a formula. */
export interface KnownNames {
  readonly functions: readonly string[];
  /** Named ranges. */
  readonly names: readonly string[];
  readonly tables: readonly Table[];
  readonly sheets: readonly string[];
}

/** What is wrong with a formula, in words for the user. */
export interface Mistake {
  /** "#ERROR!" when it cannot be read, "#NAME?" for an unknown name, "#REF!" for a sheet that is not there. */
  readonly error: "#ERROR!" | "#NAME?" | "#REF!";
  readonly message: string;
}

/**
 * The first mistake that can be seen without computing the formula; undefined when there is none.
 * @param place the cell in which the formula stands
 * @example findMistake("BANK.BENT(1)", { functions: ["BANK.BEND"], names: [], tables: [], sheets: [] })?.error === "#NAME?"
 */
export function findMistake(formula: string, known: KnownNames, place?: FormulaCell): Mistake | undefined {
  let pieces: Piece[];
  try {
    pieces = piecesOf(formula);
    checkSyntax(formula, pieces);
  } catch (error) {
    if (error instanceof FormulaSyntaxError) return { error: "#ERROR!", message: error.message };
    throw error;
  }
  const sheet = unknownSheet(pieces, known.sheets);
  if (sheet) return { error: "#REF!", message: sheet };
  for (let i = 0; i < pieces.length; i++) {
    const reference = tableReferenceAt(pieces, i);
    const resolved = reference && resolveTable(reference.name, reference.bracket, known.tables, place);
    if (resolved && "problem" in resolved) return { error: "#NAME?", message: resolved.problem };
  }
  const name = unknownName(pieces, known);
  return name === undefined ? undefined : { error: "#NAME?", message: name };
}

/** What may stand in an array constant. */
const CONSTANT = /^(?:[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?%?|"(?:[^"]|"")*"|TRUE|FALSE|#[A-Z0-9/]+[!?]?)$/i;

function checkSyntax(formula: string, all: readonly Piece[]): void {
  const pieces = all.filter((piece) => piece.kind !== "space");
  if (pieces.length === 0)
    throw new FormulaSyntaxError("The formula is empty. Type a function, such as BANK.BEND(1/8).");
  let depth = 0;
  for (const [i, piece] of pieces.entries()) {
    if (piece.kind === "open") depth++;
    if (piece.kind === "close" && --depth < 0)
      throw new FormulaSyntaxError(`The formula "${formula}" has a ) without its (. Take it out, or add the (.`);
    const wrongArray = arrayProblem(piece);
    if (wrongArray !== undefined) throw new FormulaSyntaxError(wrongArray);
    const wrong = signProblem(piece, depth) ?? joinProblem(piece, pieces[i + 1]) ?? endProblem(piece, pieces[i + 1]);
    if (wrong !== undefined) throw new FormulaSyntaxError(`In the formula "${formula}" ${wrong}`);
  }
  if (depth > 0)
    throw new FormulaSyntaxError(
      `The formula "${formula}" lacks ${depth === 1 ? "a closing )" : `${depth} closing )`}. Add ${depth === 1 ? "it" : "them"}.`,
    );
}

function arrayProblem({ source, elements }: Piece): string | undefined {
  if (!elements) return undefined;
  const all = elements.flat();
  if (all.includes("")) return `The array ${source} has an empty place. Put a value there.`;
  const odd = all.find((element) => !CONSTANT.test(element));
  if (odd !== undefined)
    return `The array ${source} holds ${odd}; only numbers, text in double quotes, TRUE, FALSE and errors may stand in an array.`;
  if (new Set(elements.map((row) => row.length)).size > 1)
    return `The rows of the array ${source} differ in length. A comma parts columns, a semicolon parts rows.`;
  return undefined;
}

/** Signs that part arguments or decimals in other countries. */
function signProblem({ kind, source }: Piece, depth: number): string | undefined {
  if (source === ";") return "arguments are parted by ;. Here a comma parts them, and a point stands before decimals.";
  if (source === "," && depth === 0)
    return "a comma stands outside any function. Decimals are written with a point, such as 1.125.";
  if (kind === "name" && /^\.?\d/.test(source) && !/^\d+$/.test(source))
    return `${source} is no number. Digits may have one decimal point, such as 1.125.`;
  return undefined;
}

const ENDING: ReadonlySet<Piece["kind"]> = new Set(["text", "number", "close", "array", "error"]);
const BEGINNING: ReadonlySet<Piece["kind"]> = new Set(["text", "number", "array", "name"]);

/** Two values side by side. */
function joinProblem(piece: Piece, next: Piece | undefined): string | undefined {
  if (!next || !ENDING.has(piece.kind)) return undefined;
  if (!BEGINNING.has(next.kind) && (next.kind !== "open" || piece.kind === "close")) return undefined;
  return `nothing joins ${piece.source} and ${next.source}. Put a comma or an operator between them.`;
}

/** A sign without a value behind it. */
function endProblem({ kind, source }: Piece, next: Piece | undefined): string | undefined {
  if (kind !== "sign" || source === "%" || source === "#") return undefined;
  if (!next) return `the ${source} at the end has nothing to work on. Add a value, or take it out.`;
  // An argument may be left out.
  if (source === "," || (next.kind !== "close" && (next.kind !== "sign" || !/^[*/^&=<>]/.test(next.source))))
    return undefined;
  return `the ${source} before ${next.source} has nothing to work on. Add a value, or take it out.`;
}

function unknownSheet(pieces: readonly Piece[], sheets: readonly string[]): string | undefined {
  for (const [i, { source }] of pieces.entries()) {
    const before = pieces[i - 1];
    if (source !== "!" || !before) continue;
    const name = plainSheet(before);
    if (!sheets.some((sheet) => sheet.toLowerCase() === name.toLowerCase())) {
      return `There is no sheet ${name}. The workbook has ${sheets.map((sheet) => `"${sheet}"`).join(", ")}.`;
    }
  }
  return undefined;
}

/** The first name that nobody knows, in words, with the names near it. */
function unknownName(all: readonly Piece[], known: KnownNames): string | undefined {
  const pieces = all.filter(
    (piece, i) => piece.kind !== "space" || !(isFunctionName(all[i - 1]) && all[i + 1]?.kind === "open"),
  );
  const functions = new Set(known.functions.map((name) => name.toUpperCase()));
  const tables = known.tables.map((table) => table.name);
  const names = new Set([...known.names, ...tables].map((name) => name.toLowerCase()).concat([...localNames(pieces)]));
  for (const [i, { kind, source: name }] of pieces.entries()) {
    const next = pieces[i + 1];
    if (kind !== "name" || next?.source === "!" || names.has(name.toLowerCase())) continue;
    if (next?.kind === "open") {
      if (!functions.has(name.toUpperCase())) return `There is no function ${name}. ${nearest(name, known.functions)}`;
      continue;
    }
    const inRange = next?.source === ":" || pieces[i - 1]?.source === ":";
    if (isReferenceOrConstant(name) || (inRange && /^\$?(?:[A-Z]{1,3}|\d+)$/i.test(name))) continue;
    if (functions.has(name.toUpperCase())) return `${name} is a function: it needs brackets, ${name}(…).`;
    const close = nearby(name, [...known.names, ...tables, ...known.functions]);
    return `There is no cell, name or table ${name}. ${close.length > 0 ? `Near it: ${close.join(", ")}. ` : ""}Text must stand in double quotes: "${name}".`;
  }
  return undefined;
}

/**
 * Names that LET and LAMBDA give inside the formula: any name that stands directly before a comma in such a formula.
 */
function localNames(pieces: readonly Piece[]): ReadonlySet<string> {
  if (!pieces.some((piece) => /^(LET|LAMBDA)$/i.test(piece.source))) return new Set();
  const solid = pieces.filter((piece) => piece.kind !== "space");
  return new Set(
    solid
      .filter((piece, i) => piece.kind === "name" && solid[i + 1]?.source === ",")
      .map((piece) => piece.source.toLowerCase()),
  );
}

function nearest(name: string, known: readonly string[]): string {
  const close = nearby(name, known);
  if (close.length > 0) return `Near it: ${close.join(", ")}.`;
  const own = known.filter((one) => one.startsWith("BANK."));
  return own.length > 0 ? `The bank-shot functions are ${own.join(", ")}.` : "";
}

function nearby(name: string, known: readonly string[]): string[] {
  const wanted = name.toUpperCase();
  const short = wanted.replace(/^.*\./, "");
  return known
    .map((one) => {
      const upper = one.toUpperCase();
      const tail = upper.replace(/^.*\./, "");
      return {
        one,
        far: Math.min(distance(wanted, upper), upper.startsWith("BANK.") ? distance(short, tail) : Infinity),
      };
    })
    .filter(({ far }) => far <= Math.max(1, Math.floor(short.length / 3)))
    .sort((a, b) => a.far - b.far || (a.one < b.one ? -1 : 1))
    .slice(0, 3)
    .map(({ one }) => one);
}
