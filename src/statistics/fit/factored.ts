/** A design taken apart into orthogonal directions and a triangle, however that was done. */
import { add, multiply, negate, type Pair } from "../numeric/doubleDouble";

/** A column that is a combination of earlier ones, so that its coefficient cannot be estimated. */
export interface DependentColumn {
  readonly column: number;
  /** True when the rows had run out: as many columns as rows already had an estimate. */
  readonly rowsExhausted: boolean;
  /** column = Σ factor · earlier column, to rounding. Empty when the column is all zero. */
  readonly combination: readonly { readonly column: number; readonly factor: number }[];
}

export interface Factored {
  /** Columns with an estimate, ascending. */
  readonly kept: readonly number[];
  readonly dependent: readonly DependentColumn[];
  /** above[k][j]: multiple of orthogonal column j in kept column k, j < k. */
  readonly above: readonly (readonly Pair[])[];
  /** Squared length of each orthogonal column. */
  readonly squares: readonly Pair[];
  /** Multiple of each orthogonal column in the response. */
  readonly projections: readonly Pair[];
  readonly residualSquares: number;
  residuals(): Float64Array;
  /** The orthogonal columns at length 1, in arrays of their own. */
  directions(): Float64Array[];
}

/** Solves R·x = right for the unit upper triangle whose column k holds above[k]. */
export function backSubstitute(above: readonly (readonly Pair[])[], right: readonly Pair[]): Pair[] {
  const x: Pair[] = right.map((value) => value);
  for (let k = x.length - 1; k > 0; k--) {
    for (let j = 0; j < k; j++) x[j] = add(x[j], negate(multiply(above[k][j], x[k])));
  }
  return x;
}

/** Solves Rᵀ·v = right for the same triangle. */
export function forwardSubstitute(above: readonly (readonly Pair[])[], right: readonly Pair[]): Pair[] {
  const v: Pair[] = [];
  right.forEach((value, k) => {
    v.push(above[k].reduce((rest, multiple, j) => add(rest, negate(multiply(multiple, v[j]))), value));
  });
  return v;
}
