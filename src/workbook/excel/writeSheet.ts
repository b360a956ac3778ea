/**
 * A new sheet, or a row, written into Excel, native charts included.
 */
import type { FilledRow, NewCell, NewSheet, RowCells } from "../port";
import type { Area, BookChart } from "../book";
import { freeSheetName } from "../sheetName";
import { inExcel, officeProblem, type ExcelHost } from "./excelHost";
import { rangeOf } from "./readSheet";
import { cellsOnPaper, toPaper, type PaperSetUp } from "./toPaper";

/** Cells of one round trip; Excel on the web refuses a request above 5 MB. */
const BLOCK_CELLS = 20_000;
/** Characters of text in one round trip. */
const BLOCK_TEXT = 1_000_000;
const CHART_ROWS = 16;
const CHART_COLUMNS = 8;

/**
 * Adds the sheet after the others and gives the name it got. When a step fails, the half-made sheet is taken away
 * again.
 *
 * @param more adds to the sheet what cells cannot hold
 * @param setUp how it goes onto paper
 * @throws Error that says what could not be done
 */
export async function writeSheet(
  excel: ExcelHost,
  content: NewSheet,
  more: (sheet: Excel.Worksheet) => void = () => undefined,
  setUp: PaperSetUp = cellsOnPaper(content),
): Promise<string> {
  let made: { id: string; name: string } | undefined;
  try {
    const name = await inExcel(excel, async (context) => {
      const { worksheets } = context.workbook;
      worksheets.load("items/name");
      await context.sync();
      const name = freeSheetName(
        content.name,
        worksheets.items.map((sheet) => sheet.name),
      );
      const sheet = worksheets.add(name).load("id");
      await context.sync();
      // From here on the sheet is there and is ours to take away.
      made = { id: sheet.id, name };
      for (const { first, rows } of blocks(content.rows)) {
        writeRows(sheet, first, rows);
        // eslint-disable-next-line office-addins/no-context-sync-in-loop -- each block is as much as Excel on the web takes
        await context.sync();
      }
      (content.columnWidths ?? []).forEach((characters, column) => {
        rangeOf(sheet, { row: 0, column, rows: 1, columns: 1 }).format.columnWidth = widthInPoints(characters);
      });
      const free = Math.max(0, ...content.rows.map((row) => row.length), content.columnWidths?.length ?? 0) + 1;
      (content.charts ?? []).forEach((chart, index) => addChart(sheet, chart, index * (CHART_ROWS + 2), free));
      more(sheet);
      await context.sync();
      return name;
    });
    await toPaper(excel, name, setUp);
    return name;
  } catch (problem) {
    const told = officeProblem(problem, "write the new sheet");
    if (!made) throw told;
    const { id, name } = made;
    try {
      await inExcel(excel, async (context) => {
        context.workbook.worksheets.getItem(id).delete();
        await context.sync();
      });
    } catch {
      throw new Error(`${told.message} The unfinished sheet "${name}" could not be removed; delete it.`, {
        cause: problem,
      });
    }
    throw told;
  }
}

/** Writes cells into a row from column A on, when all of them are empty; otherwise says false and touches nothing. */
export async function writeRow(
  excel: ExcelHost,
  sheet: string,
  row: number,
  cells: readonly NewCell[],
): Promise<boolean> {
  try {
    return await inExcel(excel, async (context) => {
      const worksheet = context.workbook.worksheets.getItem(sheet);
      const there = rangeOf(worksheet, { row, column: 0, rows: 1, columns: cells.length }).load("formulas");
      await context.sync();
      if (there.formulas.some((line) => line.some((formula) => formula !== ""))) return false;
      writeRows(worksheet, row, [cells]);
      await context.sync();
      return true;
    });
  } catch (problem) {
    throw officeProblem(problem, `add a row to the sheet "${sheet}"`);
  }
}

/** Rows above that must agree before a formula goes on below them: so many does Excel want of one who types. */
const AGREEING = 3;

/** Fills cells of a row, as the port has it. */
export async function fillRow(excel: ExcelHost, { sheet, row, cells }: RowCells): Promise<FilledRow> {
  const columns = cells.map(({ column }) => column);
  const first = Math.min(...columns);
  const area = { row, column: first, rows: 1, columns: Math.max(...columns) - first + 1 };
  return inExcel(excel, async (context) => {
    const worksheet = context.workbook.worksheets.getItem(sheet);
    const formulas = async (): Promise<readonly unknown[]> => {
      const range = rangeOf(worksheet, area).load("formulas");
      await context.sync();
      return range.formulas[0] ?? [];
    };
    const isFilled = (there: readonly unknown[], column: number) => (there[column - first] ?? "") !== "";
    let there = await formulas();
    const inTheWay = cells.find(({ column, optional }) => !optional && isFilled(there, column));
    if (inTheWay) return { filled: inTheWay.column };
    const table = await tableAbove(context, worksheet, area);
    if (table) {
      table.rows.add();
      there = await formulas();
    } else await formulasGoOn(context, worksheet, row, new Set(columns));
    const free = cells.filter(({ column }) => !isFilled(there, column));
    for (const cell of free) {
      const range = rangeOf(worksheet, { row, column: cell.column, rows: 1, columns: 1 });
      if (cell.format !== undefined) range.numberFormat = [[cell.format]];
      range.values = [[written(cell)]];
    }
    await context.sync();
    return { written: free.map(({ column }) => column) };
  });
}

