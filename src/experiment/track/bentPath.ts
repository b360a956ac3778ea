/**
 * A path without times: sideways place against the place along the way. Physics has a parabola and then a straight line
 * (bank/cloth.ts). Along a parabola the ball gets slower or faster, so that its sideways place is no square of the
 * place along the way but of the time; that time follows from the place along the way and one number, how fast the ball
 * slows.
 */
import { NormalEquations } from "../../statistics/fit/normalEquations";
import { inner, invertDefinite, timesVector } from "../../statistics/numeric/symmetric";

/** c₀, c₁ and c₂ of the square in time, and the slowing: time t reaches s = t − slowing · t²/2 along the way. */
export type BentNumbers = readonly [number, number, number, number];

export interface BentFit {
  /** Where the straight part begins; 1 for nowhere. */
  readonly knot: number;
  readonly numbers: BentNumbers;
  readonly squares: number;
  /** With what the prior knowledge adds. */
  readonly loss: number;
  readonly covariance: readonly (readonly number[])[];
  readonly logDeterminant: number;
}

export interface BentPoint {
  /** 0 to 1. */
  readonly along: number;
  readonly beside: number;
  readonly weight: number;
}

/**
 * The slowing over the whole way is 0 give or take this, either way, because spin may push the ball on. It is a L / v²,
 * of a ball that sets off at v and slips over a way L: friction of 0.2 in any direction, over a table's breadth, makes
 * it 0.35 at 5 mph and 0.75 at 3.5 mph (root mean square).
 */
const SLOWING_SD = 0.5;
/**
 * A ball that still goes somewhere has not lost nearly all of its speed (at 1/2 it has); and slow balls that gain most,
 * with a friction of 0.4 at 3.5 mph, are not beyond the other end, where the speed more than doubles.
 */
const [MOST_GAIN, MOST_LOSS] = [-2, 0.48];
const ROUNDS = 8;
const SETTLED = 1e-4;

/** Time of a place along the way, the speed at the beginning being 1. */
function timeAt(along: number, slowing: number): number {
  const open = Math.sqrt(Math.max(0.01, 1 - 2 * slowing * along));
  return (2 * along) / (1 + open);
}

/** Sideways place at a place along the way, and how it goes with each number. */
function placeWithSlopes([c0, c1, c2, slowing]: BentNumbers, knot: number, along: number, slopes: Float64Array) {
  const bent = Math.min(along, knot);
  const rest = along - bent;
  const time = timeAt(bent, slowing);
  const pace = 1 / Math.max(0.1, 1 - slowing * time);
  const later = 0.5 * time * time * pace;
  const drift = c1 + 2 * c2 * time;
  const beyond = pace * rest;
  slopes[0] = 1;
  slopes[1] = time + beyond;
  slopes[2] = time * time + 2 * time * beyond;
  slopes[3] = drift * later + rest * (2 * c2 * later * pace + drift * pace * pace * (time + slowing * later));
  return c0 + c1 * (time + beyond) + c2 * (time * time + 2 * time * beyond);
}

const UNUSED = new Float64Array(4);

/** Sideways place at a place along the way. */
export function besideAt({ numbers, knot }: Pick<BentFit, "numbers" | "knot">, along: number): number {
  return placeWithSlopes(numbers, knot, along, UNUSED);
}

function lookAt(points: readonly BentPoint[], knot: number, numbers: BentNumbers, variance: number, free: boolean) {
  const equations = new NormalEquations(4);
  const slopes = new Float64Array(4);
  const none = new Float64Array(4);
  let squares = 0;
  for (const { along, beside, weight } of points) {
    const off = beside - placeWithSlopes(numbers, knot, along, slopes);
    squares += weight * off * off;
    equations.addPlace(weight, slopes, off, none, 0);
  }
  // Where the slowing is not to be fitted, it is held at 0.
  const closeness = free ? variance / SLOWING_SD ** 2 : 1e9 * (variance + squares + 1e-12);
  equations.addNumber(3, closeness, -closeness * numbers[3]);
  return { numbers, squares, loss: squares + (free ? closeness * numbers[3] ** 2 : 0), equations };
}

/**
 * @param variance of a sideways place, by which the prior knowledge is weighed
 * @param free whether the slowing is fitted
 * @returns undefined where the points leave the path open
 */
export function fitBentPath(
  points: readonly BentPoint[],
  knot: number,
  start: BentNumbers,
  variance: number,
  free: boolean,
): BentFit | undefined {
  let best = lookAt(points, knot, start, variance, free);
  for (let round = 0; ; round++) {
    const { matrix, side } = best.equations.whole();
    const solved = invertDefinite(matrix);
    if (!solved) return undefined;
    const step = timesVector(solved.inverse, side);
    const promised = inner(step, side);
    let next = best;
    if (promised > SETTLED * best.loss && round < ROUNDS)
      for (let share = 1; share > 0.01 && next === best; share /= 3) {
        const [a, b, c, slowing] = best.numbers;
        const by = (place: number) => share * (step[place] ?? 0);
        const held = Math.max(MOST_GAIN, Math.min(MOST_LOSS, slowing + by(3)));
        const tried = lookAt(points, knot, [a + by(0), b + by(1), c + by(2), held], variance, free);
        if (tried.loss < best.loss) next = tried;
      }
    if (next === best) {
      const { numbers, squares, loss } = best;
      return { knot, numbers, squares, loss, covariance: solved.inverse, logDeterminant: solved.logDeterminant };
    }
    best = next;
  }
}
