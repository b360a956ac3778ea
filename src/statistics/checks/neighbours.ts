/** Do neighbouring shots of one session go together, beyond what the fit explains? */
import { membersOf, type Grouping } from "../errors/errorModel";
import { normalTwoSided } from "../distributions/normal";
import type { Regression } from "../fit/regression";
import { inner, traceOfProduct, zeroMatrix } from "../numeric/symmetric";

export interface Neighbours {
  /** Σ of products of neighbouring residuals over Σ of their squares. */
  readonly share: number;
  /** What that share is where neighbours do not go together; below 0, because the fit ties residuals to each other. */
  readonly expected: number;
  /** The correlation of neighbours, the share less what is expected. */
  readonly correlation: number;
  readonly standardError: number;
  readonly p: number;
  /** Pairs of neighbours. */
  readonly pairs: number;
}

/**
 * The moments of Durbin & Watson (Biometrika 37 (1950) 409–428) for normal scatter, of the residuals' neighbours within
 * sessions, and p from the normal distribution.
 * @param regression a plain fit, sessions in it as a category where there are any
 * @param order a number for each row: neighbours come next to each other in it
 * @param by sessions across which shots are no neighbours
 * @returns undefined where there are too few rows or neighbours, or no scatter
 */
export function neighbours(
  { fit, residual }: Regression,
  order: ArrayLike<number>,
  by?: Grouping,
): Neighbours | undefined {
  const rows = Array.from({ length: order.length }, (_, row) => row);
  const after = new Int32Array(rows.length).fill(-1);
  const before = new Int32Array(rows.length).fill(-1);
  let pairs = 0;
  for (const members of by ? membersOf(by) : [rows]) {
    const sorted = [...members].sort((a, b) => order[a] - order[b]);
    sorted.slice(1).forEach((row, place) => {
      after[sorted[place]] = row;
      before[row] = sorted[place];
      pairs++;
    });
  }
  const { df } = residual;
  if (pairs < 3 || df < 3 || !(fit.residualSquares > 0)) return undefined;
  /** Half of the next and half of the one before: the symmetric matrix whose form is the sum over neighbours. */
  const beside = (values: Float64Array) =>
    Float64Array.from(values, (_, row) => {
      const next = after[row] < 0 ? 0 : values[after[row]];
      return (next + (before[row] < 0 ? 0 : values[before[row]])) / 2;
    });
  const directions = fit.directions();
  const turned = directions.map(beside);
  const crossed = zeroMatrix(directions.length);
  directions.forEach((a, i) => turned.forEach((b, j) => (crossed[i][j] = inner(a, b))));
  // Traces of M·A and M·A·M·A, with M the projection on the residuals: A has no diagonal, A² has 1/4 for each
  // neighbour.
  const first = -crossed.reduce((total, row, i) => total + row[i], 0);
  const squared = turned.reduce((total, one) => total + inner(one, one), 0);
  const second = pairs / 2 - 2 * squared + traceOfProduct(crossed, crossed);
  const expected = first / df;
  const variance = (2 * (second - first ** 2 / df)) / (df * (df + 2));
  if (!(variance > 0)) return undefined;
  const share = inner(fit.residuals, beside(fit.residuals)) / fit.residualSquares;
  const standardError = Math.sqrt(variance);
  return {
    share,
    expected,
    correlation: share - expected,
    standardError,
    p: normalTwoSided((share - expected) / standardError),
    pairs,
  };
}
