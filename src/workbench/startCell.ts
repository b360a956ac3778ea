/**
 * Which cell is in front when a workbook opens: where the next reading goes, and never a heading, which the first key
 * pressed would overwrite.
 */
import { nextGap } from "../experiment/start/firstLog";
import { findTrialLogs } from "../experiment/log/trialLog";
import { there } from "../there";
import type { Area } from "../workbook/book";
import type { SheetData } from "../workbook/port";

export function startCell(data: SheetData): Area {
  const cell = (row: number, column: number): Area => ({ row, column, rows: 1, columns: 1 });
  const [log] = findTrialLogs(data);
  if (log) {
    const next = nextGap(log);
    if (next) return cell(next.row, next.column);
    return cell((log.rows.at(-1) ?? log.headingRow) + 1, there(log.columns[0], "a first column of the log").column);
  }
  const top = data.values[0]?.[0];
  return typeof top === "string"
    ? cell(data.firstRow + data.values.length, data.firstColumn)
    : cell(data.firstRow, data.firstColumn);
}
