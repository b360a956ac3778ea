/**
 * Reads formula text far enough to say what is wrong with it, and to rewrite what Univer reads wrongly.
 */
import { distance } from "fastest-levenshtein";
import { parseAddress, quoteSheetName } from "../../address";
import { aliasOn, type ScopedName } from "./scopedNames";
import { renameColumn } from "../../columnName";
import { resolveTable, tableAround, type FormulaCell, type Table } from "./tableReference";

/** A piece of a formula. */
export interface Piece {
  readonly kind:
    | "text"
    | "sheet"
    | "name"
    | "number"
    | "open"
    | "close"
    | "array"
    | "bracket"
    | "error"
    | "space"
    | "sign";
  readonly source: string;
  /** For an array constant: its rows of element sources. */
  readonly elements?: readonly (readonly string[])[];
}

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

class FormulaSyntaxError extends Error {}

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

/** The formula without a leading "=" and outer blanks. */
export function bareFormula(formula: string): string {
  return formula.trim().replace(/^=\s*/, "");
}

/**
 * The formula as Univer reads it rightly: structured references as plain ranges, no blanks between a function and its
 * bracket, no @ before a single cell, brackets around an array or a truth value after a minus, and array constants
 * whose text holds a comma, a semicolon, a brace or a quote as VSTACK and HSTACK calls, because Univer splits such
 * constants in the middle of the text; names of one sheet by their aliases. What cannot be read comes back unchanged.
 */
