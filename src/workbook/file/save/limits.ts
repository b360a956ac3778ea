/**
 * A Book's sheet without what Excel would repair a file for; every loss gets a note.
 */
import { columnLetters, quoteSheetName } from "../../address";
import { sheetOfRows, type BookCell, type BookSheet, type ListValidation } from "../../book";
import { freeSheetName } from "../../sheetName";
import { validationKey } from "./sheetSections";
import { formulaPieces } from "../package/storageFormula";

/** Longest text a cell may hold in a spreadsheet. */
const LONGEST_TEXT = 32_767;
/** Longest text that the choices of a drop-down list may make. */
const LONGEST_LIST = 255;

/** Formulas that name a table that is no longer one become their values, since Excel could not read them. */
export function withoutDroppedTables(sheet: BookSheet, dropped: readonly string[], notes: Set<string>): BookSheet {
  if (dropped.length === 0) return sheet;
  const names = new Set(dropped.map((name) => name.toLowerCase()));
  return withCells(sheet, (cell) => {
    if (
      cell.formula === undefined ||
      !formulaPieces(cell.formula).some((piece, i, all) => names.has(piece.toLowerCase()) && all[i + 1] !== "!")
    )
      return cell;
    notes.add(
      `Formulas on the sheet "${sheet.name}" that name the table ${dropped.join(", ")} were kept as their values.`,
    );
    const { value, style } = cell;
    return { value, style };
  });
}

/** The sheet without what Excel would repair the file for: texts that are too long. */
export function withinLimits(sheet: BookSheet, notes: Set<string>): BookSheet {
  return withCells(sheet, (cell, row) => {
    if (typeof cell.value !== "string" || cell.value.length <= LONGEST_TEXT) return cell;
    notes.add(
      `A text in row ${row + 1} of the sheet "${sheet.name}" is longer than the ${LONGEST_TEXT} characters a cell can hold; the copy has its beginning.`,
    );
    return { ...cell, value: cell.value.slice(0, LONGEST_TEXT).replace(/[\ud800-\udbff]$/, "") };
  });
}

/**
 * The sheets with drop-down lists that a file cannot hold as text, because they are too long or have commas in their
 * choices, naming cells of a hidden sheet that holds the choices.
 * @param stored keys of the lists that the file has on the sheet of that place: those stay as they are
 */
export function withListsInCells(
  sheets: readonly BookSheet[],
  stored: (place: number) => ReadonlySet<string>,
): { sheets: readonly BookSheet[]; lists: readonly BookSheet[] } {
  const fits = (choices: readonly string[]) =>
    choices.join(",").length <= LONGEST_LIST && choices.every((choice) => !choice.includes(","));
  const name = freeSheetName(
    "Lists",
    sheets.map((sheet) => sheet.name),
  );
  const columns: (readonly string[])[] = [];
  const column = (choices: readonly string[]) => {
    const same = columns.findIndex((other) => JSON.stringify(other) === JSON.stringify(choices));
    return columnLetters(same >= 0 ? same : columns.push(choices) - 1);
  };
  const changed = sheets.map((sheet, i) => {
    if (sheet.validations.every(({ choices }) => !choices || fits(choices))) return sheet;
    const known = stored(i);
    const validations = sheet.validations.map((validation): ListValidation => {
      const { areas, choices } = validation;
      if (!choices || fits(choices) || known.has(validationKey(validation))) return validation;
      const letters = column(choices);
      return {
        areas,
        formula: `${quoteSheetName(name)}!$${letters}$1:$${letters}$${choices.length}`,
      };
    });
    return { ...sheet, validations };
  });
  if (columns.length === 0) return { sheets: changed, lists: [] };
  const rows = Array.from({ length: Math.max(...columns.map(({ length }) => length)) }, (_, r) =>
    columns.map((choices): BookCell | undefined => (choices[r] === undefined ? undefined : { value: choices[r] })),
  );
  return {
    sheets: changed,
    lists: [{ ...sheetOfRows(name, rows), hidden: true }],
  };
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
