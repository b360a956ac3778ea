/** The fitted line of one number driver with its band, and the rows moved onto it. */
import { middleSettings } from "./adjustedMeans";
import type { Setting } from "./designMatrix";
import type { Estimate } from "./estimates";
import type { Regression } from "./regression";

export interface EffectLine {
  /** Equally spaced over the range of the rows. */
  readonly x: readonly number[];
  /** Fitted mean at each x, other drivers at their settings; undefined where the rows do not determine it. */
  readonly estimates: readonly (Estimate | undefined)[];
  /** Per row: its value of the driver, and its residual added to the fitted line there (a partial residual). */
  readonly points: readonly { readonly x: number; readonly y: number }[];
}

/**
 * Line, pointwise band and partial residuals of a number driver.
 * @param driver index of a number driver
 * @param steps how many points the line has
 * @param others settings of the other drivers, one per driver; their middle unless said
 * @throws RangeError when the driver is a category
 */
export function effectLine(
  regression: Regression,
  driver: number,
  steps = 41,
  others: readonly Setting[] = middleSettings(regression),
): EffectLine {
  const column = regression.question.drivers[driver];
  if (column.kind !== "number") throw new RangeError(`${column.name} is a category, not a number`);
  const at = (x: number) => regression.estimate(others.map((setting, j) => (j === driver ? x : setting)));
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < column.values.length; i++) {
    low = Math.min(low, column.values[i]);
    high = Math.max(high, column.values[i]);
  }
  const x = Array.from({ length: steps }, (_, i) => low + ((high - low) * i) / (steps - 1));
  const estimates = x.map(at);
  const { design, fit } = regression;
  const known = new Map<number, number>();
  const fitted = (value: number) => {
    let mean = known.get(value);
    if (mean === undefined) {
      const weights = design.weights(others.map((setting, j) => (j === driver ? value : setting)));
      mean = fit.kept.reduce((total, index, place) => total + weights[index][0] * fit.coefficients[place][0], 0);
      known.set(value, mean);
    }
    return mean;
  };
  const points = Array.from(column.values, (value, row) => ({
    x: value,
    y: estimates[0] ? fitted(value) + regression.residuals[row] : NaN,
  }));
  return { x, estimates, points };
}
