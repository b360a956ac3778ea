/** Logs of invented sessions, as the program reads them from a sheet. */
import { findTrialLogs, type TrialLog } from "../../src/experiment/log/trialLog";
import type { Choice, DriverChoice } from "../../src/experiment/question/choice";
import type { Random } from "../../src/statistics/numeric/drawer";
import type { CellValue } from "../../src/workbook/book";
import { sheetOf } from "./sheetOf";

/**
 * A sheet with these headings and rows, read as the program reads any.
 * @throws RangeError when no log is found in it
 */
export function logOf(headings: readonly string[], rows: readonly (readonly CellValue[])[]): TrialLog {
  const [log] = findTrialLogs(sheetOf([headings, ...rows]));
  if (!log) throw new RangeError("no log was found in the rows");
  return log;
}

/** The bend explained by these drivers, at 95 %. */
export function bendBy(...drivers: readonly DriverChoice[]): Choice {
  return { response: "Bend (mm)", drivers, joint: [], constant: true, confidence: 0.95 };
}

export const asNumber = (heading: string, degree = 1): DriverChoice => ({ heading, as: "number", degree });
export const asCategory = (heading: string): DriverChoice => ({ heading, as: "category", degree: 1 });

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
