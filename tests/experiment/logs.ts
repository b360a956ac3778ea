/** Logs for tests of the experiment. */
import { findTrialLogs, type TrialLog } from "../../src/experiment/log/trialLog";
import type { CellValue } from "../../src/workbook/book";
import type { SheetData } from "../../src/workbook/port";

/** A sheet with the cells given. @param formats by column, plain unless said */
export function sheetOf(rows: CellValue[][], formats: readonly string[] = []): SheetData {
  return {
    sheet: "Log",
    firstRow: 0,
    firstColumn: 0,
    values: rows,
    formats: rows.map((row) => row.map((_, c) => formats[c] ?? "General")),
    hiddenRows: [],
    merged: [],
    tables: [],
  };
}

/** The log on a sheet with the cells given. */
export function logOf(rows: CellValue[][], formats: readonly string[] = []): TrialLog {
  return findTrialLogs(sheetOf(rows, formats))[0];
}
