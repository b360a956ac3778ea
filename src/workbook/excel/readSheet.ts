/**
 * A sheet of Excel as the port hands it out.
 *
 * A small sheet takes one round trip: the values near A1, the extent of the filled cells, hidden rows, merged cells and
 * the ranges of the tables met last time are all asked for at once. What that could not hold is fetched in blocks,
 * since Excel on the web refuses an answer above 5 MB.
 */
import { there } from "../../there";
import { cellAddress, columnLetters, parseAddress } from "../address";
import type { Area, BookTable, CellValue } from "../book";
import type { SheetData, SheetPart } from "../port";
import { inExcel, isTooMuch, type ExcelHost } from "./excelHost";

/** Cells asked for before the extent is known: at some 50 bytes a cell well within 5 MB. */
const NEAR: Area = { row: 0, column: 0, rows: 1500, columns: 40 };
/** Cells of one block. */
const BLOCK_CELLS = 60_000;
/** More cells than this between the first and the last filled one would not fit in memory as a rectangle. */
const MOST_CELLS = 40_000_000;

const PLACE = ["rowIndex", "columnIndex", "rowCount", "columnCount"];
const TABLE = "items/name,items/showTotals,items/showHeaders";
const CELLS = [...PLACE, "values", "valueTypes", "numberFormat"];

interface Lines {
  readonly values: CellValue[][];
  readonly formats: string[][];
}

/** What is known of a sheet before all of its cells are. */
interface Outline {
  /** Undefined when the sheet is empty. */
  readonly extent: Area | undefined;
  readonly tables: readonly BookTable[];
  /** The cells, where they were near enough. */
  readonly lines?: Lines;
  readonly hiddenRows?: number[];
  readonly merged?: Area[];
}

/**
 * Reads a sheet.
 *
 * @param known names of the tables that were on it last time, which saves a round trip when they are still there
 * @throws what Office.js throws: code ItemNotFound when there is no such sheet
 */
export async function readSheet(excel: ExcelHost, sheet: string, known: readonly string[]): Promise<SheetData> {
  // The quick way fails on a table that is gone, on very long texts near A1 and on more than 512 merged areas.
  const outline = await quickOutline(excel, sheet, known).catch(() => patientOutline(excel, sheet));
  const { extent, tables } = outline;
  if (!extent)
    return { sheet, firstRow: 0, firstColumn: 0, values: [], formats: [], hiddenRows: [], merged: [], tables };
  if (extent.rows * extent.columns > MOST_CELLS) {
    const [row, column] = [extent.row + extent.rows - 1, extent.column + extent.columns - 1];
    throw new Error(
      `The filled cells of the sheet "${sheet}" reach to ${cellAddress(row, column)}, far beyond a trial log. Find the stray cell in column ${columnLetters(column)} or row ${row + 1} and clear it.`,
    );
  }
  const read = { lines: outline.lines ?? { values: [], formats: [] }, hiddenRows: outline.hiddenRows ?? [] };
  if (!outline.lines) {
    await readBlocks(excel, sheet, extent, read.lines, read.hiddenRows);
  }
  const merged = outline.merged ?? (await mergedAreas(excel, sheet, extent));
  return {
    sheet,
    firstRow: extent.row,
    firstColumn: extent.column,
    ...read.lines,
    hiddenRows: read.hiddenRows,
    merged,
    tables,
  };
}

/**
 * Reads some cells of a sheet, in one round trip where its tables are known and the area is small.
 *
 * @throws what Office.js throws: code ItemNotFound when there is no such sheet
 */
export async function readArea(
  excel: ExcelHost,
  sheet: string,
  area: Area,
  known: readonly string[],
): Promise<SheetPart> {
  return quickPart(excel, sheet, area, known).catch(() => patientPart(excel, sheet, area));
}

function quickPart(excel: ExcelHost, sheet: string, area: Area, known: readonly string[]): Promise<SheetPart> {
  return inExcel(excel, async (context) => {
    const worksheet = context.workbook.worksheets.getItem(sheet);
    const range = rangeOf(worksheet, area).load(CELLS);
    const hidden = range.getRowProperties({ rowHidden: true });
    const merged = range.getMergedAreasOrNullObject().load("address");
    const tables = askTables(worksheet, known);
    await context.sync();
    return {
      ...linesOf(range),
      // eslint-disable-next-line office-addins/load-object-before-read -- the result of a method, which sync brings
      hiddenRows: hiddenOf(hidden.value, area.row),
      merged: merged.isNullObject ? [] : areasIn(merged.address),
      tables: await tables(() => context.sync()),
    };
  });
}

