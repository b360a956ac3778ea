/**
 * Formulas as a person types them and as the file keeps them: the file puts "_xldudf_" before functions of an add-in
 * and "_xlfn." before functions younger than the format, and writes B2# and @B2 as functions.
 */
import { columnLetters, columnNumber } from "../../address";
import { piecesOfAny } from "../../formula/pieces";

/** The sources of a formula's pieces, whatever stands there; joined they are the formula again. */
export function formulaPieces(formula: string): string[] {
  return piecesOfAny(formula).map(({ source }) => source);
}

/**
 * A stored formula as a person types it.
 *
 * @example fromStorage('1+_xldudf_BANK_BEND(B2)') // '1+BANK.BEND(B2)'
 */
export function fromStorage(stored: string): string {
  if (!/_xl|_XL/.test(stored)) return stored;
  const pieces = formulaPieces(stored);
  const out: string[] = [];
  // What to write when the bracket at that depth closes.
  const closers: (string | undefined)[] = [];
  for (let i = 0; i < pieces.length; i++) {
    const piece = pieces[i];
    if (piece === undefined) break;
    if (piece === "(") {
      closers.push(undefined);
      out.push(piece);
    } else if (piece === ")") {
      const closer = closers.pop();
      out.push(closer ?? piece);
    } else if (/^_xlfn\.(?:ANCHORARRAY|SINGLE)$/i.test(piece) && pieces[i + 1] === "(") {
      const spill = /ANCHORARRAY$/i.test(piece);
      const bare = standsAlone(pieces, i + 1);
      out.push((spill ? "" : "@") + (bare ? "" : "("));
      closers.push((bare ? "" : ")") + (spill ? "#" : ""));
      i++;
    } else if (/^_xl/i.test(piece)) {
      out.push(piece.replace(/^_xldudf_BANK_/i, "BANK.").replace(/^(?:_xl(?:fn|ws|pm|udf|eta)\.)+/i, ""));
    } else {
      out.push(piece);
    }
  }
  return out.join("");
}

/** Whether the bracket that opens at `open` holds one reference or call, which needs no brackets of its own. */
function standsAlone(pieces: readonly string[], open: number): boolean {
  let depth = 0;
  for (const piece of pieces.slice(open)) {
    if (piece === "(") depth++;
    else if (piece === ")" && --depth === 0) return true;
    else if (depth === 1 && /^[-+*/^&=<>,;%\s{]/.test(piece)) return false;
  }
  return false;
}

/**
 * A typed formula as the file keeps it.
 *
 * @example toStorage('BANK.BEND(B2)') // '_xldudf_BANK_BEND(B2)'
 */
export function toStorage(typed: string): string {
  const pieces = formulaPieces(typed);
  const local = localNames(pieces);
  const out: string[] = [];
  for (let i = 0; i < pieces.length; i++) {
    const piece = pieces[i];
    if (piece === undefined) break;
    const call = nextSolid(pieces, i + 1) === "(";
    if (piece === "@") {
      const stop = operandEnd(pieces, i + 1);
      out.push(`_xlfn.SINGLE(${toStorage(pieces.slice(i + 1, stop).join(""))})`);
      i = stop - 1;
    } else if (piece === "#" && out.length > 0) {
      const start = referenceStart(out);
      const reference = out.splice(start).join("");
      out.push(`_xlfn.ANCHORARRAY(${reference})`);
    } else if (call && /^BANK\./i.test(piece)) {
      out.push(`_xldudf_${piece.toUpperCase().replace(/\./g, "_")}`);
    } else if (call && local.has(piece.toLowerCase())) {
      out.push(`_xlpm.${piece}`);
    } else if (call) {
      out.push(prefixed(piece));
    } else if (local.has(piece.toLowerCase())) {
      out.push(`_xlpm.${piece}`);
    } else if (piece.startsWith("[@")) {
      out.push(thisRow(piece));
    } else {
      out.push(piece);
    }
  }
  return out.join("");
}

function nextSolid(pieces: readonly string[], from: number): string | undefined {
  for (let i = from; i < pieces.length; i++) if (pieces[i]?.trim() !== "") return pieces[i];
  return undefined;
}

/** `[@Gap]` and `[@[Gap (in)]]` as the file keeps them: `[[#This Row],[Gap]]`. */
function thisRow(bracket: string): string {
  const inner = bracket.slice(2, -1);
  if (inner === "") return "[#This Row]";
  return `[[#This Row],${inner.startsWith("[") ? inner : `[${inner}]`}]`;
}

/** Where the operand after "@" ends: a call with its arguments, or a reference with its sheet. */
function operandEnd(pieces: readonly string[], from: number): number {
  let depth = 0;
  for (const [i, piece] of pieces.entries()) {
    if (i < from) continue;
    if (piece === "(") depth++;
    else if (piece === ")") {
      if (depth === 0) return i;
      depth--;
    } else if (depth === 0 && /^(?:[-+*/^&=<>,;%}]|\s)/.test(piece)) return i;
  }
  return pieces.length;
}

