/** The logs of a sheet that somebody wrote; what a formula filled in is an answer and no log. */
import { findTrialLogs, type TrialLog } from "../experiment/log/trialLog";
import { meets } from "../workbook/area";
import type { Area, Book } from "../workbook/book";
import { FilePort } from "../workbook/file/filePort";

/**
 * The logs on one sheet, without the columns whose heading a formula gave: an answer such as BANK.REACH fills cells
 * that look like a small table of trials.
 */
export async function ownLogs(book: Book, sheet: string, takeIn: boolean): Promise<TrialLog[]> {
  const logs = findTrialLogs(await new FilePort(book).read(sheet), takeIn ? { takeIn: "all" } : {});
  const answers = answersOn(book, sheet);
  if (answers.length === 0) return logs;
  return logs
    .map((log) => ({
      ...log,
      columns: log.columns.filter(
        ({ column }) => !answers.some((area) => meets(area, { row: log.headingRow, column, rows: 1, columns: 1 })),
      ),
    }))
    .filter(({ columns }) => columns.length > 0);
}

/** The cells that formulas of several rows fill. */
function answersOn(book: Book, name: string): Area[] {
  const rows = book.sheets.find((sheet) => sheet.name === name)?.rows ?? [];
  return rows.flatMap((cells) =>
    (cells ?? []).flatMap((cell) => (cell?.spill && cell.spill.rows > 1 ? [cell.spill] : [])),
  );
}
