/** Logs of invented sessions, as the program reads them from a sheet. */
import { findTrialLogs, type TrialLog } from "../../src/experiment/log/trialLog";
import type { Random } from "../../src/statistics/numeric/drawer";
import type { CellValue } from "../../src/workbook/book";

/**
 * A sheet with these headings and rows, read as the program reads any.
 * @throws RangeError when no log is found in it
 */
export function logOf(headings: readonly string[], rows: readonly (readonly CellValue[])[]): TrialLog {
  const values = [headings, ...rows];
  const [log] = findTrialLogs({
    sheet: "Shots",
    firstRow: 0,
    firstColumn: 0,
    values,
    formats: values.map((row) => row.map(() => "General")),
    hiddenRows: [],
    merged: [],
    tables: [],
  });
  if (!log) throw new RangeError("no log was found in the rows");
  return log;
}

/** How many shots each session has: equal, or from half to one and a half times as many, in a drawn order of places. */
export function sessionSizes(sessions: number, shots: number, balanced: boolean): readonly number[] {
  if (balanced) return new Array<number>(sessions).fill(shots);
  return Array.from({ length: sessions }, (_, s) =>
    Math.max(2, Math.round(shots * ([0.5, 1.5, 1, 0.6, 1.4][s % 5] ?? 1))),
  );
}

/**
 * Bends of one session after the other: each session shifted by ratio times what a single shot scatters, which is 1.
 */
export function sessionShifts(sessions: number, ratio: number, random: Random): readonly number[] {
  return Array.from({ length: sessions }, () => ratio * random.normal());
}
