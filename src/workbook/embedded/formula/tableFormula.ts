/** Formulas that name columns of tables. */
import { renameColumn } from "../../columnName";
import { piecesOf, tableReferenceAt, type Piece } from "../../formula/pieces";
import { tableAround, type FormulaCell, type Table } from "./tableReference";

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
