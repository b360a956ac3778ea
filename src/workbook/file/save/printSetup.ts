/**
 * How a new sheet goes onto paper: as wide as the page, turned where that leaves letters large enough to read, its
 * headings on every page, and lines of wrapped text under one another in every reader.
 */
import { fixedAddress, quoteSheetName } from "../../address";
import type { Area, Book, BookCell, BookSheet, CellStyle } from "../../book";
import { FOOT, MARGINS, turned, USUAL_WIDTH } from "../../paper";

/** Points of a line of text for one of its size: Excel gives 15 to its default of 11. */
const LINE = 15 / 11;
const FONT = 11;
/** The largest height of a row in points (Excel's limit). */
const TALLEST = 409;

/** Rows that name the columns, from 0; undefined where nothing does. */
function headingRows({
  frozenRows = 0,
  tables,
}: BookSheet): { readonly first: number; readonly last: number } | undefined {
  if (frozenRows > 0) return { first: 0, last: frozenRows - 1 };
  const headed = tables.find(({ columns }) => columns === undefined);
  return headed && { first: headed.area.row, last: headed.area.row };
}

/** Columns that cells of the sheet stand in, from the first. */
export function usedColumns({ rows }: BookSheet): number {
  return rows.reduce((most, row) => Math.max(most, row?.length ?? 0), 0);
}

const widthOf = ({ columnWidths }: BookSheet, column: number): number => columnWidths[column] ?? USUAL_WIDTH;

/** The element that comes first in a sheet: the page is to fit. */
export const FIT_TO_PAGE = `<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>`;

/** One page wide and as many long as it takes; the foot says which sheet and page it is. The paper is the printer's. */
export function pageSetupXml(sheet: BookSheet): string {
  const margins = Object.entries(MARGINS).map(([side, inches]) => ` ${side}="${inches}"`);
  const orientation = turned(usedColumns(sheet), sheet.columnWidths);
  const foot = `&L${FOOT.left}&R${FOOT.right}`.replaceAll("&", "&amp;");
  return (
    `<pageMargins${margins.join("")}/>` +
    `<pageSetup orientation="${orientation}" fitToWidth="1" fitToHeight="0"/>` +
    `<headerFooter><oddFooter>${foot}</oddFooter></headerFooter>`
  );
}

/**
 * The names by which a spreadsheet knows what to print: headings that repeat, and, where no rows are to come below, the
 * area. A log that grows has none, or its new rows would stay unprinted.
 */
export function printNames(sheet: BookSheet): Book["names"] {
  const quoted = quoteSheetName(sheet.name);
  const headings = headingRows(sheet);
  if (headings)
    return [
      {
        name: "_xlnm.Print_Titles",
        reference: `${quoted}!$${headings.first + 1}:$${headings.last + 1}`,
        sheet: sheet.name,
      },
    ];
  const area: Area = { row: 0, column: 0, rows: sheet.rows.length, columns: usedColumns(sheet) };
  if (area.rows === 0 || area.columns === 0 || sheet.charts || sheet.pictures) return [];
  return [{ name: "_xlnm.Print_Area", reference: `${quoted}!${fixedAddress(area)}`, sheet: sheet.name }];
}

/**
 * Height of a row in points where its text needs more than a line; undefined where the reader's own height does.
 * Estimated: a letter is a little narrower than a digit, which makes up for words that move to the next line whole.
 */
export function rowHeight(
  cells: readonly (BookCell | undefined)[],
  sheet: BookSheet,
  styles: readonly CellStyle[],
): number | undefined {
  let tallest = 0;
  cells.forEach((cell, column) => {
    if (typeof cell?.value !== "string" || cell.value === "") return;
    const { wrap = false, fontSize = FONT } = (cell.style === undefined ? undefined : styles[cell.style]) ?? {};
    const room = Math.max(1, (widthOf(sheet, column) * FONT) / fontSize);
    const lines = wrap
      ? cell.value.split("\n").reduce((sum, text) => sum + Math.max(1, Math.ceil(text.length / room)), 0)
      : 1;
    if (lines > 1 || fontSize > FONT) tallest = Math.max(tallest, lines * fontSize * LINE);
  });
  return tallest === 0 ? undefined : Math.min(TALLEST, Math.ceil(tallest));
}
