/** What one more shot would teach: the fall of the mean variance of the prediction. */
import type { Setting } from "../../statistics/fit/designMatrix";
import type { Regression } from "../../statistics/fit/regression";
import { membersOf } from "../../statistics/errors/errorModel";
import { addOuter, inner, invertDefinite, timesVector, type Matrix } from "../../statistics/numeric/symmetric";

/**
 * By how much one shot at a setting lowers the mean variance of the prediction over the given settings, as a share.
 * Where sessions are shifted, the shot is one of a session to come: its own scatter and a shift of its
 * own come with it.
 */
export function teacher(regression: Regression, over: readonly Setting[][]): (settings: readonly Setting[]) => number {
  const { fit, design } = regression;
  const along = (settings: readonly Setting[]) => fit.combine(design.weights(settings))?.along;
  const { covariance, noise } = known(regression);
  const moved = (vector: readonly number[]) => (covariance ? timesVector(covariance, vector) : vector);
  const targets = over.flatMap((settings) => {
    const vector = along(settings);
    return vector ? [{ vector, moved: moved(vector) }] : [];
  });
  const before = targets.reduce((sum, target) => sum + inner(target.vector, target.moved), 0);
  return (settings) => {
    const vector = along(settings);
    if (!vector || before === 0) return 0;
    const fall =
      targets.reduce((sum, target) => sum + inner(target.moved, vector) ** 2, 0) /
      (noise + inner(vector, moved(vector)));
    return fall / before;
  };
}

/**
 * Covariance of the estimates along the fit's orthonormal directions, and the variance of a new shot, both in units of
 * the variance of single shots; without a covariance it is the unit matrix. With the ratio r of the variance between
 * sessions to it the covariance is (I − Σ r/(1 + n·r)·s·sᵀ)⁻¹, s being a session's sums along the directions over its n
 * shots.
 */
function known({ fit, spread, question: { errors } }: Regression): { covariance: Matrix | undefined; noise: number } {
  if (!spread || !(spread.between > 0) || !errors || errors.kind === "robust")
    return { covariance: undefined, noise: 1 };
  const ratio = (spread.between / spread.within) ** 2;
  const directions = fit.directions();
  const information = directions.map((_, k) => directions.map((__, j) => (j === k ? 1 : 0)));
  for (const rows of membersOf(errors.by))
    addOuter(
      information,
      directions.map((direction) => rows.reduce((sum, row) => sum + (direction[row] ?? 0), 0)),
      -ratio / (1 + rows.length * ratio),
    );
  return { covariance: invertDefinite(information)?.inverse, noise: 1 + ratio };
}
