/**
 * What takes back a sheet, a row or cells that the panel wrote; what somebody changed since is left alone.
 */
import { isCellError, type CellValue } from "../../workbook/book";
import type { AddedRow, Port, RowCells, SheetData } from "../../workbook/port";

export interface Entry {
  /** What is taken back, as in "the sheet "Plan"". */
  readonly what: string;
  /** Takes it back. @throws Error saying why it was not */
  back(): Promise<void>;
}

export async function sheetEntry(port: Port, name: string): Promise<Entry> {
  const written = await port.read(name);
  const what = `the sheet "${name}"`;
  return {
    what,
    async back() {
      if (!(await port.sheets()).some((sheet) => sheet.name === name))
        throw new Error(`The sheet "${name}" is not there any more.`);
      if (!sameContent(written, await port.read(name)))
        throw new Error(
          `The sheet "${name}" was changed since it was written, so it stays. Delete it yourself if you do not want it.`,
        );
      await port.removeSheet(name);
    },
  };
}

export async function rowEntry(port: Port, { sheet, row }: AddedRow, columns: number): Promise<Entry> {
  const written = rowOf(await port.read(sheet), row, columns);
  return {
    what: `row ${row + 1} of the sheet "${sheet}"`,
    async back() {
      if (!(await port.sheets()).some(({ name }) => name === sheet))
        throw new Error(`The sheet "${sheet}" is not there any more.`);
      if (rowOf(await port.read(sheet), row, columns) !== written)
        throw new Error(`Row ${row + 1} of the sheet "${sheet}" was changed since it was written, so it stays.`);
      await port.clearCells(sheet, { row, column: 0, rows: 1, columns });
    },
  };
}

export type ChangedRows = readonly Omit<RowCells, "sheet">[];

/** What stands now in the cells that rows name. */
export async function rowsNow(port: Port, sheet: string, rows: ChangedRows): Promise<CellValue[][]> {
  const { firstRow, firstColumn, values } = await port.read(sheet);
  return rows.map(({ row, cells }) =>
    cells.map(({ column }) => values[row - firstRow]?.[column - firstColumn] ?? null),
  );
}

/** @param before what stood in the cells */
export async function changedEntry(
  port: Port,
  sheet: string,
  rows: ChangedRows,
  before: CellValue[][],
): Promise<Entry> {
  const written = JSON.stringify(await rowsNow(port, sheet, rows));
  return {
    what: `the change of the sheet "${sheet}"`,
    async back() {
      if (!(await port.sheets()).some(({ name }) => name === sheet))
        throw new Error(`The sheet "${sheet}" is not there any more.`);
      if (JSON.stringify(await rowsNow(port, sheet, rows)) !== written)
        throw new Error(`The sheet "${sheet}" was changed since it was written, so it stays.`);
      await port.changeRows(
        sheet,
        rows.map(({ row, cells }, r) => ({
          row,
          cells: cells.map(({ column }, c) => {
            const value = before[r]?.[c] ?? null;
            return { column, value: isCellError(value) ? value.error : value };
          }),
        })),
      );
    },
  };
}

/** @param columns those that were written */
export async function cellsEntry(port: Port, { sheet, row }: RowCells, columns: readonly number[]): Promise<Entry> {
  const cellsNow = async () => {
    const line: unknown[] = JSON.parse(rowOf(await port.read(sheet), row, Math.max(...columns) + 1));
    return JSON.stringify(columns.map((column) => line[column]));
  };
  const written = await cellsNow();
  return {
    what: `what was written to row ${row + 1} of the sheet "${sheet}"`,
    async back() {
      if (!(await port.sheets()).some(({ name }) => name === sheet))
        throw new Error(`The sheet "${sheet}" is not there any more.`);
      if ((await cellsNow()) !== written)
        throw new Error(`Row ${row + 1} of the sheet "${sheet}" was changed since it was written, so it stays.`);
      for (const column of columns) await port.clearCells(sheet, { row, column, rows: 1, columns: 1 });
    },
  };
}

/** What Excel shows while a function of the add-in is still at work. */
const AT_WORK = new Set(["#BUSY!", "#GETTING_DATA"]);

/** Whether the cells are as they were; one that was still being computed then may hold anything now. */
function sameContent(before: SheetData, now: SheetData): boolean {
  if (
    before.firstRow !== now.firstRow ||
    before.firstColumn !== now.firstColumn ||
    before.values.length !== now.values.length
  )
    return false;
  return before.values.every(
    (row, r) =>
      row.length === now.values[r]?.length &&
      row.every(
        (value, c) =>
          (isCellError(value) && AT_WORK.has(value.error)) ||
          JSON.stringify(value) === JSON.stringify(now.values[r]?.[c]),
      ),
  );
}

function rowOf({ firstRow, firstColumn, values }: SheetData, row: number, columns: number): string {
  return JSON.stringify(
    Array.from({ length: columns }, (_, column) => values[row - firstRow]?.[column - firstColumn] ?? null),
  );
}
