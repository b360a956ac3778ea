/** What is asked of a long column again and again, worked out once. */
import { memo } from "./memo";

export interface ColumnSummary {
  readonly mean: number;
  /** Σ of squares about the mean. */
  readonly squares: number;
  readonly low: number;
  readonly high: number;
}

const summaries = memo<ColumnSummary>(1);

/**
 * By the array, which must not change afterwards; of no values the mean is NaN and `low` above `high`.
 * @example columnSummary([1, 2, 6]) // { mean: 3, squares: 14, low: 1, high: 6 }
 */
export function columnSummary(values: ArrayLike<number>): ColumnSummary {
  return summaries(values, [], () => summarised(values));
}

/** Whether a column holds one value only. @example neverChanges([2, 2, 2]) === true */
export function neverChanges(values: ArrayLike<number>): boolean {
  const { low, high } = columnSummary(values);
  return low >= high;
}

function summarised(values: ArrayLike<number>): ColumnSummary {
  let total = 0;
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < values.length; i++) {
    total += values[i];
    low = Math.min(low, values[i]);
    high = Math.max(high, values[i]);
  }
  const mean = total / values.length;
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (values[i] - mean) ** 2;
  return { mean, squares, low, high };
}
