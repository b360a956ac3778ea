/** A question over some of its rows. */
import type { Driver } from "./designMatrix";
import type { ErrorModel } from "../errors/errorModel";
import type { RegressionProblem } from "./regression";

/**
 * The same question asked of some rows only; levels and groups that no row has any more are gone.
 * @param rows indices, in the order wanted
 * @example pickRows({ response: [1, 2, 3], drivers: [] }, [0, 2]).response // [1, 3]
 */
export function pickRows(question: RegressionProblem, rows: readonly number[]): RegressionProblem {
  const { response, drivers, weights, errors } = question;
  const numbers = (values: ArrayLike<number>) => rows.map((row) => values[row]);
  return {
    ...question,
    response: numbers(response),
    drivers: drivers.map((driver): Driver => {
      if (driver.kind === "number") return { ...driver, values: numbers(driver.values) };
      const { places, levels } = pickLevels(driver.values, driver.levels, rows);
      return { ...driver, values: places, levels };
    }),
    ...(weights && { weights: numbers(weights) }),
    ...(errors && { errors: pickErrors(errors, rows) }),
  };
}

function pickErrors(errors: ErrorModel, rows: readonly number[]): ErrorModel {
  if (errors.kind === "robust") return errors;
  const { places, levels } = pickLevels(errors.by.groups, errors.by.levels, rows);
  return { ...errors, by: { ...errors.by, groups: places, levels } };
}

function pickLevels(
  values: ArrayLike<number>,
  levels: readonly string[],
  rows: readonly number[],
): { places: number[]; levels: readonly string[] } {
  const present = new Set(rows.map((row) => values[row]));
  const kept = levels.flatMap((_, level) => (present.has(level) ? [level] : []));
  const place = new Map(kept.map((level, index) => [level, index]));
  return { places: rows.map((row) => place.get(values[row]) ?? 0), levels: kept.map((level) => levels[level]) };
}
