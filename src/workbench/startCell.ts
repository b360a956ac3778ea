/**
 * Which cell is in front when a workbook opens: where the next reading goes, and never a heading, which the first key
 * pressed would overwrite. A long log is not read for that: its top says in which columns shots stand, and those say
 * where they end.
 */
import { nextGap, shotColumns } from "../experiment/start/firstLog";
import { isBlankCell } from "../experiment/log/cellKinds";
import { findTrialLogs } from "../experiment/log/trialLog";
import { there } from "../there";
import type { Area } from "../workbook/book";
import type { Port, SheetData } from "../workbook/port";

/** What counts as the top of a sheet. */
const TOP: Area = { row: 0, column: 0, rows: 400, columns: 100 };
/** Rows of those columns that are looked at together. */
const ROWS = 10_000;

/** The cell of the sheet in which the next reading goes. */
export async function startCell(port: Port, sheet: string): Promise<Area> {
  const part = await port.readArea(sheet, TOP);
  const long = part.values.at(-1)?.some((value) => value !== null);
  if (!long) return startIn(await port.read(sheet));
  const [log] = findTrialLogs({ ...part, sheet, firstRow: TOP.row, firstColumn: TOP.column });
  const next = log && nextGap(log);
  if (!log || !next) return startIn(await port.read(sheet));
  const columns = shotColumns(log).map(({ column }) => column);
  const left = Math.min(...columns);
  const width = Math.max(...columns) - left + 1;
  for (let row = TOP.rows, after = next.row; ; row += ROWS) {
    const { values } = await port.readArea(sheet, { row, column: left, rows: ROWS, columns: width });
    const last = values.findLastIndex((cells) => columns.some((column) => !isBlankCell(cells[column - left] ?? null)));
    if (last < 0) return cell(after, next.column);
    after = row + last + 1;
  }
}

function startIn(data: SheetData): Area {
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

function cell(row: number, column: number): Area {
  return { row, column, rows: 1, columns: 1 };
}
