/**
 * Reads formula text far enough to say what is wrong with it, and to rewrite what Univer reads wrongly.
 * May import: address.ts.
 */
import { distance } from "fastest-levenshtein";
import { parseAddress } from "../address";

/** A piece of a formula. */
interface Piece {
  readonly kind: "text" | "sheet" | "name" | "number" | "open" | "close" | "array" | "bracket" | "error" | "space" | "sign";
  readonly source: string;
  /** For an array constant: its rows of element sources. */
  readonly elements?: readonly (readonly string[])[];
}

/** What stops a formula from being read, in words for the user. */
export class FormulaSyntaxError extends Error {}

/** The formula without a leading "=" and outer blanks. */
export function bareFormula(formula: string): string {
  return formula.trim().replace(/^=\s*/, "");
}

/**
 * The formula as Univer reads it rightly. Univer splits array constants at every comma and semicolon, those inside
 * text included, and takes "1/2" or 1e-3 in them for dates or text; such constants become VSTACK and HSTACK calls.
 * A formula that cannot be read comes back unchanged.
 */
export function readable(formula: string): string {
  if (!formula.includes("{")) return formula;
  let pieces: Piece[];
  try {
    pieces = piecesOf(formula);
  } catch {
    return formula;
  }
  return pieces.map((piece) => (piece.elements && !piece.elements.flat().every(isPlainElement) ? stacked(piece.elements) : piece.source)).join("");
}

function isPlainElement(element: string): boolean {
  if (/^(TRUE|FALSE)$/i.test(element)) return true;
  if (element !== "" && String(Number(element)) === element) return true;
  return /^"[A-Za-z _]*"$/.test(element) && !/^"\s*(true|false)\s*"$/i.test(element);
}

function stacked(rows: readonly (readonly string[])[]): string {
  const lines = rows.map((row) => (row.length === 1 ? row[0] : `HSTACK(${row.join(",")})`));
  return lines.length === 1 ? lines[0] : `VSTACK(${lines.join(",")})`;
}

/** Throws a FormulaSyntaxError that names the place when the formula cannot be read. */
export function checkSyntax(formula: string): void {
  const pieces = piecesOf(formula).filter((piece) => piece.kind !== "space");
  if (pieces.length === 0) throw new FormulaSyntaxError("The formula is empty. Type a function, such as BANK.BEND(1/8).");
  let depth = 0;
  pieces.forEach((piece, i) => {
    const next = pieces[i + 1];
    if (piece.kind === "open") depth++;
    if (piece.kind === "close" && --depth < 0) throw new FormulaSyntaxError(`The formula "${formula}" has a ) without its (. Take it out, or add the (.`);
    const isOperand = piece.kind === "text" || piece.kind === "number" || piece.kind === "close" || piece.kind === "array" || piece.kind === "error";
    if (isOperand && next && (next.kind === "text" || next.kind === "number" || next.kind === "array" || next.kind === "name" || (next.kind === "open" && piece.kind !== "close"))) {
      throw new FormulaSyntaxError(`In the formula "${formula}" nothing joins ${piece.source} and ${next.source}. Put a comma or an operator between them.`);
    }
    if (piece.kind === "sign" && piece.source !== "%" && piece.source !== "#" && (!next || next.kind === "close" || (next.kind === "sign" && /^[*/^&=<>]/.test(next.source) && piece.source !== ","))) {
      if (piece.source === "," && next?.kind === "close") return;
      throw new FormulaSyntaxError(`In the formula "${formula}" the ${piece.source} ${next ? `before ${next.source}` : "at the end"} has nothing to work on. Add a value, or take it out.`);
    }
  });
  if (depth > 0) throw new FormulaSyntaxError(`The formula "${formula}" lacks ${depth === 1 ? "a closing )" : `${depth} closing )`}. Add ${depth === 1 ? "it" : "them"}.`);
}

/**
 * The first name in the formula that nobody knows, in words, with the names that are near it; undefined when all are
 * known.
 */
export function explainUnknownName(formula: string, functions: Iterable<string>, names: Iterable<string>): string | undefined {
  const known = [...functions].map((name) => name.toUpperCase());
  const others = [...names];
  const knownFunctions = new Set(known);
  const knownNames = new Set(others.map((name) => name.toLowerCase()));
  let pieces: Piece[];
  try {
    pieces = piecesOf(formula);
  } catch {
    return undefined;
  }
  const local = localNames(pieces);
  for (let i = 0; i < pieces.length; i++) {
    if (pieces[i].kind !== "name" || pieces[i + 1]?.source === "!" || pieces[i - 1]?.source === "!") continue;
    const name = pieces[i].source;
    if (pieces[i + 1]?.kind === "open") {
      if (!knownFunctions.has(name.toUpperCase()) && !local.has(name.toLowerCase())) return `There is no function ${name}. ${nearest(name, known)}`;
    } else if (!isReferenceOrConstant(name) && !knownNames.has(name.toLowerCase()) && !local.has(name.toLowerCase())) {
      const asText = `Text must stand in double quotes: "${name}".`;
      const close = nearby(name, [...others, ...known]);
      return `There is no cell, name or table ${name}. ${close.length > 0 ? `Near it: ${close.join(", ")}. ` : ""}${asText}`;
    }
  }
  return undefined;
}

