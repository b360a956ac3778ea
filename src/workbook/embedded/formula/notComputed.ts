/**
 * What Univer computes otherwise than Excel, told by a formula's text before anything is computed. Such a formula keeps
 * the value that is stored beside it. docs/embedded-spreadsheet.md lists these for users.
 */
import { isDateFormat } from "../../cellText";
import type { Area } from "../../book";
import { isFunctionName, piecesOf, plainSheet, type Piece } from "../../formula/pieces";
import { nameOn, referencesOf, type Named } from "./references";
import type { FormulaCell } from "./tableReference";

/** What of the workbook decides whether a formula is computed. */
export interface Surroundings extends Named {
  /** In capitals. */
  readonly functions: ReadonlySet<string>;
  /** Whether any row of the sheet is hidden or filtered out. */
  readonly hasHiddenRows: (sheet: string) => boolean;
  readonly datesFrom1904: boolean;
  /** The number formats of cells with something in them. */
  readonly formats: (sheet: string, area: Area) => Iterable<string>;
}

export interface About {
  /** Whether it calls a function of our own: then it is computed even where it changes from one time to the next. */
  readonly ours: boolean;
  /** Whether the file holds a value beside it. */
  readonly stored: boolean;
}

/** Arithmetic with cells and numbers, which need not be taken apart. */
const PLAIN = /^(?:\$?[A-Z]{1,3}\$?\d+|[\d.]+|[+\-*/^%&=<>()])*$/i;