/** Where the reference at the end of `out` starts, its sheet's name included. */
function referenceStart(out: readonly string[]): number {
  const last = out.length - 1;
  return last >= 2 && out[last - 1] === "!" ? last - 2 : last;
}

/** Names that LET and LAMBDA bind, in lower case. */
function localNames(pieces: readonly string[]): ReadonlySet<string> {
  const names = new Set<string>();
  if (!pieces.some((piece) => /^(?:LET|LAMBDA)$/i.test(piece))) return names;
  const open: { fn: string; argument: number }[] = [];
  const solid = pieces.filter((piece) => piece.trim() !== "");
  solid.forEach((piece, i) => {
    if (piece === "(" || piece === "{")
      open.push({ fn: piece === "(" ? (solid[i - 1] ?? "").toUpperCase() : "", argument: 0 });
    else if (piece === ")" || piece === "}") open.pop();
    const frame = open[open.length - 1];
    if (!frame) return;
    if (piece === ",") frame.argument++;
    const binds = frame.fn === "LAMBDA" || (frame.fn === "LET" && frame.argument % 2 === 0);
    // Only the last argument, which binds nothing, has more pieces than one, and no comma behind it.
    if (binds && solid[i + 1] === "," && /^[\p{L}_]/u.test(piece)) names.add(piece.toLowerCase());
  });
  return names;
}

function prefixed(name: string): string {
  const upper = name.toUpperCase();
  if (WORKSHEET_ONLY.has(upper)) return `_xlfn._xlws.${upper}`;
  return YOUNGER.has(upper) ? `_xlfn.${upper}` : name;
}

/** Whether the typed formula calls a BANK function. */
export function callsBank(typed: string): boolean {
  if (!/BANK\./i.test(typed)) return false;
  const pieces = formulaPieces(typed);
  return pieces.some((piece, i) => /^BANK\./i.test(piece) && nextSolid(pieces, i + 1) === "(");
}

/** Whether the typed formula may fill more than its own cell, and so must be kept as a dynamic array. */
export function isDynamic(typed: string): boolean {
  if (callsBank(typed)) return true;
  const pieces = formulaPieces(typed);
  return pieces.some(
    (piece, i) => piece === "#" || (DYNAMIC.has(piece.toUpperCase()) && nextSolid(pieces, i + 1) === "("),
  );
}

/**
 * The formula of a cell `down` rows below and `right` columns right of the one whose formula is given: relative
 * references move along. Formulas shared by several cells are kept once in the file.
 *
 * @example movedFormula("B2*$C$1", 1, 0) // "B3*$C$1"
 */
export function movedFormula(formula: string, down: number, right: number): string {
  const pieces = formulaPieces(formula);
  return pieces
    .map((piece, i) => {
      const next = pieces[i + 1];
      if (next === "(" || next === "!") return piece;
      const inRange = next === ":" || pieces[i - 1] === ":";
      // A column, a row, or both.
      const [, fixedColumn = "", letters, fixedRow = "", number] =
        /^(?:(\$?)([A-Z]{1,3}))?(?:(\$?)(\d{1,7}))?$/i.exec(piece) ?? [];
      if (!inRange && (letters === undefined || number === undefined)) return piece;
      const column = letters === undefined ? "" : movedColumn(fixedColumn, letters, right);
      const row = number === undefined ? "" : movedRow(fixedRow, number, down);
      return column + row || piece;
    })
    .join("");
}

const ROWS = 1_048_576;
const COLUMNS = 16_384;

function movedRow(fixed: string, row: string, down: number): string {
  return fixed ? fixed + row : String(((((Number(row) - 1 + down) % ROWS) + ROWS) % ROWS) + 1);
}

function movedColumn(fixed: string, letters: string, right: number): string {
  if (fixed) return fixed + letters;
  return columnLetters((((columnNumber(letters) + right) % COLUMNS) + COLUMNS) % COLUMNS);
}

