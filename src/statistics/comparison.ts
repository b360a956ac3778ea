/**
 * All levels of a category compared with each other, everything else alike. May import: adjustedMeans.ts, regression.ts, studentisedRange.ts.
 */
import { adjustedMeans, middleSettings, type AdjustedMean } from "./adjustedMeans";
import type { Regression } from "./regression";
import { studentisedRangeQuantile, studentisedRangeUpper } from "./studentisedRange";

/** A pair of levels. What the rows cannot give is null. */
export interface Pairing {
  readonly a: string;
  readonly b: string;
  /** Mean of a less mean of b. */
  readonly difference: number | null;
  readonly standardError: number | null;
  readonly df: number | null;
  /** Ends of the interval that holds for all pairs at once. */
  readonly low: number | null;
  readonly high: number | null;
  /** For all pairs at once. */
  readonly p: number | null;
  /** The interval lies within the margin on both sides of 0; null without a margin or an interval. */
  readonly equivalent: boolean | null;
}

export interface Comparison {
  readonly means: readonly AdjustedMean[];
  readonly pairs: readonly Pairing[];
}

/**
 * Adjusted means and all pairwise differences, with intervals and p-values that hold for all pairs together, from the
 * studentised range (Tukey; for unequal numbers of rows Kramer, Biometrics 12 (1956) 307–310, proved conservative by
 * Hayter, Annals of Statistics 12 (1984) 61–75). Each pair uses the degrees of freedom of its own standard error.
 * @param category index of the category among the regression's drivers
 * @param margin largest difference that counts as none, in the response's unit
 * @throws RangeError when the driver is a number or the margin is not above 0
 */
export function compare(regression: Regression, category: number, margin?: number): Comparison {
  if (margin !== undefined && !(margin > 0)) throw new RangeError(`margin is ${margin}: it must be above 0`);
  const means = adjustedMeans(regression, category);
  const middle = middleSettings(regression);
  const at = (level: number) => middle.map((setting, j) => (j === category ? level : setting));
  const quantiles = new Map<string, number>();
  const quantile = (df: number) => {
    // Degrees of freedom that differ in rounding alone share a quantile.
    const key = df.toPrecision(10);
    let found = quantiles.get(key);
    if (found === undefined) quantiles.set(key, (found = studentisedRangeQuantile(regression.confidence, means.length, df)));
    return found;
  };
  const pairs = means.flatMap(({ level: a }, first) =>
    means.slice(first + 1).map(({ level: b }, offset): Pairing => {
      const found = regression.difference(at(first + 1 + offset), at(first));
      const nothing = { a, b, difference: found?.value ?? null, standardError: null, df: null, low: null, high: null, p: null, equivalent: null };
      if (!found || found.standardError === null || found.df === null) return nothing;
      const { value: difference, standardError, df } = found;
      const half = (quantile(df) * standardError) / Math.SQRT2;
      const [low, high] = [difference - half, difference + half];
      // Without any scatter a difference is either rounding or certain.
      const rounding = 1e-14 * Math.max(...[first, first + 1 + offset].map((level) => Math.abs(means[level].estimate?.value ?? 0)));
      const range = standardError === 0 ? (Math.abs(difference) <= rounding ? 0 : Infinity) : (Math.SQRT2 * Math.abs(difference)) / standardError;
      const p = studentisedRangeUpper(range, means.length, df);
      return { a, b, difference, standardError, df, low, high, p, equivalent: margin === undefined ? null : low > -margin && high < margin };
    }),
  );
  return { means, pairs };
}
