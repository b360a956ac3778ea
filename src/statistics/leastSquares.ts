/**
 * Least squares by modified Gram–Schmidt in double-double arithmetic. May import: doubleDouble.ts.
 *
 * The response is carried through as the last column, which makes modified Gram–Schmidt backward stable (Björck,
 * "Solving linear least squares problems by Gram–Schmidt orthogonalization", BIT 7 (1967) 1–21). With 32 digits in
 * every step, coefficients and standard errors keep the digits that the given doubles determine, also on the hard
 * polynomials of the NIST StRD linear set.
 */
import { add, copyColumn, divide, dot, multiply, negate, subtractMultiple, type Pair, type PairColumn } from "./doubleDouble";

/** A column that is a combination of earlier ones, so that its coefficient cannot be estimated. */
export interface DependentColumn {
  readonly column: number;
  /** True when the rows had run out: as many columns as rows already had an estimate. */
  readonly rowsExhausted: boolean;
  /** column = Σ factor · earlier column, to rounding. Empty when the column is all zero. */
  readonly combination: readonly { readonly column: number; readonly factor: number }[];
}

/** A combination of coefficients. */
export interface Combination {
  readonly value: number;
  /** Its standard error, in residual standard deviations, when rows scatter alike and apart: the length of `along`. */
  readonly errorFactor: number;
  /** value = Σ along[j] · (direction j · response), over the orthonormal directions. */
  readonly along: readonly number[];
}

export interface LeastSquares {
  readonly rows: number;
  readonly columns: number;
  /** Columns with an estimate, ascending. */
  readonly kept: readonly number[];
  readonly dependent: readonly DependentColumn[];
  /** Coefficients of the kept columns, in their order. */
  readonly coefficients: readonly Pair[];
  /** Residuals, response less fit. */
  readonly residuals: Float64Array;
  /** Sum of squared residuals. */
  readonly residualSquares: number;
  /** Sum of squares taken up by each kept column given the ones before it. */
  readonly sequentialSquares: readonly number[];
  /** Leverage of each row: diagonal of the projection on the kept columns. */
  leverages(): Float64Array;
  /**
   * The combination Σ weightᵢ·coefficientᵢ and the factor that the residual standard deviation must be multiplied by
   * to give its standard error.
   * A column that is zero in every row counts as left out. A column that is a multiple of column 0 alone counts as left
   * out too where `ignoreMultiplesOfFirst` says that column 0 is the constant.
   * @param weights one per column of the design, dependent ones included
   * @returns undefined when the rows do not determine the combination
   */
  combine(weights: readonly Pair[], ignoreMultiplesOfFirst?: boolean): Combination | undefined;
  /** The orthonormal directions that the kept columns span, each over the rows: kept column j lies in the first j + 1. */
  directions(): Float64Array[];
  /** (XᵀX)⁻¹ over the kept columns, as plain numbers. */
  inverseCross(): number[][];
}

/** Rounding of the given doubles can leave this much, relative to the parts that cancel. */
const DEPENDENCE = 8 * Number.EPSILON;

/**
 * Solves min ‖response − design·coefficients‖. Dependent columns are found, reported and left out; nothing is guessed.
 * @param design columns of equal length
 * @example leastSquares([exactColumn([1, 1, 1]), exactColumn([0, 1, 2])], exactColumn([1, 3, 5])).coefficients // [[1, 0], [2, 0]]
 */
