/**
 * Least squares: the fast way where it is proved to give 13 digits, the thorough way otherwise.
 */
import { crossFit, isOnes, type KnownDirections } from "./crossFit";
import type { RangeMemory } from "./columnRange";
import { crossProducts, type CrossProducts } from "./crossProducts";
import { add, divide, multiply, type Column, type Pair } from "../numeric/doubleDouble";
import { backSubstitute, forwardSubstitute, type DependentColumn, type Factored } from "./factored";
import { gramSchmidt, type GramSchmidt } from "./gramSchmidt";
import { once } from "./once";

export type { DependentColumn } from "./factored";

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
  /**
   * The orthonormal directions that the kept columns span, each over the rows: kept column j lies in the first j + 1.
   */
  directions(): Float64Array[];
  /** (XᵀX)⁻¹ over the kept columns, as plain numbers. */
  inverseCross(): number[][];
  /** The fit with further columns after the present ones; what is known of the present ones is not worked out again. */
  extend(columns: readonly Column[]): LeastSquares;
}

/**
 * What one fit leaves for the next on the same rows: cross products by pairs of columns, the orthogonal directions so
 * far, and the fit itself. Columns are known by their array of numbers. Hand the same memory to fits of the same rows
 * only.
 */
export interface FitMemory {
  readonly ranges?: RangeMemory;
  products?: { readonly constant: boolean; readonly of: CrossProducts; readonly directions: KnownDirections };
  directions?: GramSchmidt;
  last?: {
    readonly design: readonly Float64Array[];
    readonly response: Float64Array;
    readonly digits: number;
    readonly fit: LeastSquares;
  };
}

/** Below so many numbers the thorough way takes no time worth saving. */
const MANY = 20_000;
/** Digits that a fit has unless fewer are asked for. */
const DIGITS = 13;

/**
 * Solves min ‖response − design·coefficients‖. Dependent columns are found, reported and left out; nothing is guessed.
 * @param design columns of equal length
 * @param memory of earlier fits on the same rows; this fit adds to it
 * @param digits that must be proved of what the fast way finds
 * @example leastSquares([exactColumn([1, 1, 1]), exactColumn([0, 1, 2])], exactColumn([1, 3, 5])).coefficients // [[1, 0], [2, 0]]
 */
export function leastSquares(
  design: readonly Column[],
  response: Column,
  memory: FitMemory = {},
  digits = DIGITS,
): LeastSquares {
  const { last } = memory;
  if (
    last &&
    last.response === response.high &&
    last.digits >= digits &&
    last.design.length === design.length &&
    last.design.every((values, i) => values === design[i].high)
  )
    return last.fit;
  const many = response.high.length * design.length >= MANY;
  const fit = finish(
    (many && quickly(design, response, memory, digits)) || thoroughly(design, response, memory),
    design,
    response,
    memory,
    digits,
  );
  memory.last = { design: design.map(({ high }) => high), response: response.high, digits, fit };
  return fit;
}

/** The fast way alone: undefined where so many digits are not proved. */
export function quickly(
  design: readonly Column[],
  response: Column,
  memory: FitMemory,
  digits = DIGITS,
): Factored | undefined {
  const constant = design.length > 0 && isOnes(design[0]);
  if (memory.products?.constant !== constant)
    memory.products = {
      constant,
      of: crossProducts(response.high.length, constant, memory.ranges),
      directions: { of: [], made: [] },
    };
  const { of, directions } = memory.products;
  return crossFit(design, response, of, constant, 10 ** -digits, directions);
}

/** The thorough way alone. */
export function thoroughly(design: readonly Column[], response: Column, memory: FitMemory): Factored {
  memory.directions = gramSchmidt(design, response, memory.directions);
  return memory.directions;
}

/** All that a fit can be asked, from the design taken apart. */
export function finish(
  factored: Factored,
  design: readonly Column[],
  response: Column,
  memory: FitMemory,
  digits = DIGITS,
): LeastSquares {
  const { kept, dependent, above, squares, projections } = factored;
  const rows = response.high.length;
  const coefficients = backSubstitute(above, projections);
  const residuals = once(() => factored.residuals());
  const directions = once(() => factored.directions());

  return {
    rows,
    columns: design.length,
    kept,
    dependent,
    coefficients,
    get residuals() {
      return residuals();
    },
    residualSquares: factored.residualSquares,
    sequentialSquares: projections.map((projection, j) => multiply(multiply(projection, projection), squares[j])[0]),
    leverages() {
      const leverage = new Float64Array(rows);
      for (const direction of directions()) for (let i = 0; i < rows; i++) leverage[i] += direction[i] * direction[i];
      return leverage;
    },
    combine: (weights, ignoreMultiplesOfFirst = false) =>
      isDetermined(dependent, weights, ignoreMultiplesOfFirst) ? combined(factored, coefficients, weights) : undefined,
    directions,
    inverseCross: () => inverseCross(factored),
    extend: (columns) => leastSquares([...design, ...columns], response, memory, digits),
  };
}

/** Whether the rows determine a combination: what it asks of dependent columns is what the others imply. */
function isDetermined(
  dependent: readonly DependentColumn[],
  weights: readonly Pair[],
  ignoreMultiplesOfFirst: boolean,
): boolean {
  return dependent.every(({ column, combination, rowsExhausted }) => {
    if (!rowsExhausted && combination.length === 0) return true;
    if (!rowsExhausted && ignoreMultiplesOfFirst && combination.every((part) => part.column === 0)) return true;
    const implied = combination.reduce((total, part) => total + part.factor * weights[part.column][0], 0);
    const size = combination.reduce((total, part) => total + Math.abs(part.factor * weights[part.column][0]), 0);
    return Math.abs(implied - weights[column][0]) <= 1e-9 * Math.max(size, Math.abs(weights[column][0]));
  });
}

function combined(
  { kept, above, squares }: Factored,
  coefficients: readonly Pair[],
  weights: readonly Pair[],
): Combination {
  const ofKept = kept.map((index) => weights[index]);
  const value = ofKept.reduce<Pair>((total, weight, j) => add(total, multiply(weight, coefficients[j])), [0, 0]);
  const components = forwardSubstitute(above, ofKept);
  const errorSquare = components.reduce<Pair>((total, v, j) => add(total, divide(multiply(v, v), squares[j])), [0, 0]);
  return {
    value: value[0],
    errorFactor: Math.sqrt(errorSquare[0]),
    along: components.map(([v], j) => v / Math.sqrt(squares[j][0])),
  };
}

function inverseCross({ kept, above, squares }: Factored): number[][] {
  const unit = kept.map((_, k) =>
    forwardSubstitute(
      above,
      kept.map((__, j): Pair => [j === k ? 1 : 0, 0]),
    ),
  );
  return unit.map((a) =>
    unit.map((b) => a.reduce<Pair>((total, v, j) => add(total, divide(multiply(v, b[j]), squares[j])), [0, 0])[0]),
  );
}
