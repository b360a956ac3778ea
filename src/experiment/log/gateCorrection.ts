/**
 * What the departure gate takes off the set bend, row by row: R − gap is what the obstacle was set to, and the path's
 * own bend is that less the correction that the Layout view and BANK.LAYOUT give.
 */
import { convertUnit, kindOfUnit } from "../language/unitConversion";
import { readingAt, type LogColumn } from "./logColumns";
import type { TrialLog } from "./trialLog";

/** The column of corrections; undefined of a log without one. */
export function correctionColumn({ columns }: Pick<TrialLog, "columns">): LogColumn | undefined {
  return columns.find(({ meaning }) => meaning === "gate correction");
}

/** The correction of a row in a unit of length; 0 where none is written, NaN where what stands there is no length. */
export function correctionAt(column: LogColumn | undefined, index: number, unit: string): number {
  if (!column) return 0;
  const reading = readingAt(column, index);
  if (reading.kind === "blank") return 0;
  const own = column.heading.unit;
  if (reading.kind !== "number" || (own !== "" && kindOfUnit(own) !== "length")) return NaN;
  return convertUnit(reading.value, own === "" ? unit : own, unit);
}