/** The formula with every reference to one sheet pointing to its new name. */
export function withSheetRenamed(formula: string, from: string, to: string): string {
  const pieces = formulaPieces(formula);
  const wanted = from.toLowerCase();
  return pieces
    .map((piece, i) => {
      if (pieces[i + 1] !== "!") return piece;
      const plain = piece.startsWith("'") ? piece.slice(1, -1).replace(/''/g, "'") : piece;
      return plain.toLowerCase() === wanted ? `'${to.replace(/'/g, "''")}'` : piece;
    })
    .join("");
}

const words = (text: string): ReadonlySet<string> => new Set(text.trim().split(/\s+/));

const WORKSHEET_ONLY = words("SORT FILTER");

// Functions added to spreadsheets after the format was fixed in 2007; the file keeps them with a prefix.
const YOUNGER = words(`
  ACOT ACOTH AGGREGATE ARABIC ARRAYTOTEXT BASE BETA.DIST BETA.INV BINOM.DIST BINOM.DIST.RANGE BINOM.INV BITAND BITLSHIFT
  BITOR BITRSHIFT BITXOR BYCOL BYROW CEILING.MATH CEILING.PRECISE CHISQ.DIST CHISQ.DIST.RT CHISQ.INV CHISQ.INV.RT
  CHISQ.TEST CHOOSECOLS CHOOSEROWS COMBINA CONCAT CONFIDENCE.NORM CONFIDENCE.T COT COTH COVARIANCE.P COVARIANCE.S CSC
  CSCH DAYS DECIMAL DROP ENCODEURL ERF.PRECISE ERFC.PRECISE EXPAND EXPON.DIST F.DIST F.DIST.RT F.INV F.INV.RT F.TEST
  FIELDVALUE FILTERXML FLOOR.MATH FLOOR.PRECISE FORECAST.ETS FORECAST.ETS.CONFINT FORECAST.ETS.SEASONALITY
  FORECAST.ETS.STAT FORECAST.LINEAR FORMULATEXT GAMMA GAMMA.DIST GAMMA.INV GAMMALN.PRECISE GAUSS GROUPBY HSTACK
  HYPGEOM.DIST IFNA IFS IMAGE IMCOSH IMCOT IMCSC IMCSCH IMSEC IMSECH IMSINH IMTAN ISFORMULA ISOMITTED ISO.CEILING
  ISOWEEKNUM LAMBDA LET LOGNORM.DIST LOGNORM.INV MAKEARRAY MAP MAXIFS MINIFS MODE.MULT MODE.SNGL MUNIT NEGBINOM.DIST
  NETWORKDAYS.INTL NORM.DIST NORM.INV NORM.S.DIST NORM.S.INV NUMBERVALUE PDURATION PERCENTILE.EXC PERCENTILE.INC
  PERCENTOF PERCENTRANK.EXC PERCENTRANK.INC PERMUTATIONA PHI PIVOTBY POISSON.DIST QUARTILE.EXC QUARTILE.INC RANDARRAY
  RANK.AVG RANK.EQ REDUCE REGEXEXTRACT REGEXREPLACE REGEXTEST RRI SCAN SEC SECH SEQUENCE SHEET SHEETS SKEW.P SORTBY
  STDEV.P STDEV.S SWITCH T.DIST T.DIST.2T T.DIST.RT T.INV T.INV.2T T.TEST TAKE TEXTAFTER TEXTBEFORE TEXTJOIN TEXTSPLIT
  TOCOL TOROW TRIMRANGE UNICHAR UNICODE UNIQUE VALUETOTEXT VAR.P VAR.S VSTACK WEBSERVICE WEIBULL.DIST WORKDAY.INTL
  WRAPCOLS WRAPROWS XLOOKUP XMATCH XOR Z.TEST`);

const DYNAMIC = words(`
  BYCOL BYROW CHOOSECOLS CHOOSEROWS DROP EXPAND FILTER FREQUENCY GROUPBY HSTACK LINEST LOGEST GROWTH TREND LAMBDA LET
  MAKEARRAY MAP MINVERSE MMULT MODE.MULT MUNIT PIVOTBY RANDARRAY REGEXEXTRACT SCAN SEQUENCE SORT SORTBY TAKE TEXTSPLIT
  TOCOL TOROW TRANSPOSE UNIQUE VSTACK WRAPCOLS WRAPROWS XLOOKUP`);
