/**
 * Weighted non-linear least squares within bounds. The steps are ml-levenberg-marquardt's (Levenberg's and Marquardt's
 * method; Marquardt, J. SIAM 11 (1963) 431); scales, bounds, the Jacobian and when it is enough are ours.
 *
 * The library keeps the best parameters that it met, so a round of it never makes the sum of squares larger. Parameters
 * at a bound that the rows push against are taken out of a round, because it clamps them only after it has made its
 * step. Where the rows do not determine a direction, damping leaves the parameters where they began along it.
 */
import { levenbergMarquardt } from "ml-levenberg-marquardt";
import type { Matrix } from "../numeric/symmetric";

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
  readonly rounds: number;
  readonly converged: boolean;
}

const MOST_ROUNDS = 40;
/** Iterations that the library does before it is asked how far it came. */
const ROUND = 2;
/** Relative change of the sum of squares, and step in scales, below which the fit has come to rest. */
const REST_CHANGE = 1e-11;
const REST_STEP = 1e-8;
/**
 * A sum of squares below this share of that at the start is zero but for rounding; the library overflows when asked for
 * less.
 */
const REST_SQUARES = 1e-26;
/** Step of a difference, in scales. */
const DIFFERENCE = 1e-4;

/**
 * Makes the sum of squared residuals least.
 * @param residuals of given parameters, already divided by their standard deviations; of one length always
 * @param mostRounds fewer for a first look; a round is two iterations
 * @throws RangeError when a residual at the start is not finite
 * @example nonlinearFit(([a]) => [a * a - 4, 2 * a - 4], [{ start: 1, low: 0, high: 10, scale: 1 }]).estimates[0] // 2
 */
export function nonlinearFit(
  model: (parameters: readonly number[]) => ArrayLike<number>,
  parameters: readonly Bounded[],
  mostRounds = MOST_ROUNDS,
): NonlinearFit {
  const residuals = remembering(model);
  let at: readonly number[] = parameters.map(({ start, low, high }) => Math.min(high, Math.max(low, start)));
  let now = residuals(at);
  let squares = sumOfSquares(now);
  if (!Number.isFinite(squares)) throw new RangeError("a residual at the start is not finite");
  const rest = REST_SQUARES * squares;
  let converged = squares === 0;
  let rounds = 0;
  let jacobian = differences(residuals, at, parameters);
  while (!converged && rounds < mostRounds) {
    rounds++;
    const next = round(residuals, at, parameters, squares, free(at, parameters, gradientOf(jacobian, now)));
    const there = residuals(next);
    const less = sumOfSquares(there);
    const length = Math.max(...next.map((value, k) => Math.abs(value - at[k]) / parameters[k].scale));
    converged = !(less < squares) || length < REST_STEP || squares - less <= REST_CHANGE * squares || less <= rest;
    if (!(less < squares)) break;
    [at, now, squares] = [next, there, less];
    jacobian = differences(residuals, at, parameters);
  }
  return { estimates: at, squares, jacobian, rounds, converged };
}

/**
 * Some of the library's iterations on the parameters that may move, in their scales and with residuals whose squares
 * sum to 1, because the library's damping and tolerance are absolute.
 */
function round(
  residuals: (parameters: readonly number[]) => ArrayLike<number>,
  from: readonly number[],
  parameters: readonly Bounded[],
  squares: number,
  movable: readonly boolean[],
): readonly number[] {
  const places = movable.flatMap((may, k) => (may ? [k] : []));
  if (places.length === 0) return from;
  const unit = Math.sqrt(squares);
  const whole = (part: ArrayLike<number>) => {
    const all = [...from];
    places.forEach(
      (k, i) => (all[k] = Math.min(parameters[k].high, Math.max(parameters[k].low, part[i] * parameters[k].scale))),
    );
    return all;
  };
  const count = residuals(from).length;
  // The library wants two points at the least; a point that is always met changes nothing.
  const x = Array.from({ length: Math.max(2, count) }, (_, i) => i);
  const scaled = (k: number, value: number) => value / parameters[k].scale;
  const { parameterValues } = levenbergMarquardt(
    { x, y: x.map(() => 0) },
    (part) => {
      const values = residuals(whole(part));
      return (i) => (i < count ? values[i] / unit : 0);
    },
    {
      initialValues: places.map((k) => scaled(k, from[k])),
      minValues: places.map((k) => scaled(k, parameters[k].low)),
      maxValues: places.map((k) => scaled(k, parameters[k].high)),
      jacobianFunction: (part) => {
        const rows = differences(residuals, whole(part), parameters);
        return (i) => places.map((k) => (i < count ? rows[i][k] / unit : 0));
      },
      damping: 1e-3,
      dampingStepUp: 10,
      dampingStepDown: 10,
      maxIterations: ROUND,
      errorTolerance: 1e-18,
    },
  );
  return whole(parameterValues);
}

/** The library and we ask for the same parameters again and again. */
function remembering(
  model: (parameters: readonly number[]) => ArrayLike<number>,
): (parameters: readonly number[]) => ArrayLike<number> {
  const known = new Map<string, ArrayLike<number>>();
  return (parameters) => {
    const key = parameters.join();
    let found = known.get(key);
    if (!found) {
      found = model(parameters);
      if (known.size > 40) known.clear();
      known.set(key, found);
    }
    return found;
  };
}

function sumOfSquares(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return sum;
}

/** Central differences, one-sided at a bound. */
function differences(
  residuals: (parameters: readonly number[]) => ArrayLike<number>,
  at: readonly number[],
  parameters: readonly Bounded[],
): number[][] {
  const columns = parameters.map(({ low, high, scale }, k) => {
    const before = at.map((value, j) => (j === k ? Math.max(low, value - DIFFERENCE * scale) : value));
    const after = at.map((value, j) => (j === k ? Math.min(high, value + DIFFERENCE * scale) : value));
    const width = (after[k] - before[k]) / scale;
    const [a, b] = [residuals(before), residuals(after)];
    return Array.from(a, (value, i) => (width > 0 ? (b[i] - value) / width : 0));
  });
  return columns[0].map((_, i) => columns.map((column) => column[i]));
}

function gradientOf(jacobian: Matrix, residuals: ArrayLike<number>): number[] {
  return jacobian[0].map((_, k) => jacobian.reduce((sum, row, i) => sum + row[k] * residuals[i], 0));
}

/** Parameters at a bound that the gradient pushes against it stay there. */
function free(at: readonly number[], parameters: readonly Bounded[], gradient: readonly number[]): boolean[] {
  return at.map(
    (value, k) =>
      !((value <= parameters[k].low && gradient[k] > 0) || (value >= parameters[k].high && gradient[k] < 0)),
  );
}
