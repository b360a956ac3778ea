/** How much a driver varies with the other drivers alike, as the fit weighs its rows. */
import type { Driver } from "../fit/designMatrix";
import { membersOf, type Grouping } from "../errors/errorModel";
import { regress } from "../fit/regression";
import { addOuter, inner, invertDefinite, timesVector, zeroMatrix } from "../numeric/symmetric";

/**
 * Variance of values that the other drivers leave: x′Qx over the trace of Q, with Q = W − WD(D′WD)⁻¹D′W for the others'
 * columns D and the weights W that the fit gives the rows. Plain rows have W = 1, and it is the mean square of the
 * residuals; groups shifted with a ratio r of variances have W = 1 − r/(1 + n·r) within each of n rows, so that
 * the more they lie apart, the more what happens within them counts. Noise of variance σ² in the values adds σ² to it.
 * @param shifted groups and the ratio of the variance between them to that within
 * @returns null without degrees of freedom
 * @example leftBesides([1, 2, 3], []) === 1
 */
export function leftBesides(
  values: ArrayLike<number>,
  others: readonly Driver[],
  shifted?: { readonly by: Grouping; readonly ratio: number },
): number | null {
  const { fit, residual } = regress({ response: values, drivers: others });
  if (residual.df <= 0) return null;
  if (!shifted || !(shifted.ratio > 0)) return fit.residualSquares / residual.df;
  const members = membersOf(shifted.by);
  const weights = members.map((rows) => shifted.ratio / (1 + rows.length * shifted.ratio));
  const weigh = (column: ArrayLike<number>) => {
    const weighed = Float64Array.from(column);
    members.forEach((rows, g) => {
      const sum = rows.reduce((total, row) => total + column[row], 0);
      for (const row of rows) weighed[row] -= weights[g] * sum;
    });
    return weighed;
  };
  // The residuals of the plain fit differ from the values by a combination of the others, which Q takes out.
  const x = fit.residuals;
  const weighedX = weigh(x);
  const directions = fit.directions();
  const weighed = directions.map(weigh);
  const cross = directions.map((a) => weighed.map((b) => inner(a, b)));
  const inverse = invertDefinite(cross)?.inverse ?? [];
  const pull = directions.map((a) => inner(a, weighedX));
  const squares = inner(x, weighedX) - inner(pull, timesVector(inverse, pull));
  const twice = zeroMatrix(directions.length);
  for (let row = 0; row < x.length; row++)
    addOuter(
      twice,
      weighed.map((column) => column[row]),
    );
  const trace =
    members.reduce((total, rows, g) => total + rows.length * (1 - weights[g]), 0) -
    inverse.reduce((total, row, i) => total + inner(row, twice[i]), 0);
  return trace > 1e-9 ? squares / trace : null;
}
