/** One-way analysis of variance: do values differ between the levels of a category by more than they scatter within? */
import { fisherUpper } from "../distributions/distributions";
import type { Grouping } from "../errors/errorModel";
import type { FTest } from "../fit/estimates";

/** What the values of one level are. */
export interface LevelSpread {
  readonly rows: number;
  /** NaN where no row has the level. */
  readonly mean: number;
  /** Σ of squares about that mean. */
  readonly squares: number;
}

/** Each level's values, in the order of the rows. */
export function valuesByLevel(values: ArrayLike<number>, { groups, levels }: Grouping): Float64Array[] {
  const counts = new Uint32Array(levels.length);
  for (let row = 0; row < values.length; row++) counts[groups[row]]++;
  const own = Array.from(counts, (rows) => new Float64Array(rows));
  counts.fill(0);
  for (let row = 0; row < values.length; row++) own[groups[row]][counts[groups[row]]++] = values[row];
  return own;
}

/**
 * Mean and squares about it. The mean comes first, so that no large sums are taken from each other, and is mended by
 * what its own rounding left of the deviations.
 */
export function levelSpread(values: Float64Array): LevelSpread {
  const rows = values.length;
  let sum = 0;
  for (let i = 0; i < rows; i++) sum += values[i];
  const mean = sum / rows;
  let squares = 0;
  let left = 0;
  for (let i = 0; i < rows; i++) {
    const deviation = values[i] - mean;
    squares += deviation * deviation;
    left += deviation;
  }
  return { rows, mean: mean + left / rows, squares: rows > 0 ? squares - left ** 2 / rows : 0 };
}

/**
 * Fisher's F (Statistical Methods for Research Workers (1925), chapter VII): the same test as a fit on the category
 * gives, in two passes over the rows and without a column for each level.
 * @returns a test without a value where one level has all the rows, each row has a level of its own, or nothing varies
 * @example levelsDiffer([[1, 2, 3], [4, 5, 6]].map((values) => levelSpread(Float64Array.from(values)))).value // 13.5
 */
export function levelsDiffer(spreads: readonly LevelSpread[]): FTest {
  const present = spreads.filter(({ rows }) => rows > 0);
  const all = present.reduce((total, { rows }) => total + rows, 0);
  const mean = present.reduce((total, one) => total + (one.rows / all) * one.mean, 0);
  const between = present.reduce((total, one) => total + one.rows * (one.mean - mean) ** 2, 0);
  const within = present.reduce((total, { squares }) => total + squares, 0);
  const df1 = Math.max(0, present.length - 1);
  const df2 = all - present.length;
  if (df2 <= 0 || df1 === 0 || !(between + within > 0)) return { value: null, df1, df2: null, p: null };
  const value = between / df1 / (within / df2);
  return { value, df1, df2, p: fisherUpper(value, df1, df2) };
}
