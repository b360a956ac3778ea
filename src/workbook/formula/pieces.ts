/** Takes the text of a formula apart. Every reader of formulas begins here; what is made of the pieces is its own. */
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
    | "sign"
    | "fault";
  readonly source: string;
  /** For an array constant: its rows of element sources. */
  readonly elements?: readonly (readonly string[])[];
  /** For a fault: what is wrong with it, as the rest of a sentence that begins "In the formula …". */
  readonly fault?: string;
}

/** The text cannot be a formula; the message says why, in words for the user. */
export class FormulaSyntaxError extends Error {}

/** The pieces of a formula; joined they are the formula again. Throws FormulaSyntaxError where it cannot be one. */
export function piecesOf(formula: string): Piece[] {
  const pieces = piecesOfAny(formula);
  for (const { fault } of pieces)
    if (fault !== undefined) throw new FormulaSyntaxError(`In the formula "${formula}" ${fault}`);
  return pieces;
}

/** The pieces of any text; joined they are the text again. What no formula can have there is of the kind "fault". */
export function piecesOfAny(text: string): Piece[] {
  const pieces: Piece[] = [];
  for (let at = 0; at < text.length;) {
    const piece = pieceAt(text, at);
    pieces.push(piece);
    at += piece.source.length;
  }
  return pieces;
}

/** The structured reference that begins at this piece, if one does, and how many pieces it has. */
export function tableReferenceAt(
  pieces: readonly Piece[],
  i: number,
): { readonly name: string; readonly bracket: string; readonly length: number } | undefined {
  const piece = pieces[i];
  const next = pieces[i + 1];
  if (piece?.kind === "name" && next?.kind === "bracket")
    return { name: piece.source, bracket: next.source, length: 2 };
  if (piece?.kind === "bracket" && pieces[i - 1]?.kind !== "name")
    return { name: "", bracket: piece.source, length: 1 };
  return undefined;
}

/** Whether a bracket behind the piece would hold arguments; where there is no piece, it would not. */
export function isFunctionName(piece: Piece | undefined): boolean {
  return piece?.kind === "name" && /[A-Z]/i.test(piece.source) && !isReferenceOrConstant(piece.source);
}

/** Whether the name is a cell's address or a truth value. */
export function isReferenceOrConstant(name: string): boolean {
  return /^(?:TRUE|FALSE|\$?[A-Z]{1,3}\$?[1-9]\d{0,6})$/i.test(name);
}

/** A sheet's name as it is, from how a formula writes it. */
export function plainSheet({ kind, source }: Piece): string {
  return kind === "sheet" ? source.slice(1, -1).replace(/''/g, "'") : source;
}

function pieceAt(text: string, at: number): Piece {
  switch (text[at]) {
    case '"':
      return quotedAt(text, at, "text");
    case "'":
      return quotedAt(text, at, "sheet");
    case "{":
      return arrayAt(text, at);
    case "[":
      return bracketAt(text, at);
    case "#":
      return errorAt(text, at) ?? signAt(text, at);
    default:
      return wordAt(text, at) ?? spaceAt(text, at) ?? signAt(text, at);
  }
}

/** Signs and brackets, the same piece wherever they stand. */
const SIGNS: ReadonlyMap<string, Piece> = new Map(
  ["(", ")", "<>", "<=", ">=", ..."+-*/^&=<>,;:%@!#"].map((source) => [
    source,
    { kind: source === "(" ? "open" : source === ")" ? "close" : "sign", source },
  ]),
);

const TEXT = /"(?:[^"]|"")*"/y;
const SHEET = /'(?:[^']|'')*'/y;
const SPACE = /\s+/y;
const NUMBER = /(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?(?![\p{L}\p{N}_.])/iuy;
const NAME = /[$\p{L}\p{N}_\\.][$\p{L}\p{N}_\\.?]*/uy;
const ERROR =
  /#(?:DIV\/0!|NAME\?|N\/A|GETTING_DATA|(?:VALUE|NUM|REF|NULL|SPILL|CALC|FIELD|BLOCKED|CONNECT|BUSY|UNKNOWN|EXTERNAL)!)/iy;

function taken(pattern: RegExp, text: string, at: number): string | undefined {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0];
}

