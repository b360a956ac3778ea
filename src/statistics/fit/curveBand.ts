/** The band about a fitted curve that holds for the whole curve at once. */
import { chiSquareQuantile, fisherQuantile } from "../distributions/distributions";
import type { Estimate } from "./estimates";
import type { Regression } from "./regression";

export interface BandEnds {
  readonly low: number;
  readonly high: number;
}

/**
 * How many standard errors a band lies from a curve so that the whole curve lies within it: for a straight line Working
 * & Hotelling (Journal of the American Statistical Association 24 supplement (1929) 73–85), for more directions Scheffé
 * (Biometrika 40 (1953) 87–104). It holds over every place, so over those drawn it holds at least as often as it says.
 * @param directions how many coefficients the curve can move along: 2 for a straight line with a constant
 * @param df of the standard error; Infinity where it counts as known
 * @example curveFactor(0.95, 1, Infinity) // 1.9599639845
 */
export function curveFactor(confidence: number, directions: number, df: number): number {
  return Math.sqrt(
    df === Infinity
      ? chiSquareQuantile(confidence, directions)
      : directions * fisherQuantile(confidence, directions, df),
  );
}

/**
 * Ends of the simultaneous band of a number driver's curve.
 * @param driver index of a number driver
 * @param estimates of the curve, such as effectLine gives
 * @returns undefined where there is no standard error
 */
export function curveBand(
  { question, fit, confidence }: Regression,
  driver: number,
  estimates: readonly (Estimate | undefined)[],
): (BandEnds | undefined)[] {
  const column = question.drivers[driver];
  if (column.kind !== "number") throw new RangeError(`${column.name} is a category, not a number`);
  // The curve's mean, which goes through the constant and the other drivers, and its powers.
  const directions = Math.min(column.degree + 1, fit.kept.length);
  const factors = new Map<number, number>();
  const factor = (df: number) => {
    let known = factors.get(df);
    if (known === undefined) factors.set(df, (known = curveFactor(confidence, directions, df)));
    return known;
  };
  return estimates.map((estimate) => {
    if (!estimate || estimate.standardError === null || estimate.df === null) return undefined;
    const half = factor(estimate.df) * estimate.standardError;
    return { low: estimate.value - half, high: estimate.value + half };
  });
}