export function readable(
  formula: string,
  tables: readonly Table[],
  place?: FormulaCell,
  scoped: readonly ScopedName[] = [],
): string {
  if (scoped.length === 0 && !/[[{@]|\s\(|-\s*(?:TRUE|FALSE)/i.test(formula)) return formula;
  let pieces: Piece[];
  try {
    pieces = piecesOf(formula);
  } catch {
    return formula;
  }
  const out: string[] = [];
  for (let i = 0; i < pieces.length; i++) {
    const [before, piece, next, third] = [pieces[i - 1], pieces[i], pieces[i + 1], pieces[i + 2]];
    if (!piece) break;
    const reference = tableReferenceAt(pieces, i);
    const resolved = reference && resolveTable(reference.name, reference.bracket, tables, place);
    const scopedName = scopedNameAt(pieces, i, scoped, place);
    if (scopedName) {
      out.push(scopedName.alias);
      i += scopedName.length - 1;
    } else if (resolved && "range" in resolved) {
      out.push(resolved.range);
      i += reference.length - 1;
    } else if (piece.kind === "space" && isFunctionName(before) && next?.kind === "open") continue;
    else if (piece.source === "@" && next?.kind === "name" && third?.source !== ":") continue;
    else if (/^(?:TRUE|FALSE)$/i.test(piece.source) && before?.source === "-") out.push(`(${piece.source})`);
    else if (piece.elements && before?.source === "-") out.push(`(${arraySource(piece)})`);
    else out.push(arraySource(piece));
  }
  return out.join("");
}

/** The name of one sheet that stands here, with its sheet before it or without. */
function scopedNameAt(
  pieces: readonly Piece[],
  i: number,
  scoped: readonly ScopedName[],
  place: FormulaCell | undefined,
): { readonly alias: string; readonly length: number } | undefined {
  if (scoped.length === 0) return undefined;
  const piece = pieces[i];
  const qualified = pieces[i + 1]?.source === "!";
  const name = qualified ? pieces[i + 2] : piece;
  if (!piece || name?.kind !== "name" || pieces[i - 1]?.source === "!") return undefined;
  const sheet = qualified ? piece.source.replace(/^'([^]*)'$/, "$1").replace(/''/g, "'") : place?.sheet;
  const alias = aliasOn(sheet, name.source, scoped);
  return alias === undefined ? undefined : { alias, length: qualified ? 3 : 1 };
}

/** The formula with names of one sheet as a person writes them. */
export function withoutAliases(formula: string, scoped: readonly ScopedName[], place: FormulaCell): string {
  if (!scoped.some(({ alias }) => formula.toLowerCase().includes(alias.toLowerCase()))) return formula;
  try {
    return piecesOf(formula)
      .map(({ kind, source }) => {
        const meant =
          kind === "name" ? scoped.find(({ alias }) => alias.toLowerCase() === source.toLowerCase()) : undefined;
        if (!meant) return source;
        return meant.sheet === place.sheet ? meant.name : `${quoteSheetName(meant.sheet)}!${meant.name}`;
      })
      .join("");
  } catch {
    return formula;
  }
}

function arraySource(piece: Piece): string {
  return piece.elements?.flat().some((element) => /^".*[,;{}"].*"$/s.test(element))
    ? stacked(piece.elements)
    : piece.source;
}

/** The formula after headers of tables changed from `before` to `now`; what cannot be read comes back unchanged. */
export function withNewHeaders(
  formula: string,
  before: readonly Table[],
  now: readonly Table[],
  place: FormulaCell,
): string {
  let pieces: Piece[];
  try {
    pieces = piecesOf(formula);
  } catch {
    return formula;
  }
  return pieces
    .map((piece, i) => {
      if (piece.kind !== "bracket") return piece.source;
      const owner = pieces[i - 1];
      const table = tableAround(owner?.kind === "name" ? owner.source : "", before, place);
      const after = now.find((one) => one.name === table?.name);
      if (!table || !after || after.headers.length !== table.headers.length) return piece.source;
      return table.headers.reduce((bracket, header, c) => {
        const renamed = after.headers[c];
        return renamed === undefined || renamed === header ? bracket : renameColumn(bracket, header, renamed);
      }, piece.source);
    })
    .join("");
}

/** Whether the formula names a table; one that cannot be read does not. */
export function isTableFormula(formula: string): boolean {
  try {
    const pieces = piecesOf(formula);
    return pieces.some((_, i) => tableReferenceAt(pieces, i) !== undefined);
  } catch {
    return false;
  }
}

/** The structured reference that begins at this piece, if one does, and how many pieces it has. */
export function tableReferenceAt(
  pieces: readonly Piece[],
  i: number,
): { readonly name: string; readonly bracket: string; readonly length: number } | undefined {
  const [before, piece, next] = [pieces[i - 1], pieces[i], pieces[i + 1]];
  if (piece?.kind === "name" && next?.kind === "bracket")
    return { name: piece.source, bracket: next.source, length: 2 };
  if (piece?.kind === "bracket" && before?.kind !== "name") return { name: "", bracket: piece.source, length: 1 };
  return undefined;
}

/** Whether a bracket behind the piece would hold arguments; where there is no piece, it would not. */
export function isFunctionName(piece: Piece | undefined): boolean {
  return piece?.kind === "name" && !isReferenceOrConstant(piece.source) && /[A-Z]/i.test(piece.source);
}

function stacked(rows: readonly (readonly string[])[]): string {
  const lines = rows.map((row) => (row.length === 1 ? row.join() : `HSTACK(${row.join(",")})`));
  return lines.length === 1 ? lines.join() : `VSTACK(${lines.join(",")})`;
}

/** What may stand in an array constant. */
const CONSTANT = /^(?:[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?%?|"(?:[^"]|"")*"|TRUE|FALSE|#[A-Z0-9/]+[!?]?)$/i;

function checkSyntax(formula: string, all: readonly Piece[]): void {
  const pieces = all.filter((piece) => piece.kind !== "space");
  if (pieces.length === 0)
    throw new FormulaSyntaxError("The formula is empty. Type a function, such as BANK.BEND(1/8).");
  let depth = 0;
  pieces.forEach((piece, i) => {
    const next = pieces[i + 1];
    if (piece.kind === "open") depth++;
    if (piece.elements) {
      if (piece.elements.flat().includes(""))
        throw new FormulaSyntaxError(`The array ${piece.source} has an empty place. Put a value there.`);
      const odd = piece.elements.flat().find((element) => !CONSTANT.test(element));
      if (odd !== undefined)
        throw new FormulaSyntaxError(
          `The array ${piece.source} holds ${odd}; only numbers, text in double quotes, TRUE, FALSE and errors may stand in an array.`,
        );
      if (new Set(piece.elements.map((row) => row.length)).size > 1)
        throw new FormulaSyntaxError(
          `The rows of the array ${piece.source} differ in length. A comma parts columns, a semicolon parts rows.`,
        );
    }
    if (piece.kind === "close" && --depth < 0)
      throw new FormulaSyntaxError(`The formula "${formula}" has a ) without its (. Take it out, or add the (.`);
    if (piece.source === ";")
      throw new FormulaSyntaxError(
        `In the formula "${formula}" arguments are parted by ;. Here a comma parts them, and a point stands before decimals.`,
      );
    if (piece.source === "," && depth === 0)
      throw new FormulaSyntaxError(
        `In the formula "${formula}" a comma stands outside any function. Decimals are written with a point, such as 1.125.`,
      );
    if (piece.kind === "name" && /^\.?\d/.test(piece.source) && !/^\d+$/.test(piece.source))
      throw new FormulaSyntaxError(
        `In the formula "${formula}" ${piece.source} is no number. Digits may have one decimal point, such as 1.125.`,
      );
    const isOperand =
      piece.kind === "text" ||
      piece.kind === "number" ||
      piece.kind === "close" ||
      piece.kind === "array" ||
      piece.kind === "error";
    if (
      isOperand &&
      next &&
      (next.kind === "text" ||
        next.kind === "number" ||
        next.kind === "array" ||
        next.kind === "name" ||
        (next.kind === "open" && piece.kind !== "close"))
    ) {
      throw new FormulaSyntaxError(
        `In the formula "${formula}" nothing joins ${piece.source} and ${next.source}. Put a comma or an operator between them.`,
      );
    }
    if (
      piece.kind === "sign" &&
      piece.source !== "%" &&
      piece.source !== "#" &&
      (!next ||
        next.kind === "close" ||
        (next.kind === "sign" && /^[*/^&=<>]/.test(next.source) && piece.source !== ","))
    ) {
      if (piece.source === "," && next?.kind === "close") return;
      throw new FormulaSyntaxError(
        `In the formula "${formula}" the ${piece.source} ${next ? `before ${next.source}` : "at the end"} has nothing to work on. Add a value, or take it out.`,
      );
    }
  });
  if (depth > 0)
    throw new FormulaSyntaxError(
      `The formula "${formula}" lacks ${depth === 1 ? "a closing )" : `${depth} closing )`}. Add ${depth === 1 ? "it" : "them"}.`,
    );
}

function unknownSheet(pieces: readonly Piece[], sheets: readonly string[]): string | undefined {
  for (const [i, { source }] of pieces.entries()) {
    const before = pieces[i - 1];
    if (source !== "!" || !before) continue;
    const name = before.kind === "sheet" ? before.source.slice(1, -1).replace(/''/g, "'") : before.source;
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

function isReferenceOrConstant(name: string): boolean {
  return /^(TRUE|FALSE)$/i.test(name) || parseAddress(name) !== undefined;
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

/** The pieces of a formula; joined they are the formula again. Throws where it cannot be one. */
export function piecesOf(formula: string): Piece[] {
  const pieces: Piece[] = [];
  const take = (pattern: RegExp, from: number): string | undefined => {
    pattern.lastIndex = from;
    return pattern.exec(formula)?.[0];
  };
  /** A sign of two characters, or whatever one character stands there. */
  const sign = (at: number) => take(/<>|<=|>=/y, at) ?? formula.charAt(at);
  for (let i = 0; i < formula.length;) {
    const start = formula[i];
    let piece: Piece;
    if (start === '"') {
      const source = take(/"(?:[^"]|"")*"/y, i);
      if (source === undefined)
        throw new FormulaSyntaxError(
          `In the formula "${formula}" the text that begins at ${formula.slice(i, i + 20)} has no closing ". Inside text a " is typed twice.`,
        );
      piece = { kind: "text", source };
    } else if (start === "'") {
      const source = take(/'(?:[^']|'')*'/y, i);
      if (source === undefined)
        throw new FormulaSyntaxError(
          `In the formula "${formula}" the sheet name that begins at ${formula.slice(i, i + 20)} has no closing '.`,
        );
      piece = { kind: "sheet", source };
    } else if (start === "{") {
      piece = arrayAt(formula, i);
    } else if (start === "[") {
      piece = { kind: "bracket", source: bracketAt(formula, i) };
    } else if (start === "(" || start === ")") {
      piece = { kind: start === "(" ? "open" : "close", source: start };
    } else {
      const space = take(/\s+/y, i);
      const error =
        space === undefined ? take(/#(?:DIV\/0!|NAME\?|VALUE!|NUM!|N\/A|REF!|NULL!|SPILL!|CALC!)/iy, i) : undefined;
      const number =
        space === undefined ? take(/(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?(?![\p{L}\p{N}_.])/iuy, i) : undefined;
      const name = number === undefined ? take(/[$\p{L}\p{N}_\\.][$\p{L}\p{N}_\\.?]*/uy, i) : undefined;
      const found = space ?? error ?? number ?? name;
      const kind =
        space !== undefined
          ? "space"
          : error !== undefined
            ? "error"
            : number !== undefined
              ? "number"
              : name !== undefined
                ? "name"
                : "sign";
      piece = { kind, source: found ?? sign(i) };
    }
    if (piece.kind === "sign" && !/^(<>|<=|>=|[+\-*/^&=<>,;:%@!#])$/.test(piece.source)) {
      throw new FormulaSyntaxError(
        `In the formula "${formula}" the character ${piece.source} stands where it means nothing. Text must stand in double quotes.`,
      );
    }
    pieces.push(piece);
    i += piece.source.length;
  }
  return pieces;
}

function arrayAt(formula: string, start: number): Piece {
  const elements: string[][] = [];
  let row: string[] = [];
  let began = start + 1;
  for (let i = began; i < formula.length; i++) {
    const c = formula[i];
    if (c === '"') {
      const text = /"(?:[^"]|"")*"/y;
      text.lastIndex = i;
      const source = text.exec(formula)?.[0];
      if (source === undefined) break;
      i += source.length - 1;
    }
    if (c !== "," && c !== ";" && c !== "}") continue;
    row.push(formula.slice(began, i).trim());
    began = i + 1;
    if (c === ",") continue;
    elements.push(row);
    row = [];
    if (c === "}") return { kind: "array", source: formula.slice(start, i + 1), elements };
  }
  throw new FormulaSyntaxError(
    `In the formula "${formula}" the array that begins at ${formula.slice(start, start + 20)} has no closing }.`,
  );
}

function bracketAt(formula: string, start: number): string {
  let depth = 0;
  for (let i = start; i < formula.length; i++) {
    if (formula[i] === "'") i++;
    else if (formula[i] === "[") depth++;
    else if (formula[i] === "]" && --depth === 0) return formula.slice(start, i + 1);
  }
  throw new FormulaSyntaxError(
    `In the formula "${formula}" the [ at ${formula.slice(start, start + 20)} has no closing ].`,
  );
}
