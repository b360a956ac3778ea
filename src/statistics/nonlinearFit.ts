/**
 * Weighted non-linear least squares within bounds: Levenberg's and Marquardt's method (Marquardt, J. SIAM 11 (1963) 431)
 * with the Jacobian by differences. May import: symmetric.ts.
 *
 * Parameters are taken in units of their scale, so that damping means the same for each. A step that makes the sum of
 * squares larger is never taken; one that would leave the bounds stops at them. Where the rows do not determine a
 * direction, damping leaves the parameters where they began along it.
 */
import { addOuter, eigen, timesVector, zeroMatrix, type Matrix } from "./symmetric";

export interface Bounded {
  readonly start: number;
  readonly low: number;
  readonly high: number;
  /** A change that matters; differences and damping are taken in it. */
  readonly scale: number;
}

export interface NonlinearFit {
  readonly estimates: readonly number[];
  /** Sum of the squared weighted residuals. */
  readonly squares: number;
  /** One row per residual, one entry per parameter: change of the residual per scale of the parameter. */
  readonly jacobian: Matrix;
  readonly iterations: number;
  readonly converged: boolean;
}

const MOST_ITERATIONS = 60;
/** Relative change of the sum of squares, and step in scales, below which the fit has come to rest. */
const REST = 1e-11;
const REST_STEP = 1e-8;
/** Step of a difference, in scales. */
const DIFFERENCE = 1e-4;

/**
 * Makes the sum of squared residuals least.
 * @param residuals of given parameters, already divided by their standard deviations; of one length always
 * @param mostIterations fewer for a first look
 * @throws RangeError when a residual at the start is not finite
 * @example nonlinearFit(([a]) => [a * a - 4, 2 * a - 4], [{ start: 1, low: 0, high: 10, scale: 1 }]).estimates[0] // 2
 */
export function nonlinearFit(residuals: (parameters: readonly number[]) => ArrayLike<number>, parameters: readonly Bounded[], mostIterations = MOST_ITERATIONS): NonlinearFit {
  let at = parameters.map(({ start, low, high }) => Math.min(high, Math.max(low, start)));
  let now = residuals(at);
  let squares = sumOfSquares(now);
  if (!Number.isFinite(squares)) throw new RangeError("a residual at the start is not finite");
  let damping = 1e-3;
  let converged = squares === 0;
  let iterations = 0;
  let jacobian = differences(residuals, at, parameters);
  while (!converged && iterations < mostIterations) {
    iterations++;
    const { information, gradient } = normal(jacobian, now);
    let moved = false;
    for (let tries = 0; tries < 25; tries++) {
      const step = dampedStep(information, gradient, damping, free(at, parameters, gradient));
      const next = at.map((value, k) => Math.min(parameters[k].high, Math.max(parameters[k].low, value + step[k] * parameters[k].scale)));
      const length = Math.max(...next.map((value, k) => Math.abs(value - at[k]) / parameters[k].scale));
      if (length < REST_STEP) {
        converged = true;
        break;
      }
      const there = residuals(next);
      const less = sumOfSquares(there);
      if (less < squares) {
        converged = squares - less <= REST * squares;
        [at, now, squares] = [next, there, less];
        damping = Math.max(1e-8, damping / 10);
        moved = true;
        break;
      }
      damping = Math.min(1e12, damping * 10);
    }
    if (!moved) converged = true;
    else jacobian = differences(residuals, at, parameters);
  }
  return { estimates: at, squares, jacobian, iterations, converged };
}

function sumOfSquares(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return sum;
}

/** Central differences, one-sided at a bound. */
function differences(residuals: (parameters: readonly number[]) => ArrayLike<number>, at: readonly number[], parameters: readonly Bounded[]): number[][] {
  const columns = parameters.map(({ low, high, scale }, k) => {
    const before = at.map((value, j) => (j === k ? Math.max(low, value - DIFFERENCE * scale) : value));
    const after = at.map((value, j) => (j === k ? Math.min(high, value + DIFFERENCE * scale) : value));
    const width = (after[k] - before[k]) / scale;
    const [a, b] = [residuals(before), residuals(after)];
    return Array.from(a, (value, i) => (width > 0 ? (b[i] - value) / width : 0));
  });
  return columns[0].map((_, i) => columns.map((column) => column[i]));
}

function normal(jacobian: Matrix, residuals: ArrayLike<number>): { information: number[][]; gradient: number[] } {
  const size = jacobian[0].length;
  const information = zeroMatrix(size);
  const gradient = new Array<number>(size).fill(0);
  jacobian.forEach((row, i) => {
    addOuter(information, row);
    for (let k = 0; k < size; k++) gradient[k] += row[k] * residuals[i];
  });
  return { information, gradient };
}

/** Parameters at a bound that the gradient pushes against it stay there. */
function free(at: readonly number[], parameters: readonly Bounded[], gradient: readonly number[]): boolean[] {
  return at.map((value, k) => !((value <= parameters[k].low && gradient[k] > 0) || (value >= parameters[k].high && gradient[k] < 0)));
}

function dampedStep(information: Matrix, gradient: readonly number[], damping: number, movable: readonly boolean[]): number[] {
  const places = movable.flatMap((may, k) => (may ? [k] : []));
  const step = new Array<number>(gradient.length).fill(0);
  if (places.length === 0) return step;
  const part = places.map((i) => places.map((j) => information[i][j]));
  const { values, vectors } = eigen(part);
  const least = damping * Math.max(...values, 0);
  const right = places.map((k) => -gradient[k]);
  const along = timesVector(vectors, right).map((value, j) => (values[j] + least > 0 ? value / (Math.max(0, values[j]) + least) : 0));
  places.forEach((k, i) => {
    step[k] = along.reduce((sum, value, j) => sum + value * vectors[j][i], 0);
  });
  return step;
}
