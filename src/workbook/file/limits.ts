/**
 * A Book's sheet without what Excel would repair a file for; every loss gets a note. May import: storageFormula.ts, book.ts.
 */
import { areaAddress } from "../address";
import type { BookCell, BookSheet } from "../book";
import { formulaPieces } from "./storageFormula";

/** Longest text a cell may hold in a spreadsheet. */
const LONGEST_TEXT = 32_767;
/** Longest text that the choices of a drop-down list may make. */
const LONGEST_LIST = 255;

/** Formulas that name a table that is no longer one become their values, since Excel could not read them. */
export function withoutDroppedTables(sheet: BookSheet, dropped: readonly string[], notes: Set<string>): BookSheet {
  if (dropped.length === 0) return sheet;
  const names = new Set(dropped.map((name) => name.toLowerCase()));
  return withCells(sheet, (cell) => {
    if (cell.formula === undefined || !formulaPieces(cell.formula).some((piece) => names.has(piece.toLowerCase()))) return cell;
    notes.add(`Formulas on the sheet "${sheet.name}" that name the table ${dropped.join(", ")} were kept as their values.`);
    const { value, style } = cell;
    return { value, style };
  });
}

/** The sheet without what Excel would repair the file for: texts and drop-down lists that are too long. */
export function withinLimits(sheet: BookSheet, notes: Set<string>): BookSheet {
  const validations = sheet.validations.filter(({ areas, choices }) => {
    const fits = !choices || (choices.join(",").length <= LONGEST_LIST && choices.every((choice) => !choice.includes(",")));
    if (!fits) notes.add(`The drop-down list on ${areas.map(areaAddress).join(" ")} of the sheet "${sheet.name}" was not kept: its choices may hold no commas and ${LONGEST_LIST} characters in all. Put them in cells and let the list name those.`);
    return fits;
  });
  const listed = validations.length === sheet.validations.length ? sheet : { ...sheet, validations };
  return withCells(listed, (cell, row) => {
    if (typeof cell.value !== "string" || cell.value.length <= LONGEST_TEXT) return cell;
    notes.add(`A text in row ${row + 1} of the sheet "${sheet.name}" is longer than the ${LONGEST_TEXT} characters a cell can hold; the copy has its beginning.`);
    return { ...cell, value: cell.value.slice(0, LONGEST_TEXT).replace(/[\ud800-\udbff]$/, "") };
  });
}

/** The sheet with cells exchanged; rows without a change stay the same objects. */
function withCells(sheet: BookSheet, change: (cell: BookCell, row: number) => BookCell): BookSheet {
  let touched = false;
  const rows = sheet.rows.map((cells, r) => {
    let copy: (BookCell | undefined)[] | undefined;
    cells?.forEach((cell, c) => {
      const changed = cell && change(cell, r);
      if (changed === cell) return;
      (copy ??= [...cells])[c] = changed;
      touched = true;
    });
    return copy ?? cells;
  });
  return touched ? { ...sheet, rows } : sheet;
}
