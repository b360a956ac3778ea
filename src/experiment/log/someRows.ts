/** A log with some of its rows. */
import { readingAt } from "./logColumns";
import type { TrialLog } from "./trialLog";

/** @param indices of the rows that stay, in their new order */
export function someRows(log: TrialLog, indices: readonly number[]): TrialLog {
  return {
    ...log,
    rows: indices.flatMap((index) => log.rows[index] ?? []),
    columns: log.columns.map((column) => ({
      ...column,
      readings: indices.map((index) => readingAt(column, index)),
    })),
  };
}
