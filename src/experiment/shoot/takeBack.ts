/** Whether an attempt that was pressed in can be taken back: its row must be as it was written. */
import type { CellValue } from "../../workbook/book";
import type { Area } from "../../workbook/book";
import { isRequired } from "../log/attemptLog";
import type { Pressed } from "./shootForm";
import { cellOf, type ShootLog } from "./shootLog";

/** Columns of the open row that hold something before anything is written. */
export function filledBefore({ log, data, open }: ShootLog): number[] {
  return log.columns.flatMap(({ column }) => (isNothing(cellOf(data, open.row, column)) ? [] : [column]));
}

function isNothing(value: CellValue): boolean {
  return value === null || value === "";
}

/** Why the attempt stays, in a sentence; undefined when it can be taken back. */
export function staysBecause(
  { log, data, shot, places }: ShootLog,
  { sheet, row, cells, beside }: Pressed,
): string | undefined {
  const where = `Row ${row + 1} of the sheet "${sheet}"`;
  if (log.sheet !== sheet) return `${where} is on another sheet than this log, so it stays.`;
  if (cells.some(([column, value]) => cellOf(data, row, column) !== value))
    return `${where} was changed since it was pressed in, so it stays. Mend it in the sheet.`;
  const own = new Set([...cells.map(([column]) => column), ...beside]);
  const added = log.columns.find(
    (column) =>
      !own.has(column.column) && !isComputed(column, places.measured) && !isNothing(cellOf(data, row, column.column)),
  );
  if (added) return `${where} has something under ${added.heading.text} since it was pressed in, so it stays.`;
  if (log.rows[shot.at(-1) ?? NaN] !== row) return `${where} is not the last attempt any more, so it stays.`;
  return undefined;
}

/** Columns that the sheet works out from others. */
function isComputed(column: ShootLog["log"]["columns"][number], measured: ShootLog["places"]["measured"]): boolean {
  return isRequired(column) || column.meaning === "clearance" || (column.meaning === "bend" && column !== measured);
}

/** The cells of a press as areas side by side, to be emptied. */
export function areasOf({ row, cells }: Pressed): Area[] {
  const columns = cells.map(([column]) => column).sort((a, b) => a - b);
  const areas: Area[] = [];
  for (const column of columns) {
    const last = areas.at(-1);
    if (last && last.column + last.columns === column) areas[areas.length - 1] = { ...last, columns: last.columns + 1 };
    else areas.push({ row, column, rows: 1, columns: 1 });
  }
  return areas;
}
