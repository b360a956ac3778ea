/**
 * Headings as a table needs them: Excel repairs a file whose table has a blank, a doubled or a numeric heading, so a
 * copy gets the heading that Excel itself would put there.
 */
import { cellAddress } from "../../address";
import { isCellError, type Book, type BookCell, type BookSheet } from "../../book";
import { readTables, type TablePart } from "../read/readXlsx";
import type { Archive } from "../package/zip";

/** The sheet with headings that its tables in the file can have; every one that was put there gets a note. */
export function withTableHeadings(
  archive: Archive,
  sheetPart: string,
  sheet: BookSheet,
  book: Book,
  notes: Set<string>,
): BookSheet {
  let rows = sheet.rows;
  for (const found of readTables(archive, sheetPart)) {
    const area = sheet.tables.find(({ name }) => name === found.table.name)?.area ?? found.table.area;
    const cells = Array.from({ length: area.columns }, (_, i) => sheet.rows[area.row]?.[area.column + i]);
    const own = cells.filter((cell, i) => cell?.value === found.columns[i]).length;
    // A row in which most headings are others is no longer this table's.
    if (!found.hasHeader || cells.length !== found.columns.length || own * 2 < cells.length) continue;
    mendedHeadings(cells, found, book).forEach((heading, i) => {
      if (heading === undefined) return;
      const line = [...(rows[area.row] ?? [])];
      const style = line[area.column + i]?.style;
      line[area.column + i] = { value: heading, ...(style === undefined ? {} : { style }) };
      rows = Array.from({ length: Math.max(rows.length, area.row + 1) }, (_, r) => (r === area.row ? line : rows[r]));
      notes.add(
        `The table ${found.table.name} needs a heading of its own in ${cellAddress(area.row, area.column + i)} of the sheet "${sheet.name}": the copy has "${heading}" there.`,
      );
    });
  }
  return rows === sheet.rows ? sheet : { ...sheet, rows };
}

/**
 * What must stand in each heading cell, as many as columns, in place of what is there; undefined where that is a
 * heading.
 */
function mendedHeadings(
  cells: readonly (BookCell | undefined)[],
  { columns }: TablePart,
  book: Book,
): (string | undefined)[] {
  const taken = new Set(
    columns.filter((column, i) => cells[i]?.value === column).map((column) => column.toLowerCase()),
  );
  return columns.map((column, i) => {
    const cell = cells[i];
    if (cell?.value === column && cell.formula === undefined) return undefined;
    const value = cell?.value ?? "";
    const text = isCellError(value) ? value.error : String(value).trim() === "" ? "" : String(value);
    const wanted = text !== "" ? text : isNamed(book, column) ? column : `Column${i + 1}`;
    let heading = wanted;
    for (let n = 2; taken.has(heading.toLowerCase()); n++) heading = `${wanted}${n}`;
    taken.add(heading.toLowerCase());
    return heading === cell?.value && cell.formula === undefined ? undefined : heading;
  });
}

/** Whether any formula of the workbook names the column in a structured reference. */
export function isNamed(book: Book, column: string): boolean {
  const inBrackets = column.replace(/[[\]#'@]/g, "'$&").toLowerCase();
  const marks = [`[${inBrackets}]`, `[@${inBrackets}]`];
  const named = (formula: string) => marks.some((mark) => formula.toLowerCase().includes(mark));
  return book.sheets.some((sheet) =>
    sheet.rows.some((row) => row?.some((cell) => cell?.formula !== undefined && named(cell.formula))),
  );
}
