/** Mean and standard deviation of one sample, with intervals. May import: doubleDouble.ts, leastSquares.ts, distributions.ts. */
import { chiSquareQuantile, studentQuantile } from "./distributions";
import { exactColumn } from "./doubleDouble";
import { leastSquares } from "./leastSquares";

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
  const fit = leastSquares([exactColumn(new Float64Array(n).fill(1))], exactColumn(values));
  const df = n - 1;
  const standardDeviation = Math.sqrt(fit.residualSquares / df);
  const mean = fit.coefficients[0][0];
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