/** Names that LET and LAMBDA give inside the formula: any name that stands directly before a comma in such a formula. */
function localNames(pieces: readonly Piece[]): ReadonlySet<string> {
  if (!pieces.some((piece) => /^(LET|LAMBDA)$/i.test(piece.source))) return new Set();
  const solid = pieces.filter((piece) => piece.kind !== "space");
  return new Set(solid.filter((piece, i) => piece.kind === "name" && solid[i + 1]?.source === ",").map((piece) => piece.source.toLowerCase()));
}

function isReferenceOrConstant(name: string): boolean {
  return /^(TRUE|FALSE)$/i.test(name) || parseAddress(name) !== undefined || /^\$?[A-Z]{1,3}$/i.test(name) || /^\$?\d+$/.test(name);
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
      return { one, far: Math.min(distance(wanted, upper), upper.startsWith("BANK.") ? distance(short, tail) : Infinity) };
    })
    .filter(({ far }) => far <= Math.max(1, Math.floor(short.length / 3)))
    .sort((a, b) => a.far - b.far || (a.one < b.one ? -1 : 1))
    .slice(0, 3)
    .map(({ one }) => one);
}

function piecesOf(formula: string): Piece[] {
  const pieces: Piece[] = [];
  const take = (pattern: RegExp, from: number): string | undefined => {
    pattern.lastIndex = from;
    return pattern.exec(formula)?.[0];
  };
  for (let i = 0; i < formula.length; ) {
    const start = formula[i];
    let piece: Piece;
    if (start === '"') {
      const source = take(/"(?:[^"]|"")*"/y, i);
      if (source === undefined) throw new FormulaSyntaxError(`In the formula "${formula}" the text that begins at ${formula.slice(i, i + 20)} has no closing ". Inside text a " is typed twice.`);
      piece = { kind: "text", source };
    } else if (start === "'") {
      const source = take(/'(?:[^']|'')*'/y, i);
      if (source === undefined) throw new FormulaSyntaxError(`In the formula "${formula}" the sheet name that begins at ${formula.slice(i, i + 20)} has no closing '.`);
      piece = { kind: "sheet", source };
    } else if (start === "{") {
      piece = arrayAt(formula, i);
    } else if (start === "[") {
      piece = { kind: "bracket", source: bracketAt(formula, i) };
    } else if (start === "(" || start === ")") {
      piece = { kind: start === "(" ? "open" : "close", source: start };
    } else {
      const space = take(/\s+/y, i);
      const error = space === undefined ? take(/#(?:DIV\/0!|NAME\?|VALUE!|NUM!|N\/A|REF!|NULL!|SPILL!|CALC!)/iy, i) : undefined;
      const number = space === undefined ? take(/(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?(?![\p{L}\p{N}_.])/iuy, i) : undefined;
      const name = number === undefined ? take(/[$\p{L}\p{N}_\\.][$\p{L}\p{N}_\\.?]*/uy, i) : undefined;
      const found = space ?? error ?? number ?? name;
      const kind = space !== undefined ? "space" : error !== undefined ? "error" : number !== undefined ? "number" : name !== undefined ? "name" : "sign";
      piece = { kind, source: found ?? take(/<>|<=|>=|[\s\S]/y, i)! };
    }
    if (piece.kind === "sign" && !/^(<>|<=|>=|[+\-*/^&=<>,;:%@!#])$/.test(piece.source)) {
      throw new FormulaSyntaxError(`In the formula "${formula}" the character ${piece.source} stands where it means nothing. Text must stand in double quotes.`);
    }
    pieces.push(piece);
    i += piece.source.length;
  }
  return pieces;
}

function arrayAt(formula: string, start: number): Piece {
  const elements: string[][] = [[""]];
  for (let i = start + 1; i < formula.length; i++) {
    const row = elements[elements.length - 1];
    const c = formula[i];
    if (c === '"') {
      const text = /"(?:[^"]|"")*"/y;
      text.lastIndex = i;
      const source = text.exec(formula)?.[0];
      if (source === undefined) break;
      row[row.length - 1] += source;
      i += source.length - 1;
    } else if (c === ",") row.push("");
    else if (c === ";") elements.push([""]);
    else if (c === "}") {
      return { kind: "array", source: formula.slice(start, i + 1), elements: elements.map((line) => line.map((element) => element.trim())) };
    } else row[row.length - 1] += c;
  }
  throw new FormulaSyntaxError(`In the formula "${formula}" the array that begins at ${formula.slice(start, start + 20)} has no closing }.`);
}

function bracketAt(formula: string, start: number): string {
  let depth = 0;
  for (let i = start; i < formula.length; i++) {
    if (formula[i] === "'") i++;
    else if (formula[i] === "[") depth++;
    else if (formula[i] === "]" && --depth === 0) return formula.slice(start, i + 1);
  }
  throw new FormulaSyntaxError(`In the formula "${formula}" the [ at ${formula.slice(start, start + 20)} has no closing ].`);
}
