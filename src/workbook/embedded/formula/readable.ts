/** Formulas as a person types them and as Univer reads them rightly. */
import { quoteSheetName } from "../../address";
import { isFunctionName, piecesOf, plainSheet, tableReferenceAt, type Piece } from "../../formula/pieces";
import { aliasOn, type ScopedName } from "./scopedNames";
import { resolveTable, type FormulaCell, type Table } from "./tableReference";

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
  const sheet = qualified ? plainSheet(piece) : place?.sheet;
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

function stacked(rows: readonly (readonly string[])[]): string {
  const lines = rows.map((row) => (row.length === 1 ? row.join() : `HSTACK(${row.join(",")})`));
  return lines.length === 1 ? lines.join() : `VSTACK(${lines.join(",")})`;
}