export function leastSquares(design: readonly PairColumn[], response: PairColumn): LeastSquares {
  const rows = response.high.length;
  const orthogonal: PairColumn[] = [];
  const squares: Pair[] = [];
  const kept: number[] = [];
  const dependent: DependentColumn[] = [];
  /** above[k][j]: multiple of orthogonal column j in kept column k, j < k. */
  const above: Pair[][] = [];
  const length = design.map((column) => Math.sqrt(dot(column, column)[0]));

  design.forEach((column, index) => {
    const rest = copyColumn(column);
    const multiples = orthogonal.map((direction, j) => {
      const multiple = divide(dot(direction, rest), squares[j]);
      subtractMultiple(rest, multiple, direction);
      return multiple;
    });
    const square = dot(rest, rest);
    const factors = backSubstitute(above, multiples);
    const cancelling = factors.reduce((total, factor, j) => total + Math.abs(factor[0]) * length[kept[j]], length[index]);
    const rowsExhausted = kept.length >= rows;
    if (rowsExhausted || Math.sqrt(Math.max(square[0], 0)) <= DEPENDENCE * cancelling) {
      const combination = factors
        .map((factor, j) => ({ column: kept[j], factor: factor[0] }))
        .filter(({ column: j, factor }) => Math.abs(factor) * length[j] > 1e-9 * length[index]);
      dependent.push({ column: index, rowsExhausted, combination: length[index] === 0 ? [] : combination });
      return;
    }
    orthogonal.push(rest);
    squares.push(square);
    above.push(multiples);
    kept.push(index);
  });

  const left = copyColumn(response);
  const projections = orthogonal.map((direction, j) => {
    const projection = divide(dot(direction, left), squares[j]);
    subtractMultiple(left, projection, direction);
    return projection;
  });
  const coefficients = backSubstitute(above, projections);

  /** Σ weights over the kept columns, expressed in the orthogonal directions: solves Rᵀv = weights. */
  const inDirections = (weights: readonly Pair[]): Pair[] => {
    const v: Pair[] = [];
    weights.forEach((weight, k) => {
      v.push(above[k].reduce((rest, multiple, j) => add(rest, negate(multiply(multiple, v[j]))), weight));
    });
    return v;
  };

  return {
    rows,
    columns: design.length,
    kept,
    dependent,
    coefficients,
    residuals: left.high,
    residualSquares: dot(left, left)[0],
    sequentialSquares: projections.map((projection, j) => multiply(multiply(projection, projection), squares[j])[0]),
    leverages() {
      const leverage = new Float64Array(rows);
      orthogonal.forEach(({ high }, j) => {
        const square = squares[j][0];
        for (let i = 0; i < rows; i++) leverage[i] += (high[i] * high[i]) / square;
      });
      return leverage;
    },
    combine(weights, ignoreMultiplesOfFirst = false) {
      const ofKept = kept.map((index) => weights[index]);
      const determined = dependent.every(({ column, combination, rowsExhausted }) => {
        if (!rowsExhausted && combination.length === 0) return true;
        if (!rowsExhausted && ignoreMultiplesOfFirst && combination.every((part) => part.column === 0)) return true;
        const implied = combination.reduce((total, part) => total + part.factor * weights[part.column][0], 0);
        const size = combination.reduce((total, part) => total + Math.abs(part.factor * weights[part.column][0]), 0);
        return Math.abs(implied - weights[column][0]) <= 1e-9 * Math.max(size, Math.abs(weights[column][0]));
      });
      if (!determined) return undefined;
      const value = ofKept.reduce<Pair>((total, weight, j) => add(total, multiply(weight, coefficients[j])), [0, 0]);
      const components = inDirections(ofKept);
      const errorSquare = components.reduce<Pair>((total, v, j) => add(total, divide(multiply(v, v), squares[j])), [0, 0]);
      return { value: value[0], errorFactor: Math.sqrt(errorSquare[0]), along: components.map(([v], j) => v / Math.sqrt(squares[j][0])) };
    },
    directions() {
      return orthogonal.map(({ high }, j) => {
        const length = Math.sqrt(squares[j][0]);
        return high.map((value) => value / length);
      });
    },
    inverseCross() {
      const unit = kept.map((_, k) => inDirections(kept.map((__, j): Pair => [j === k ? 1 : 0, 0])));
      return unit.map((a) =>
        unit.map((b) => a.reduce<Pair>((total, v, j) => add(total, divide(multiply(v, b[j]), squares[j])), [0, 0])[0]),
      );
    },
  };
}

/** Solves R·x = right for the unit upper triangle whose column k holds above[k]. */
function backSubstitute(above: readonly (readonly Pair[])[], right: readonly Pair[]): Pair[] {
  const x: Pair[] = right.map((value) => value);
  for (let k = x.length - 1; k > 0; k--) {
    for (let j = 0; j < k; j++) x[j] = add(x[j], negate(multiply(above[k][j], x[k])));
  }
  return x;
}
