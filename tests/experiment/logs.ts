/** Logs and work for tests of the experiment. */
import { findTrialLogs, type TrialLog } from "../../src/experiment/trialLog";
import type { CellValue } from "../../src/workbook/book";
import type { SheetData } from "../../src/workbook/port";

/** A sheet with the cells given. */
export function sheetOf(rows: CellValue[][]): SheetData {
  return { sheet: "Log", firstRow: 0, firstColumn: 0, values: rows, formats: rows.map((row) => row.map(() => "General")), hiddenRows: [], merged: [], tables: [] };
}

/** The log on a sheet with the cells given. */
export function logOf(rows: CellValue[][]): TrialLog {
  return findTrialLogs(sheetOf(rows))[0];
}

/** What work in steps comes to. */
export function result<T>(steps: Generator<number, T>): T {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}
