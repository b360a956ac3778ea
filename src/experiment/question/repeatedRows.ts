/** Rows of a log that say the same in every column. */
import { firstAlike, hashOfNumber, type Compared } from "../../statistics/numeric/alikeRows";
import { memo } from "../../statistics/numeric/memo";
import { there } from "../../there";
import { levelOf, type Reading } from "../log/reading";
import type { LogColumn, TrialLog } from "../log/trialLog";

const repeatsMemo = memo<ReadonlyMap<number, number>>(1);

/** Row → the first row that it repeats. The same for every question, so it is found once per log. */
export function repeatedRows(log: TrialLog): ReadonlyMap<number, number> {
  return repeatsMemo(log, [], () => {
    const told = toldColumns(log);
    const repeats = new Map<number, number>();
    if (told.length === 0 || told.some(ascends)) return repeats;
    firstAlike(log.rows.length, told.map(readingsCompared)).forEach((earlier, row) => {
      if (earlier < row) repeats.set(row, earlier);
    });
    return repeats;
  });
}

/** Whether a column counts up without a break, as a trial's number mostly does: then no row is the same as another. */
function ascends({ readings }: LogColumn): boolean {
  return readings.every((reading, row) => {
    const before = readings[row - 1];
    return (
      reading.kind === "number" && (before === undefined || (before.kind === "number" && reading.value > before.value))
    );
  });
}

export function toldColumns(log: TrialLog): LogColumn[] {
  return log.columns.filter(({ kind }) => kind !== "empty");
}

function readingsCompared({ readings }: LogColumn): Compared {
  const at = (row: number) => there(readings[row], "a reading");
  return {
    hash: (row) => hashOf(at(row)),
    same: (row, other) => at(row) === at(other) || keyOf(at(row)) === keyOf(at(other)),
  };
}

function hashOf(reading: Reading): number {
  if (reading.kind === "number") return hashOfNumber(reading.value);
  const key = String(keyOf(reading));
  let hash = key.length;
  for (let i = 0; i < key.length; i++) hash = Math.imul(hash ^ key.charCodeAt(i), 0x01000193);
  return hash;
}

function keyOf(reading: Reading): string | number {
  if (reading.kind === "number") return reading.value;
  return reading.kind === "blank" ? "" : reading.kind === "unusable" ? `!${reading.reason}` : `'${levelOf(reading)}`;
}
