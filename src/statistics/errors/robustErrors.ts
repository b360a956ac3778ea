/** Standard errors for rows that scatter unequally. */
import type { Scatter, Uncertainty } from "./errorModel";
import { addOuter, inner, invertDefinite, timesVector, zeroMatrix } from "../numeric/symmetric";

/**
 * The third heteroscedasticity-consistent covariance (MacKinnon & White, Journal of Econometrics 29 (1985) 305–325, in
 * the form of Long & Ervin, The American Statistician 54 (2000) 217–224): each squared residual over (1 − leverage)².
 * Tests use Student's t on rows less coefficients. A coefficient that one row alone determines has no standard error.
 */
export function robustErrors({ directions, residuals, df }: Scatter): Uncertainty {
  const size = directions.length;
  const covariance = zeroMatrix(size);
  const lone: number[][] = [];
  residuals.forEach((residual, row) => {
    const across = directions.map((direction) => direction[row]);
    const rest = 1 - inner(across, across);
    if (rest < 1e-10) lone.push(across);
    else addOuter(covariance, across, (residual / rest) ** 2);
  });
  const known = (along: readonly number[]) =>
    lone.every((across) => Math.abs(inner(across, along)) <= 1e-8 * Math.sqrt(inner(along, along)));
  return {
    variance: (along) => (df > 0 && known(along) ? inner(along, timesVector(covariance, along)) : undefined),
    df: () => df,
    joint(along, values) {
      if (df <= 0 || !along.every(known)) return undefined;
      const inverse = invertDefinite(along.map((a) => along.map((b) => inner(a, timesVector(covariance, b)))))?.inverse;
      return inverse && { value: inner(values, timesVector(inverse, values)) / values.length, df2: df };
    },
  };
}
