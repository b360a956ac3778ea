/** Mean and standard deviation of one sample, with intervals. */
import { chiSquareQuantile, studentQuantile } from "../distributions/distributions";
import { exactColumn } from "../numeric/doubleDouble";
import { leastSquares } from "../fit/leastSquares";

export interface Interval {
  readonly low: number;
  readonly high: number;
}

export interface SpreadEstimate {
  readonly n: number;
  readonly mean: number;
  readonly meanInterval: Interval;
  readonly standardDeviation: number;
  readonly standardDeviationInterval: Interval;
}

/**
 * Mean with Student's interval and standard deviation with the chi-square interval, both for a normal sample.
 * @param values at least two, any one unit
 * @example spread([1, 2, 3], 0.95).mean === 2
 */
export function spread(values: readonly number[], confidence: number): SpreadEstimate {
  const n = values.length;
  // Squares of very large and very small values are no doubles: a power of two is taken out, which rounds nothing.
  const unit = largestPower(values);
  const fit = leastSquares(
    [exactColumn(new Float64Array(n).fill(1))],
    exactColumn(values.map((value) => value / unit)),
  );
  const df = n - 1;
  const standardDeviation = Math.sqrt(fit.residualSquares / df) * unit;
  const mean = fit.coefficients[0][0] * unit;
  const half = (studentQuantile(confidence, df) * standardDeviation) / Math.sqrt(n);
  const tail = (1 - confidence) / 2;
  return {
    n,
    mean,
    meanInterval: { low: mean - half, high: mean + half },
    standardDeviation,
    standardDeviationInterval: {
      low: standardDeviation * Math.sqrt(df / chiSquareQuantile(1 - tail, df)),
      high: standardDeviation * Math.sqrt(df / chiSquareQuantile(tail, df)),
    },
  };
}

/** A power of two near the largest size among the values; 1 where they are of a size whose squares are safe. */
function largestPower(values: readonly number[]): number {
  const size = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  if (size === 0 || (size > 1e-60 && size < 1e60)) return 1;
  return 2 ** Math.max(-1022, Math.min(1023, Math.floor(Math.log2(size))));
}
