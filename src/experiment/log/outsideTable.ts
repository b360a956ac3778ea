/**
 * Rows and columns that stand right below or beside an Excel table without being part of it. A script that appends to a
 * file, or typing below a row of totals, leaves trials there that no formula and no analysis of the table sees.
 */
import { capital } from "../language/said";
import { columnLetters } from "../../workbook/address";
import { dataArea, type Area, type BookTable } from "../../workbook/book";
import type { SheetData } from "../../workbook/port";
import { headingText, isBlankCell, sizeOf, valueAt } from "./cellKinds";
import { headingCells } from "./logBlocks";

export interface Outside {
  /** Sheet rows below the table that hold something like its trials, from 0. */
  readonly rows: readonly number[];
  /** The last of them, or the table's own last row. */
  readonly lastRow: number;
  /** Columns right of the table that carry on its row of headings. */
  readonly columns: readonly { readonly column: number; readonly heading: string }[];
  /** All this as areas. */
  readonly areas: readonly Area[];
}

/** What stands around the table; undefined when nothing does. */
export function outsideTable(data: SheetData, table: BookTable): Outside | undefined {
  const others = data.tables.filter((other) => other !== table).map(({ area }) => area);
  const columns = columnsBeside(data, table, others);
  const rows = rowsBelow(data, table, others);
  if (rows.length === 0 && columns.length === 0) return undefined;
  const { area } = table;
  const own = dataArea(table);
  const lastRow = rows.at(-1) ?? own.row + own.rows - 1;
  const below = area.row + area.rows;
  const areas: Area[] = [
    ...(rows.length > 0
      ? [{ row: below, column: area.column, rows: lastRow - below + 1, columns: area.columns + columns.length }]
      : []),
    ...(columns.length > 0
      ? [{ row: area.row, column: area.column + area.columns, rows: area.rows, columns: columns.length }]
      : []),
  ];
  return { rows, lastRow, columns, areas };
}

/** As in "56 rows (242 to 297) below the table Trials and column Q ("Angle") beside it are no part of it". */
export function outsideText(title: string, { rows, columns }: Outside): string {
  const [first, last] = [rows[0], rows.at(-1)];
  const below =
    first === undefined || last === undefined
      ? []
      : [
          `${rows.length === 1 ? `row ${first + 1}` : `${rows.length} rows (${first + 1} to ${last + 1})`} below the table ${title}`,
        ];
  const named = columns.map(({ column, heading }) => `${columnLetters(column)} ("${heading}")`).join(", ");
  const beside =
    columns.length === 0
      ? []
      : [
          `${columns.length === 1 ? "column" : "columns"} ${named} beside ${below.length > 0 ? "it" : `the table ${title}`}`,
        ];
  const text = [...below, ...beside].join(" and ");
  const many = rows.length + columns.length > 1;
  return `${capital(text)} ${many ? "are" : "is"} no part of it`;
}

/** The rows below the table that are like its own: something in its columns, a number where it has numbers. */
function rowsBelow(data: SheetData, table: BookTable, others: readonly Area[]): number[] {
  const { area } = table;
  const own = dataArea(table);
  const left = area.column - data.firstColumn;
  const across = Array.from({ length: area.columns }, (_, j) => left + j);
  const isNumber = (r: number, c: number) => typeof valueAt(data, r - data.firstRow, c) === "number";
  const numbered = across.filter((c) =>
    Array.from({ length: own.rows }, (_, i) => own.row + i).some((r) => isNumber(r, c)),
  );
  const free = (r: number, c: number) =>
    !others.some((other) => contains(other, r + data.firstRow, c + data.firstColumn)) &&
    !isBlankCell(valueAt(data, r, c));
  const found: number[] = [];
  const { height, width } = sizeOf(data);
  const end = data.firstRow + height;
  for (let row = area.row + area.rows, last = row - 1; row < end; row++) {
    const r = row - data.firstRow;
    if (!across.some((c) => free(r, c))) continue;
    // Another table of its own begins with headings.
    const headings = row > last + 1 ? headingCells(data, r, width, free) : undefined;
    if (headings && headings.to > headings.from) break;
    last = row;
    if (
      numbered.length === 0
        ? across.filter((c) => free(r, c)).length * 2 > across.length
        : numbered.some((c) => free(r, c) && isNumber(row, c))
    )
      found.push(row);
  }
  return found;
}

/**
 * Columns that go on to the right of the table without a gap: a heading beside its headings, entries beside its rows.
 */
function columnsBeside(
  data: SheetData,
  table: BookTable,
  others: readonly Area[],
): { column: number; heading: string }[] {
  if (table.columns) return [];
  const { area } = table;
  const own = dataArea(table);
  const found: { column: number; heading: string }[] = [];
  for (let column = area.column + area.columns; ; column++) {
    const cell = (row: number) => valueAt(data, row - data.firstRow, column - data.firstColumn);
    const heading = headingText(cell(area.row));
    if (
      heading === "" ||
      typeof cell(area.row) !== "string" ||
      others.some((other) => contains(other, area.row, column))
    )
      return found;
    if (!Array.from({ length: own.rows }, (_, i) => own.row + i).some((row) => !isBlankCell(cell(row)))) return found;
    found.push({ column, heading });
  }
}

function contains({ row, column, rows, columns }: Area, r: number, c: number): boolean {
  return r >= row && r < row + rows && c >= column && c < column + columns;
}
