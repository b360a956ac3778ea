/** The filmed shot into a row of a log: the one that was chosen, else the first free one below its rows. */
import { there } from "../../there";
import type { TrialLog } from "../../experiment/log/trialLog";
import { filmedCells, type Filmed } from "../../experiment/video/videoRow";
import { cellAddress } from "../../workbook/address";
import type { Port } from "../../workbook/port";

/** @param row sheet row, from 0; a new one when missing @returns what was written, in a sentence */
export async function writeIntoLog(
  port: Port,
  log: TrialLog,
  filmed: Filmed,
  row: number | undefined,
): Promise<string> {
  const { sheet } = log;
  const { cells, left } = there(filmedCells(log, filmed), "a column of bends");
  const rest = left === "" ? "" : ` The log has no free column for: ${left}.`;
  const told = (at: number) => `Written to row ${at + 1} of the sheet "${sheet}". No other cell was touched.${rest}`;
  if (row !== undefined) {
    const filled = await port.fillRow({ sheet, row, cells });
    if ("written" in filled) return told(row);
    throw new Error(`cell ${cellAddress(row, filled.filled)} holds something already. Choose another row.`);
  }
  // Rows that were prepared below the last shot may compute their bend from a gap; then the row goes under them all.
  const { firstRow, values } = await port.read(sheet);
  for (const at of [(log.rows.at(-1) ?? log.headingRow) + 1, firstRow + values.length]) {
    const filled = await port.fillRow({ sheet, row: at, cells });
    if ("written" in filled) return told(at);
  }
  throw new Error(`no row below the log on "${sheet}" is free.`);
}
