/** Means per level of a category with everything else alike. */
import type { Setting } from "./designMatrix";
import { columnSummary } from "../numeric/columnSummary";
import type { Estimate } from "./estimates";
import type { Regression } from "./regression";

export interface AdjustedMean {
  readonly level: string;
  /** Rows used that have this level. */
  readonly rows: number;
  /** Undefined where the rows do not determine it. */
  readonly estimate: Estimate | undefined;
}

/** Settings in the middle of the rows: each number at its mean, each category's levels with equal weight. */
export function middleSettings(regression: Regression): Setting[] {
  return regression.question.drivers.map((driver) =>
    driver.kind === "category" ? "even" : columnSummary(driver.values).mean,
  );
}

/**
 * Fitted mean at each level of a category, numbers at their mean and other categories with equal weight.
 * @param category index of a category driver
 * @throws RangeError when the driver is a number
 */
export function adjustedMeans(regression: Regression, category: number): AdjustedMean[] {
  const driver = regression.question.drivers[category];
  if (driver.kind !== "category") throw new RangeError(`${driver.name} is a number, not a category`);
  const middle = middleSettings(regression);
  return driver.levels.map((level, index) => {
    let rows = 0;
    for (let i = 0; i < driver.values.length; i++) if (driver.values[i] === index) rows++;
    return {
      level,
      rows,
      estimate: regression.estimate(middle.map((setting, j) => (j === category ? index : setting))),
    };
  });
}
