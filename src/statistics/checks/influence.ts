/** How hard each row pulls. */
import type { Regression } from "../fit/regression";

export interface RowInfluence {
  /** Index of the row among the rows used. */
  readonly row: number;
  readonly leverage: number;
  /** Residual in units of its own standard error, with the row itself left out of the spread; null when that is 0. */
  readonly studentised: number | null;
  /** Cook's distance: how far all fitted values move when the row is left out. Technometrics 19 (1977) 15–18. */
  readonly distance: number;
}

/**
 * Influence of every row on the plain least squares fit, in the order of the rows. Rows that alone determine a
 * coefficient have distance Infinity.
 */
export function influence(regression: Regression): RowInfluence[] {
  const { fit, residual } = regression;
  const { residuals } = fit;
  const columns = fit.kept.length;
  const leverages = fit.leverages();
  return Array.from(residuals, (e, row) => {
    const leverage = Math.min(leverages[row], 1);
    const rest = 1 - leverage;
    if (rest < 1e-10) return { row, leverage: 1, studentised: null, distance: Infinity };
    const variance = residual.df > 0 ? fit.residualSquares / residual.df : 0;
    const withoutRow = residual.df > 1 ? (fit.residualSquares - (e * e) / rest) / (residual.df - 1) : 0;
    return {
      row,
      leverage,
      studentised: withoutRow > 0 ? e / Math.sqrt(withoutRow * rest) : null,
      distance: variance > 0 ? (e * e * leverage) / (columns * variance * rest * rest) : 0,
    };
  });
}