function quotedAt(text: string, at: number, kind: "text" | "sheet"): Piece {
  const source = taken(kind === "text" ? TEXT : SHEET, text, at);
  if (source !== undefined) return { kind, source };
  return fault(
    text.slice(at),
    kind === "text"
      ? `the text that begins at ${beginning(text, at)} has no closing ". Inside text a " is typed twice.`
      : `the sheet name that begins at ${beginning(text, at)} has no closing '.`,
  );
}

function wordAt(text: string, at: number): Piece | undefined {
  const first = text.charCodeAt(at);
  if (isDigit(first) || first === POINT) {
    const number = taken(NUMBER, text, at);
    if (number !== undefined) return { kind: "number", source: number };
  }
  if (first === QUESTION) return undefined;
  // Most names are plain letters and digits.
  let end = at;
  while (isPlain(text.charCodeAt(end))) end++;
  const source = text.charCodeAt(end) > LAST_PLAIN ? taken(NAME, text, at) : text.slice(at, end);
  return source === undefined || source === "" ? undefined : { kind: "name", source };
}

const [POINT, QUESTION, LAST_PLAIN] = [".".charCodeAt(0), "?".charCodeAt(0), 127];

function isDigit(code: number): boolean {
  return code >= 48 && code <= 57;
}

const PLAIN = new Uint8Array(LAST_PLAIN + 1).map((_, code) =>
  /[$A-Za-z0-9_\\.?]/.test(String.fromCharCode(code)) ? 1 : 0,
);

/** Whether the character may stand in a name and needs no look into the tables of all alphabets. */
function isPlain(code: number): boolean {
  return PLAIN[code] === 1;
}

function spaceAt(text: string, at: number): Piece | undefined {
  // Signs come far more often.
  if (SIGNS.has(text.charAt(at))) return undefined;
  const source = taken(SPACE, text, at);
  return source === undefined ? undefined : { kind: "space", source };
}

function errorAt(text: string, at: number): Piece | undefined {
  const source = taken(ERROR, text, at);
  return source === undefined ? undefined : { kind: "error", source };
}

function signAt(text: string, at: number): Piece {
  const source = text.charAt(at);
  const pair = source === "<" || source === ">" ? SIGNS.get(text.slice(at, at + 2)) : undefined;
  return (
    pair ??
    SIGNS.get(source) ??
    fault(source, `the character ${source} stands where it means nothing. Text must stand in double quotes.`)
  );
}

function arrayAt(text: string, start: number): Piece {
  const elements: string[][] = [];
  let row: string[] = [];
  let began = start + 1;
  for (let i = began; i < text.length; i++) {
    const c = text[i];
    if (c === '"') {
      const quoted = taken(TEXT, text, i);
      if (quoted === undefined) break;
      i += quoted.length - 1;
    }
    if (c !== "," && c !== ";" && c !== "}") continue;
    row.push(text.slice(began, i).trim());
    began = i + 1;
    if (c === ",") continue;
    elements.push(row);
    row = [];
    if (c === "}") return { kind: "array", source: text.slice(start, i + 1), elements };
  }
  return fault(text.slice(start), `the array that begins at ${beginning(text, start)} has no closing }.`);
}

/** Column names in brackets may hold brackets, escaped by an apostrophe. */
function bracketAt(text: string, start: number): Piece {
  let depth = 0;
  for (let i = start; i < text.length; i++) {
    if (text[i] === "'") i++;
    else if (text[i] === "[") depth++;
    else if (text[i] === "]" && --depth === 0) return { kind: "bracket", source: text.slice(start, i + 1) };
  }
  return fault(text.slice(start), `the [ at ${beginning(text, start)} has no closing ].`);
}

function fault(source: string, why: string): Piece {
  return { kind: "fault", source, fault: why };
}

/** Enough of the text to find the place by. */
function beginning(text: string, at: number): string {
  return text.slice(at, at + 20);
}
