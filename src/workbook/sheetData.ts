/**
 * A sheet of a Book as the port hands it out, and new cells as a Book keeps them.
 */
import { cellAddress, columnLetters } from "./address";
import {
  sheetOfRows,
  type Area,
  type Book,
  type BookCell,
  type BookSheet,
  type CellStyle,
  type CellValue,
} from "./book";
import { meets } from "./area";
import { columnData, sheetColumns } from "./columnSheet";
import type { NewCell, NewSheet, SheetData, SheetPart } from "./port";

/** More cells than this between the first and the last filled one would not fit in memory as a rectangle. */
const MOST_CELLS = 40_000_000;

const GENERAL = "General";

/** The used range of a sheet. Throws an Error that names the far cell when the range is beyond all sense. */
export function sheetData(sheet: BookSheet, styles: Book["styles"]): SheetData {
  const columns = sheetColumns(sheet);
  if (columns) return columnData(sheet, columns);
  const area = usedArea(sheet.rows);
  if (area.rows * area.columns > MOST_CELLS) {
    const last = cellAddress(area.row + area.rows - 1, area.column + area.columns - 1);
    throw new Error(
      `The filled cells of the sheet "${sheet.name}" reach to ${last}, far beyond a trial log. Find the stray cell in column ${columnLetters(area.column + area.columns - 1)} or row ${area.row + area.rows} and clear it.`,
    );
  }
  return {
    sheet: sheet.name,
    firstRow: area.row,
    firstColumn: area.column,
    ...cellsOf(sheet, styles, area),
    hiddenRows: sheet.hiddenRows,
    merged: sheet.merged,
    tables: sheet.tables,
  };
}

/** Some cells of a sheet and what stands around them. */
export function sheetPart(sheet: BookSheet, styles: Book["styles"], area: Area): SheetPart {
  return {
    ...cellsOf(sheet, styles, area),
    hiddenRows: sheet.hiddenRows.filter((row) => row >= area.row && row < area.row + area.rows),
    merged: sheet.merged.filter((one) => meets(one, area)),
    tables: sheet.tables,
  };
}

function cellsOf(sheet: BookSheet, styles: Book["styles"], area: Area): Pick<SheetPart, "values" | "formats"> {
  const values: CellValue[][] = [];
  const formats: (readonly string[])[] = [];
  // Rows without a format of their own share one list: a large log has nothing else.
  const plain = Array.from({ length: area.columns }, () => GENERAL);
  for (let r = 0; r < area.rows; r++) {
    const cells = sheet.rows[area.row + r];
    const lineValues: CellValue[] = [];
    let lineFormats: string[] | undefined;
    for (let c = 0; c < area.columns; c++) {
      const cell = cells?.[area.column + c];
      const value = cell?.value ?? null;
      lineValues.push(value === "" ? null : value);
      const format = cell?.style === undefined ? undefined : styles[cell.style]?.format;
      if (format !== undefined && format !== GENERAL) (lineFormats ??= [...plain])[c] = format;
    }
    values.push(lineValues);
    formats.push(lineFormats ?? plain);
  }
  return { values, formats };
}

/** A new sheet as a Book keeps it; looks that are not there yet are appended to `styles`. */
export function newBookSheet(name: string, content: NewSheet, styles: CellStyle[]): BookSheet {
  return {
    ...sheetOfRows(
      name,
      content.rows.map((row) => row.map((cell) => newBookCell(cell, styles))),
    ),
    columnWidths: content.columnWidths ?? [],
    ...(content.headingRows ? { frozenRows: content.headingRows } : {}),
    ...(content.charts && content.charts.length > 0 ? { charts: content.charts } : {}),
  };
}

/** A new cell as a Book keeps it; undefined when it is blank and plain. */
export function newBookCell(cell: NewCell, styles: CellStyle[]): BookCell | undefined {
  const value = cell.value === "" ? null : cell.value;
  const style: CellStyle = {
    ...(cell.format && cell.format !== "General" ? { format: cell.format } : {}),
    ...(cell.bold ? { bold: true } : {}),
    ...(cell.wrap ? { wrap: true } : {}),
  };
  const formula = cell.formula === undefined ? {} : { formula: cell.formula };
  if (Object.keys(style).length === 0)
    return value === null && cell.formula === undefined ? undefined : { value, ...formula };
  return { value, ...formula, style: styleIndex(style, styles) };
}

/** Index of an equal style, which is appended when there is none. */
function styleIndex(style: CellStyle, styles: CellStyle[]): number {
  const wanted = JSON.stringify(style);
  const found = styles.findIndex((other) => JSON.stringify(other) === wanted);
  return found >= 0 ? found : styles.push(style) - 1;
}

/** The smallest rectangle around every cell with a value or a formula. */
function usedArea(rows: BookSheet["rows"]): Area {
  let top = Infinity;
  let bottom = -1;
  let left = Infinity;
  let right = -1;
  rows.forEach((cells, r) =>
    cells?.forEach((cell, c) => {
      if (!cell || (cell.formula === undefined && (cell.value === null || cell.value === ""))) return;
      top = Math.min(top, r);
      bottom = r;
      left = Math.min(left, c);
      right = Math.max(right, c);
    }),
  );
  return bottom < 0
    ? { row: 0, column: 0, rows: 0, columns: 0 }
    : { row: top, column: left, rows: bottom - top + 1, columns: right - left + 1 };
}
