/** Residuals against what a normal distribution would give. */
import { normalQuantile } from "./distributions";

export interface NormalScore {
  /** Index of the value. */
  readonly row: number;
  readonly value: number;
  /**
   * Normal quantile at the value's rank, (rank − 3/8) / (n + 1/4): Blom, Statistical Estimates and Transformed
   * Beta-Variables (1958).
   */
  readonly score: number;
}

/**
 * Values in ascending order with their normal scores.
 * @example normalScores([3, 1, 2])[1] // { row: 2, value: 2, score: 0 }
 */
export function normalScores(values: ArrayLike<number>): NormalScore[] {
  const order = Array.from({ length: values.length }, (_, row) => row).sort((a, b) => values[a] - values[b]);
  return order.map((row, rank) => ({
    row,
    value: values[row],
    score: normalQuantile((rank + 1 - 0.375) / (values.length + 0.25)),
  }));
}
