/** Why a fit gives no estimate, or no standard error, for a term. */
import type { ErrorModel } from "../errors/errorModel";
import type { Design, Driver } from "./designMatrix";
import type { LeastSquares } from "./leastSquares";
import { listOfWords } from "./listOfWords";

/** A term without an estimate, and why. */
export interface Unestimated {
  readonly term: string;
  readonly reason: string;
}

export function oneLevel(drivers: readonly Driver[]): Unestimated[] {
  return drivers.flatMap((driver) =>
    driver.kind === "category" && driver.levels.length < 2
      ? [
          {
            term: driver.name,
            reason: `${driver.name} has one level only${driver.levels.length ? ` (${driver.levels[0]})` : ""}, so it cannot be compared with another`,
          },
        ]
      : [],
  );
}

/** Why the term of a column has no estimate: it, or a column that depends on it, is a combination of others. */
export function explain(column: number, fit: LeastSquares, design: Design, drivers: readonly Driver[]): Unestimated {
  const { label, drivers: of, values, scale } = design.columns[column];
  const dependent = fit.dependent.find(
    (one) => one.column === column || one.combination.some((part) => part.column === column),
  );
  if (!dependent || dependent.rowsExhausted) {
    return {
      term: label,
      reason: `too few rows: ${fit.rows} ${fit.rows === 1 ? "row" : "rows"} cannot determine ${fit.columns} coefficients`,
    };
  }
  if (dependent.combination.length === 0) {
    return { term: label, reason: of.length > 1 ? `${label} occurs in no row` : `${label} is 0 in every row` };
  }
  const involved = [dependent.column, ...dependent.combination.map((part) => part.column)];
  const others = [...new Set(involved.filter((one) => one !== column && design.columns[one].drivers.length > 0))];
  if (others.length === 0) {
    const isNumber = of.length === 1 && drivers[of[0]].kind === "number";
    return {
      term: label,
      reason: `${label} is the same in every row${isNumber ? ` (${values.high[0] * scale})` : ""}`,
    };
  }
  const names = others.map((one) => design.columns[one].label);
  return {
    term: label,
    reason: `${label} always changes together with ${listOfWords(names)}: their effects cannot be separated`,
  };
}

/** Why a term with an estimate has no standard error. */
export function withoutError(label: string, errors: ErrorModel): string {
  return errors.kind === "robust"
    ? `the standard error of ${label}, because one row alone determines it`
    : `the standard error of ${label}, because too few groups of ${errors.by.name} determine it`;
}
