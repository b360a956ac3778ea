/**
 * The motion that fits seen points best when the end of the slip is given: least squares of distances in the picture
 * that was measured. The path is linear in its numbers but for the slowing while rolling and for the picture, so a few
 * steps of Gauss and Newton are enough.
 *
 * Three numbers that few points can tell have loose prior knowledge, so that a short slip cannot ask for any
 * acceleration it likes: a ball on cloth slows by 0.005 to 0.015 g while it rolls and by 0.1 to 0.4 g while it slips
 * (bank/conditions.ts names the sources; the bounds here are wider than those).
 */
import type { Point } from "../../bank/pathClearance";
import { NormalEquations } from "../../statistics/fit/normalEquations";
import { inner, invertDefinite, timesVector } from "../../statistics/numeric/symmetric";
import { there } from "../../there";
import { changedMotion, courseOf, velocityAt, type TrackMotion, type MotionNumbers } from "./motion";

export interface SeenPoint {
  /** In s. */
  readonly time: number;
  /** As measured: inches on the table, or pixels. */
  readonly seen: Point;
}

/** What a step on the table, in inches, is in what was measured: columns of x and y. */
export interface Magnified {
  readonly x: Point;
  readonly y: Point;
}

export interface View {
  /** From the table in inches to what is measured. */
  show(place: Point): Point;
  magnified(place: Point): Magnified;
}

export interface MotionFit {
  readonly motion: TrackMotion;
  /** Squared distances from the points, each by its weight, in measured units. */
  readonly squares: number;
  /** The same with what the prior knowledge adds. */
  readonly loss: number;
  /** Of the motion's numbers, to be multiplied by the variance of a coordinate. */
  readonly covariance: readonly (readonly number[])[];
  readonly logDeterminant: number;
}

const NUMBERS = 7;
const SLOWING = 6;
/** What is known beforehand: centre and standard deviation, in in/s²; of x₂ and y₂ half the acceleration's. */
const PRIOR = [
  { at: 2, centre: 0, sd: 75 },
  { at: 5, centre: 0, sd: 75 },
  { at: SLOWING, centre: 3.9, sd: 3 },
] as const;
const ROUNDS = 12;
/** A step that promises no more than this share of the loss is not taken. */
const SETTLED = 1e-4;

/** Points that count, with what a fit asks of each again and again. */
export interface Situation {
  readonly points: readonly SituatedPoint[];
  readonly view: View;
  /** Variance of a coordinate, by which the prior knowledge is weighed against the points. */
  readonly variance: number;
}

export interface SituatedPoint extends SeenPoint {
  readonly weight: number;
  readonly magnified: Magnified;
}

interface Look {
  readonly motion: TrackMotion;
  readonly squares: number;
  readonly loss: number;
  readonly equations: NormalEquations;
}

/**
 * How far a motion lies from the points, with the normal equations there: JᵀWJ with the prior knowledge, and JᵀW times
 * what is left over.
 */
function lookAt({ points, view, variance }: Situation, motion: TrackMotion): Look {
  const { origin, slipEnd, numbers } = motion;
  const equations = new NormalEquations(NUMBERS);
  const [slopeX, slopeY] = [new Float64Array(NUMBERS), new Float64Array(NUMBERS)];
  const placeAt = courseOf(motion);
  const rolling = velocityAt(motion, slipEnd < Infinity ? slipEnd : origin);
  const speed = Math.hypot(rolling.x, rolling.y);
  const rest = numbers[SLOWING] > 0 ? speed / numbers[SLOWING] : Infinity;
  let squares = 0;
  for (const { time, seen, weight, magnified } of points) {
    const shown = view.show(placeAt(time));
    const [restX, restY] = [seen.x - shown.x, seen.y - shown.y];
    squares += weight * (restX * restX + restY * restY);
    const slip = Math.min(time, slipEnd) - origin;
    const run = Math.min(Math.max(0, time - slipEnd), rest);
    const square = slip * (slip + 2 * run);
    const slowed = speed > 0 ? (-0.5 * run * run) / speed : 0;
    fill(slopeX, magnified.x.x, magnified.y.x, slip + run, square, slowed * rolling.x, slowed * rolling.y);
    fill(slopeY, magnified.x.y, magnified.y.y, slip + run, square, slowed * rolling.x, slowed * rolling.y);
    equations.addPlace(weight, slopeX, restX, slopeY, restY);
  }
  let loss = squares;
  for (const { at, centre, sd } of PRIOR) {
    const closeness = variance / sd ** 2;
    const off = centre - numbers[at];
    loss += closeness * off ** 2;
    equations.addNumber(at, closeness, closeness * off);
  }
  return { motion, squares, loss, equations };
}

/** How a measured coordinate changes with the seven numbers, when it goes by `byX` and `byY` with the place. */
function fill(
  slopes: Float64Array,
  byX: number,
  byY: number,
  since: number,
  square: number,
  slowedX: number,
  slowedY: number,
): void {
  slopes[0] = byX;
  slopes[1] = byX * since;
  slopes[2] = byX * square;
  slopes[3] = byY;
  slopes[4] = byY * since;
  slopes[5] = byY * square;
  slopes[SLOWING] = byX * slowedX + byY * slowedY;
}

/** @param start where to begin; its end of the slip stays @returns undefined where the points leave the motion open */
export function fitMotion(situation: Situation, start: TrackMotion): MotionFit | undefined {
  let best = lookAt(situation, start);
  for (let round = 0; ; round++) {
    const { matrix, side } = best.equations.whole();
    const solved = invertDefinite(matrix);
    if (!solved) return undefined;
    const step = timesVector(solved.inverse, side);
    const next = inner(step, side) > SETTLED * best.loss && round < ROUNDS ? better(situation, best, step) : undefined;
    if (!next) {
      const { motion, squares, loss } = best;
      return { motion, squares, loss, covariance: solved.inverse, logDeterminant: solved.logDeterminant };
    }
    best = next;
  }
}

/** What the step leads to, shortened until it helps; undefined where it never does. */
function better(situation: Situation, { motion, loss }: Look, step: readonly number[]): Look | undefined {
  for (let share = 1; share > 1e-3; share /= 4) {
    const changed = changedMotion(motion, (value, j) => value + share * there(step[j], "a step of every number"));
    const next = lookAt(situation, changed);
    if (next.loss < loss) return next;
  }
  return undefined;
}

/** Still, at the origin: what a fit may begin with. */
export const STILL: MotionNumbers = [0, 0, 0, 0, 0, 0, 3.9];
