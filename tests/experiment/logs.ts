/** Logs for tests of the experiment. */
import { sheetOf } from "../../scripts/evidence/sheetOf";
import { findTrialLogs, type TrialLog } from "../../src/experiment/log/trialLog";
import type { CellValue } from "../../src/workbook/book";

/** The log on a sheet with the cells given. @param formats by column, plain unless said */
export function logOf(rows: CellValue[][], formats: readonly string[] = []): TrialLog {
  const plain = rows.map((row) => row.map((_, c) => formats[c] ?? "General"));
  return findTrialLogs(sheetOf(rows, { formats: plain }))[0];
}