const VOLATILE: ReadonlySet<string> = new Set([
  "NOW",
  "TODAY",
  "RAND",
  "RANDBETWEEN",
  "RANDARRAY",
  "OFFSET",
  "INDIRECT",
  "CELL",
  "INFO",
]);
const LOOK_UPS: ReadonlySet<string> = new Set([
  "VLOOKUP",
  "HLOOKUP",
  "LOOKUP",
  "XLOOKUP",
  "MATCH",
  "XMATCH",
  "INDEX",
  "COUNTIF",
  "COUNTIFS",
  "SUMIF",
  "SUMIFS",
  "AVERAGEIF",
  "AVERAGEIFS",
  "MINIFS",
  "MAXIFS",
]);
/** How many arguments a look-up may have before it says how to search. */
const PLAIN_SEARCH: Readonly<Record<string, number>> = { XLOOKUP: 4, XMATCH: 2 };
const DATE_FUNCTION =
  /\b(?:DATE|DATEVALUE|DATEDIF|DAY|DAYS|DAYS360|EDATE|EOMONTH|MONTH|NETWORKDAYS(?:\.INTL)?|WEEKDAY|WEEKNUM|ISOWEEKNUM|WORKDAY(?:\.INTL)?|YEAR|YEARFRAC|TEXT)\s*\(/i;

/**
 * Why the formula is not computed here, as the end of "kept as stored: …"; undefined when it is.
 * A formula of which nothing is stored, as one just typed, is computed, with the words for its mistakes, wherever that
 * cannot give a wrong value.
 */
export function whyNotComputed(
  formula: string,
  place: FormulaCell,
  around: Surroundings,
  { ours, stored }: About,
): string | undefined {
  if (!around.datesFrom1904 && PLAIN.test(formula)) return undefined;
  let pieces: Piece[];
  try {
    pieces = piecesOf(formula);
  } catch {
    return stored ? "it cannot be read here" : undefined;
  }
  return (
    whyOfPieces(pieces, place, around) ??
    whyOfCalls(pieces, place, around, { ours, stored }) ??
    (ours || !stored ? undefined : whyOfDates(formula, place, around))
  );
}

function whyOfPieces(pieces: readonly Piece[], place: FormulaCell, around: Surroundings): string | undefined {
  for (const [i, { kind, source }] of pieces.entries()) {
    const [second, before, next] = [pieces[i - 2], pieces[i - 1], pieces[i + 1]];
    if (source === "!" && before) {
      const sheet = plainSheet(before);
      if (second?.kind === "bracket" || before.kind === "bracket" || (before.kind === "sheet" && sheet.includes("[")))
        return "it reads another workbook";
      if (second?.source === ":" || (before.kind === "sheet" && sheet.includes(":")))
        return "it reads the same cells of several sheets at once";
    }
    if (kind === "space" && endsReference(before) && startsReference(next))
      return "it takes the cells that two ranges have in common";
    if (kind === "name" && next?.kind !== "open" && next?.source !== "!") {
      const name = nameOn(before?.source === "!" && second ? plainSheet(second) : place.sheet, source, around.names);
      if (name && moves(name.reference)) return `the name ${source} means other cells in every cell that uses it`;
    }
  }
  return undefined;
}

function endsReference(piece: Piece | undefined): boolean {
  return (
    piece !== undefined &&
    (piece.kind === "bracket" ||
      piece.kind === "close" ||
      (piece.kind === "name" && !/^(?:TRUE|FALSE)$/i.test(piece.source)))
  );
}

function startsReference(piece: Piece | undefined): boolean {
  return (
    piece !== undefined &&
    (piece.kind === "name" || piece.kind === "sheet" || piece.kind === "bracket" || piece.kind === "open")
  );
}

/** Whether a name's reference has a row or a column that is not fixed. */
function moves(reference: string): boolean {
  try {
    return piecesOf(reference.replace(/^=/, "")).some(
      ({ kind, source }, i, all) =>
        kind === "name" &&
        all[i + 1]?.source !== "!" &&
        all[i + 1]?.kind !== "open" &&
        /^\$?[A-Z]{1,3}\$?[1-9]\d{0,6}$/i.test(source) &&
        !/^\$[A-Z]+\$\d+$/i.test(source),
    );
  } catch {
    return false;
  }
}

interface Call {
  /** In capitals; "" for brackets that only group. */
  readonly name: string;
  arguments: number;
  /** Whether the argument under way has anything in it. */
  filled: boolean;
}

function whyOfCalls(all: readonly Piece[], place: FormulaCell, around: Surroundings, about: About): string | undefined {
  const pieces = all.filter(({ kind }) => kind !== "space");
  const open: Call[] = [];
  for (const [i, { kind, source }] of pieces.entries()) {
    const before = pieces[i - 1];
    const call = open.at(-1);
    if (kind === "open") {
      if (call) call.filled = true;
      const name = before && isFunctionName(before) ? before.source.toUpperCase() : "";
      const why = name === "" ? undefined : whyOfFunction(name, place, around, about, all);
      if (why !== undefined) return why;
      open.push({ name, arguments: 1, filled: false });
    } else if (kind === "close" || source === ",") {
      if (!call) continue;
      const why = whyOfArgument(call, kind === "close");
      if (why !== undefined) return why;
      if (kind === "close") open.pop();
      else {
        call.arguments++;
        call.filled = false;
      }
    } else if (call) {
      call.filled = true;
      if (
        kind === "name" &&
        pieces[i + 1]?.kind !== "open" &&
        LOOK_UPS.has(call.name) &&
        nameOn(place.sheet, source, around.names)
      )
        return `${call.name} searches the named range ${source}`;
    }
  }
  return undefined;
}

function whyOfFunction(
  name: string,
  place: FormulaCell,
  around: Surroundings,
  about: About,
  pieces: readonly Piece[],
): string | undefined {
  if (!about.ours && about.stored && VOLATILE.has(name)) return `${name} may change with every calculation`;
  if (name === "LAMBDA" || name === "LET" || nameOn(place.sheet, name, around.names)) return undefined;
  if (about.stored && !around.functions.has(name) && !isLocal(name, pieces))
    return `the function ${name} is not known here`;
  if (name !== "SUBTOTAL" && name !== "AGGREGATE") return undefined;
  const sheets = new Set([
    place.sheet,
    ...pieces.flatMap((piece, i) => (pieces[i + 1]?.source === "!" ? [plainSheet(piece)] : [])),
    ...around.tables.map(({ sheet }) => sheet),
  ]);
  return [...sheets].some(around.hasHiddenRows)
    ? `${name} treats hidden and filtered rows in a way of its own`
    : undefined;
}

/** Whether LET or LAMBDA gives the function its name. */
function isLocal(name: string, pieces: readonly Piece[]): boolean {
  return pieces.some(
    ({ kind, source }, i) => kind === "name" && source.toUpperCase() === name && pieces[i + 1]?.source === ",",
  );
}

function whyOfArgument({ name, arguments: count, filled }: Call, last: boolean): string | undefined {
  if (name === "") return last && count > 1 ? "it joins several ranges into one" : undefined;
  if (name.startsWith("BANK.")) return undefined;
  if (!filled && !(last && count === 1)) return `an argument of ${name} is left empty`;
  return last && count > (PLAIN_SEARCH[name] ?? Infinity) ? `${name} is told how to search` : undefined;
}

function whyOfDates(formula: string, place: FormulaCell, around: Surroundings): string | undefined {
  if (!around.datesFrom1904) return undefined;
  const why = "the workbook counts its days from 1904";
  if (DATE_FUNCTION.test(formula)) return why;
  const cells = [
    { sheet: place.sheet, area: { row: place.row, column: place.column, rows: 1, columns: 1 } },
    ...referencesOf(formula, place, around),
  ];
  for (const { sheet, area } of cells)
    for (const format of around.formats(sheet, area)) if (isDateFormat(format)) return why;
  return undefined;
}