/** Where the quick way failed: in blocks, and the tables anew. */
async function patientPart(excel: ExcelHost, sheet: string, area: Area): Promise<SheetPart> {
  const { tables } = await patientOutline(excel, sheet);
  const lines: Lines = { values: [], formats: [] };
  const hiddenRows: number[] = [];
  await readBlocks(excel, sheet, area, lines, hiddenRows);
  return { ...lines, hiddenRows, merged: await mergedAreas(excel, sheet, area), tables };
}

/** Asks for the tables of a sheet; those not known yet, and hidden headings, take a second round trip. */
function askTables(worksheet: Excel.Worksheet, known: readonly string[]) {
  const listed = worksheet.tables.load(TABLE);
  const ranges = new Map(known.map((name) => [name, worksheet.tables.getItem(name).getRange().load(PLACE)]));
  return async (sync: () => Promise<unknown>): Promise<BookTable[]> => {
    const fresh = listed.items.filter(({ name }) => !ranges.has(name));
    for (const table of fresh) ranges.set(table.name, table.getRange().load(PLACE));
    const hiddenHeadings = listed.items.map((table) =>
      table.showHeaders ? undefined : table.columns.load("items/name"),
    );
    if (fresh.length > 0 || hiddenHeadings.some(Boolean)) await sync();
    return listed.items.flatMap((table, i) => {
      const range = ranges.get(table.name);
      return range ? [tableOf(table, range, hiddenHeadings[i])] : [];
    });
  };
}

/** Everything in one round trip; a second one only for tables not known yet. */
function quickOutline(excel: ExcelHost, sheet: string, known: readonly string[]): Promise<Outline> {
  return inExcel(excel, async (context) => {
    const worksheet = context.workbook.worksheets.getItem(sheet);
    const used = worksheet.getUsedRangeOrNullObject(true).load(PLACE);
    const window = rangeOf(worksheet, NEAR);
    const near = window.getUsedRangeOrNullObject(true).load(CELLS);
    const hidden = window.getRowProperties({ rowHidden: true });
    const merged = window.getMergedAreasOrNullObject().load("address");
    const asked = askTables(worksheet, known);
    await context.sync();
    const tables = await asked(() => context.sync());
    const extent = used.isNullObject ? undefined : areaOf(used);
    if (!extent) return { extent, tables };
    const inside = !near.isNullObject && JSON.stringify(areaOf(near)) === JSON.stringify(extent);
    if (!inside) return { extent, tables };
    const last = extent.row + extent.rows;
    return {
      extent,
      tables,
      lines: linesOf(near),
      // eslint-disable-next-line office-addins/load-object-before-read -- the result of a method, which sync brings
      hiddenRows: hiddenOf(hidden.value, NEAR.row).filter((row) => row >= extent.row && row < last),
      merged: merged.isNullObject ? [] : areasIn(merged.address),
    };
  });
}

/** The extent and the tables alone, where the quick way failed. */
function patientOutline(excel: ExcelHost, sheet: string): Promise<Outline> {
  return inExcel(excel, async (context) => {
    const worksheet = context.workbook.worksheets.getItem(sheet);
    const used = worksheet.getUsedRangeOrNullObject(true).load(PLACE);
    // eslint-disable-next-line office-addins/no-empty-load -- the names stand in TABLE
    const listed = worksheet.tables.load(TABLE);
    await context.sync();
    const ranges = listed.items.map((table) => table.getRange().load(PLACE));
    const hiddenHeadings = listed.items.map((table) =>
      table.showHeaders ? undefined : table.columns.load("items/name"),
    );
    if (ranges.length > 0) await context.sync();
    return {
      extent: used.isNullObject ? undefined : areaOf(used),
      tables: listed.items.map((table, i) =>
        tableOf(table, there(ranges[i], `the range of ${table.name}`), hiddenHeadings[i]),
      ),
    };
  });
}