/** The table that ends right above the cells, if any; a row of totals ends it for good. */
async function tableAbove(
  context: Excel.RequestContext,
  worksheet: Excel.Worksheet,
  { row, column, columns }: Area,
): Promise<Excel.Table | undefined> {
  const { tables } = worksheet;
  tables.load("items/name,items/showTotals");
  await context.sync();
  const ranges = tables.items.map((table) => ({
    table,
    range: table.getRange().load("rowIndex,rowCount,columnIndex,columnCount"),
  }));
  await context.sync();
  return ranges.find(
    ({ table, range }) =>
      !table.showTotals &&
      range.rowIndex + range.rowCount === row &&
      range.columnIndex < column + columns &&
      column < range.columnIndex + range.columnCount,
  )?.table;
}

/** Formulas that the rows above agree in go on in the row, but in columns that are to be filled. */
async function formulasGoOn(
  context: Excel.RequestContext,
  worksheet: Excel.Worksheet,
  row: number,
  taken: ReadonlySet<number>,
): Promise<void> {
  const used = worksheet.getUsedRangeOrNullObject().load("columnIndex,columnCount");
  await context.sync();
  if (used.isNullObject || row < AGREEING) return;
  const { columnIndex: column, columnCount: columns } = used;
  const above = rangeOf(worksheet, { row: row - AGREEING, column, rows: AGREEING + 1, columns }).load("formulasR1C1");
  await context.sync();
  const lines: readonly (readonly unknown[])[] = above.formulasR1C1;
  const here = lines[AGREEING] ?? [];
  (lines[0] ?? []).forEach((formula, index) => {
    const agrees = lines.slice(0, AGREEING).every((line) => line[index] === formula);
    if (!agrees || typeof formula !== "string" || !formula.startsWith("=") || here[index] !== "") return;
    if (!taken.has(column + index))
      rangeOf(worksheet, { row, column: column + index, rows: 1, columns: 1 }).formulasR1C1 = [[formula]];
  });
}

/** Cuts the rows into what one round trip may hold. */
function* blocks(rows: NewSheet["rows"]): Generator<{ first: number; rows: NewSheet["rows"] }> {
  let first = 0;
  let width = 1;
  let text = 0;
  for (const [row, cells] of rows.entries()) {
    const long = cells.reduce((sum, { value }) => sum + (typeof value === "string" ? value.length : 0), 0);
    width = Math.max(width, cells.length);
    if (row > first && ((row - first + 1) * width > BLOCK_CELLS || text + long > BLOCK_TEXT)) {
      yield { first, rows: rows.slice(first, row) };
      first = row;
      width = Math.max(1, cells.length);
      text = 0;
    }
    text += long;
  }
  if (first < rows.length) yield { first, rows: rows.slice(first) };
}

function writeRows(sheet: Excel.Worksheet, first: number, rows: NewSheet["rows"]): void {
  const columns = Math.max(...rows.map((row) => row.length));
  if (columns <= 0) return;
  const cells = rows.map((row) =>
    Array.from({ length: columns }, (_, column): NewCell => row[column] ?? { value: null }),
  );
  const range = rangeOf(sheet, { row: first, column: 0, rows: rows.length, columns });
  if (cells.some((row) => row.some(({ format }) => format !== undefined)))
    range.numberFormat = cells.map((row) => row.map(({ format }) => format ?? "General"));
  range.values = cells.map((row) => row.map(written));
  cells.forEach((row, r) => {
    for (const { column, columns: width } of runs(row, "bold"))
      rangeOf(sheet, { row: first + r, column, rows: 1, columns: width }).format.font.bold = true;
    for (const { column, columns: width } of runs(row, "wrap"))
      rangeOf(sheet, { row: first + r, column, rows: 1, columns: width }).format.wrapText = true;
  });
}

/** A leading apostrophe keeps text from being read as a formula, a number or a date; Excel does not show it. */
function written({ value, formula }: NewCell): number | string | boolean {
  if (formula !== undefined) return `=${formula}`;
  if (typeof value === "string") return value === "" ? "" : `'${value}`;
  return value ?? "";
}

/** Neighbouring cells of a row that have a look in common. */
function runs(row: readonly NewCell[], look: "bold" | "wrap"): { column: number; columns: number }[] {
  const found: { column: number; columns: number }[] = [];
  row.forEach((cell, column) => {
    if (!cell[look]) return;
    const last = found.at(-1);
    if (last && last.column + last.columns === column) last.columns++;
    else found.push({ column, columns: 1 });
  });
  return found;
}

/** Excel's object model takes widths in points: seven pixels a character and five of margin, at 96 pixels an inch. */
function widthInPoints(characters: number): number {
  return (characters * 7 + 5) * 0.75;
}

function addChart(
  sheet: Excel.Worksheet,
  { title, kind, xTitle, yTitle, x, y }: BookChart,
  row: number,
  column: number,
): void {
  const values = rangeOf(sheet, y);
  const chart = sheet.charts.add(kind === "scatter" ? "XYScatter" : "ColumnClustered", values, "Columns");
  chart.title.text = plainTitle(title);
  chart.legend.visible = false;
  const series = chart.series.getItemAt(0);
  series.setValues(values);
  series.setXAxisValues(rangeOf(sheet, x));
  series.name = plainTitle(yTitle);
  chart.axes.categoryAxis.title.visible = true;
  chart.axes.categoryAxis.title.text = plainTitle(xTitle);
  chart.axes.valueAxis.title.visible = true;
  chart.axes.valueAxis.title.text = plainTitle(yTitle);
  chart.setPosition(
    rangeOf(sheet, { row, column, rows: 1, columns: 1 }),
    rangeOf(sheet, { row: row + CHART_ROWS - 1, column: column + CHART_COLUMNS - 1, rows: 1, columns: 1 }),
  );
}

/** A chart reads text that begins with "=" as a reference, and takes 255 characters. */
function plainTitle(text: string): string {
  return text.replace(/^=/, " =").slice(0, 255);
}
