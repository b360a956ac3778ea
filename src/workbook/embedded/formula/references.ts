/**
 * Which cells a formula reads, as far as its text says.
 */
import { columnNumber, parseAddress } from "../../address";
import type { Area, Book } from "../../book";
import { piecesOf, plainSheet, tableReferenceAt, type Piece } from "../../formula/pieces";
import { alike } from "./scopedNames";
import { resolveTable, type FormulaCell, type Table } from "./tableReference";

/** Cells of one sheet that a formula reads. */
export interface Reference {
  readonly sheet: string;
  readonly area: Area;
  /** Whether it is followed by "#": the spill of its cell is meant. */
  readonly spill: boolean;
}

export interface Named {
  readonly tables: readonly Table[];
  readonly names: Book["names"];
}

const ROWS = 1_048_576;
const COLUMNS = 16_384;
/** Names may stand for names; more than this is a circle. */
const DEEPEST = 8;

/** The cells that the formula names, by address, by name or as a table's. Throws where the text is no formula. */
export function referencesOf(formula: string, place: FormulaCell, named: Named, depth = 0): Reference[] {
  const pieces = piecesOf(formula).filter(({ kind }) => kind !== "space");
  const found: Reference[] = [];
  for (let i = 0; i < pieces.length; i++) {
    const table = tableReferenceAt(pieces, i);
    if (table) {
      const resolved = resolveTable(table.name, table.bracket, named.tables, place);
      if ("range" in resolved && depth < DEEPEST) found.push(...referencesOf(resolved.range, place, named, depth + 1));
      i += table.length - 1;
      continue;
    }
    const piece = pieces[i];
    const qualified = pieces[i + 1]?.source === "!";
    const sheet = piece && qualified ? plainSheet(piece) : place.sheet;
    const at = qualified ? i + 2 : i;
    const name = pieces[at];
    const area = areaAt(pieces, at);
    if (area) {
      found.push({ sheet, area: area.area, spill: pieces[at + area.length]?.source === "#" });
      i = at + area.length - 1;
    } else if (name?.kind === "name" && pieces[at + 1]?.kind !== "open") {
      const meant = nameOn(sheet, name.source, named.names);
      if (meant && depth < DEEPEST)
        found.push(
          ...referencesOf(
            meant.reference.replace(/^=/, ""),
            { ...place, sheet: meant.sheet ?? place.sheet },
            named,
            depth + 1,
          ),
        );
      i = at;
    }
  }
  return found;
}

/** What a name means on a sheet: its own before the workbook's. */
export function nameOn(sheet: string, name: string, names: Book["names"]): Book["names"][number] | undefined {
  const called = names.filter((one) => alike(one.name, name));
  return (
    called.find((one) => one.sheet !== undefined && alike(one.sheet, sheet)) ??
    called.find((one) => one.sheet === undefined)
  );
}

function areaAt(pieces: readonly Piece[], i: number): { readonly area: Area; readonly length: number } | undefined {
  const first = pieces[i];
  if (!first || pieces[i + 1]?.kind === "open") return undefined;
  if (pieces[i + 1]?.source === ":") {
    const last = pieces[i + 2]?.source ?? "";
    const area =
      parseAddress(`${first.source}:${last}`) ?? wholeColumns(first.source, last) ?? wholeRows(first.source, last);
    if (area) return { area, length: 3 };
  }
  const area = first.kind === "name" ? parseAddress(first.source) : undefined;
  return area && { area, length: 1 };
}

function wholeColumns(first: string, last: string): Area | undefined {
  const [a, b] = [first, last].map((text) => /^\$?([A-Z]{1,3})$/i.exec(text)?.[1]);
  if (a === undefined || b === undefined) return undefined;
  const [from, to] = inOrder(columnNumber(a), columnNumber(b));
  return to < COLUMNS ? { row: 0, column: from, rows: ROWS, columns: to - from + 1 } : undefined;
}

function wholeRows(first: string, last: string): Area | undefined {
  const [a, b] = [first, last].map((text) => /^\$?([1-9]\d{0,6})$/.exec(text)?.[1]);
  if (a === undefined || b === undefined) return undefined;
  const [from, to] = inOrder(Number(a) - 1, Number(b) - 1);
  return { row: from, column: 0, rows: to - from + 1, columns: COLUMNS };
}

function inOrder(a: number, b: number): readonly [number, number] {
  return a <= b ? [a, b] : [b, a];
}