/** Appends the rows of an area, in blocks that Excel is likely to answer. */
async function readBlocks(
  excel: ExcelHost,
  sheet: string,
  area: Area,
  lines: Lines,
  hiddenRows: number[],
): Promise<void> {
  const rows = Math.max(1, Math.floor(BLOCK_CELLS / area.columns));
  const end = area.row + area.rows;
  for (let row = area.row; row < end; row += rows)
    await readBlock(excel, sheet, { ...area, row, rows: Math.min(rows, end - row) }, lines, hiddenRows);
}

/** Appends the rows of a block; one that is too large for Excel's limit is fetched as two. */
async function readBlock(
  excel: ExcelHost,
  sheet: string,
  area: Area,
  lines: Lines,
  hiddenRows: number[],
): Promise<void> {
  let block: Lines & { hidden: number[] };
  try {
    block = await inExcel(excel, async (context) => {
      const range = rangeOf(context.workbook.worksheets.getItem(sheet), area).load(CELLS);
      const hidden = range.getRowProperties({ rowHidden: true });
      await context.sync();
      return { ...linesOf(range), hidden: hiddenOf(hidden.value, area.row) };
    });
  } catch (problem) {
    if (area.rows === 1 || !isTooMuch(problem)) throw problem;
    for (const half of halves(area)) await readBlock(excel, sheet, half, lines, hiddenRows);
    return;
  }
  for (const row of block.values) lines.values.push(row);
  for (const row of block.formats) lines.formats.push(row);
  hiddenRows.push(...block.hidden);
}

/** Merged areas; Excel refuses to list more than 512 at once, so that a refusal is answered by asking for each half. */
async function mergedAreas(excel: ExcelHost, sheet: string, area: Area): Promise<Area[]> {
  let found: Area[];
  try {
    found = await inExcel(excel, async (context) => {
      const merged = rangeOf(context.workbook.worksheets.getItem(sheet), area)
        .getMergedAreasOrNullObject()
        .load("address");
      await context.sync();
      return merged.isNullObject ? [] : areasIn(merged.address);
    });
  } catch (problem) {
    if (area.rows === 1) throw problem;
    found = [];
    for (const half of halves(area)) found.push(...(await mergedAreas(excel, sheet, half)));
  }
  // An area across the cut is listed on both sides of it.
  return [...new Map(found.map((one) => [JSON.stringify(one), one])).values()];
}

function halves(area: Area): Area[] {
  const upper = Math.ceil(area.rows / 2);
  return [
    { ...area, rows: upper },
    { ...area, row: area.row + upper, rows: area.rows - upper },
  ];
}

export function rangeOf(worksheet: Excel.Worksheet, { row, column, rows, columns }: Area): Excel.Range {
  return worksheet.getRangeByIndexes(row, column, rows, columns);
}

function areaOf(range: Excel.Range): Area {
  return { row: range.rowIndex, column: range.columnIndex, rows: range.rowCount, columns: range.columnCount };
}

function tableOf(
  { name, showTotals }: Excel.Table,
  range: Excel.Range,
  hiddenHeadings: Excel.TableColumnCollection | undefined,
): BookTable {
  return {
    name,
    area: areaOf(range),
    ...(showTotals ? { totals: true } : {}),
    ...(hiddenHeadings ? { columns: hiddenHeadings.items.map((column) => column.name) } : {}),
  };
}

/** A blank is "" in Excel, and an error is text that only the value type tells from typed text. */
function linesOf({ values, valueTypes, numberFormat }: Excel.Range): Lines {
  return {
    values: values.map((row, r) =>
      row.map((value: unknown, c): CellValue => {
        if (valueTypes[r]?.[c] === "Error") return { error: String(value) };
        return value === "" || value === null ? null : (value as CellValue);
      }),
    ),
    formats: numberFormat.map((row) =>
      row.map((format: unknown) => (typeof format === "string" && format !== "" ? format : "General")),
    ),
  };
}

function hiddenOf(rows: readonly Excel.RowProperties[], first: number): number[] {
  return rows.flatMap(({ rowHidden }, index) => (rowHidden ? [first + index] : []));
}

/** The rectangles of an address such as `'Bo''s log'!C2:E2,'Bo''s log'!A5:A6`. */
function areasIn(address: string): Area[] {
  return [...address.matchAll(/(?:'(?:[^']|'')*'|[^'!,]+)!([A-Z$0-9:]+)/gi)].flatMap(
    ([, cells = ""]) => parseAddress(cells) ?? [],
  );
}
