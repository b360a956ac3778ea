/** How far a long column goes and what it adds up to: asked at several places of a fit, and read once. */

export interface ColumnRange {
  /** NaN where one of the values is; Infinity above −Infinity of no values. */
  readonly low: number;
  readonly high: number;
  readonly total: number;
}

/** By the array of values, which must not change as long as the memory is used. */
export type RangeMemory = WeakMap<object, ColumnRange>;

/** @example columnRangeOf([2, 1, 6], new WeakMap()) // { low: 1, high: 6, total: 9 } */
export function columnRangeOf(values: ArrayLike<number>, known: RangeMemory): ColumnRange {
  const before = known.get(values);
  if (before) return before;
  const made = read(values);
  known.set(values, made);
  return made;
}

/** Whether all values are finite. */
export function isFiniteRange({ low, high }: ColumnRange): boolean {
  return !(Number.isNaN(low) || low === -Infinity || high === Infinity);
}

/** Two values at a time, so that neither waits for the other; without branches, which unordered values mislead. */
function read(values: ArrayLike<number>): ColumnRange {
  let [low, otherLow, high, otherHigh] = [Infinity, Infinity, -Infinity, -Infinity];
  let [total, otherTotal] = [0, 0];
  const even = values.length - (values.length % 2);
  for (let i = 0; i < even; i += 2) {
    const value = values[i];
    const other = values[i + 1];
    low = Math.min(low, value);
    high = Math.max(high, value);
    total += value;
    otherLow = Math.min(otherLow, other);
    otherHigh = Math.max(otherHigh, other);
    otherTotal += other;
  }
  if (even < values.length) {
    const last = values[even];
    [low, high, total] = [Math.min(low, last), Math.max(high, last), total + last];
  }
  return { low: Math.min(low, otherLow), high: Math.max(high, otherHigh), total: total + otherTotal };
}
