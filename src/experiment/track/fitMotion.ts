/**
 * The motion that fits seen points best when the seconds of slip are given: Gauss and Newton's steps, halved until they
 * help, on the distances in the picture that was measured.
 *
 * Two numbers that few points can tell have loose prior knowledge, so that a short slip cannot ask for any acceleration
 * it likes: a ball on cloth slows by 0.005 to 0.015 g while it rolls and by 0.1 to 0.4 g while it slips
 * (bank/conditions.ts names the sources; the bounds here are wider than those).
 */
import type { Point } from "../../bank/pathClearance";
import { NormalEquations } from "../../statistics/fit/normalEquations";
import { addOuter, invertDefinite, timesVector, zeroMatrix } from "../../statistics/numeric/symmetric";
import { there } from "../../there";
import { AX, AY, changedMotion, placeAt, SLOWING, type MotionParameters } from "./motion";

export interface SeenPoint {
  /** In s. */
  readonly time: number;
  /** As measured: inches on the table, or pixels. */
  readonly seen: Point;
}

export interface View {
  /** From the table in inches to what is measured. */
  show(place: Point): Point;
  /** Distance of the ball's centre from the nose at the contact, in. */
  readonly nearest: number;
}

export interface MotionFit {
  readonly slipping: number;
  readonly motion: MotionParameters;
  /** Squared distances from the points, each by its weight, in measured units. */
  readonly squares: number;
  /** The same with what the prior knowledge adds. */
  readonly loss: number;
  /** Of the motion's numbers, to be multiplied by the variance of a coordinate. */
  readonly covariance: readonly (readonly number[])[];
  readonly logDeterminant: number;
}

/** What is known beforehand: centre and standard deviation, in in/s². */
const PRIOR = [
  { at: AX, centre: 0, sd: 150 },
  { at: AY, centre: 0, sd: 150 },
  { at: SLOWING, centre: 3.9, sd: 3 },
] as const;
/** Steps for slopes by differences: a hundredth of what a ball does in a frame. */
const STEPS = [1e-3, 1e-5, 1e-2, 1e-2, 1e-1, 1e-1, 1e-2];
const ROUNDS = 25;
/** The contact is looked for at most this share of the track before its first point. */
const EARLIEST = 0.15;

export interface Situation {
  readonly points: readonly SeenPoint[];
  readonly weights: readonly number[];
  readonly view: View;
  readonly slipping: number;
  /** Variance of a coordinate, by which the prior knowledge is weighed against the points. */
  readonly variance: number;
}

function lossOf({ points, weights, view, slipping, variance }: Situation, motion: MotionParameters) {
  let squares = 0;
  points.forEach(({ time, seen }, i) => {
    const shown = view.show(placeAt(motion, slipping, view.nearest, time));
    squares += weightOf(weights, i) * ((shown.x - seen.x) ** 2 + (shown.y - seen.y) ** 2);
  });
  const prior = PRIOR.reduce((sum, { at, centre, sd }) => sum + ((motion[at] - centre) / sd) ** 2, 0);
  return { squares, loss: squares + variance * prior };
}

const weightOf = (weights: readonly number[], i: number) => there(weights[i], "a weight for every point");

/** Normal equations: JᵀWJ with the prior knowledge, and JᵀW times what is left over. */
function normalEquations({ points, weights, view, slipping, variance }: Situation, motion: MotionParameters) {
  const equations = new NormalEquations(motion.length);
  const moved = STEPS.map((step, j) => ({
    step,
    other: changedMotion(motion, (value, k) => (k === j ? value + step : value)),
  }));
  const slopeX = new Float64Array(motion.length);
  const slopeY = new Float64Array(motion.length);
  points.forEach(({ time, seen }, i) => {
    const weight = weightOf(weights, i);
    if (weight === 0) return;
    const shown = view.show(placeAt(motion, slipping, view.nearest, time));
    moved.forEach(({ step, other }, j) => {
      const beside = view.show(placeAt(other, slipping, view.nearest, time));
      slopeX[j] = (beside.x - shown.x) / step;
      slopeY[j] = (beside.y - shown.y) / step;
    });
    equations.addPlace(weight, slopeX, seen.x - shown.x, slopeY, seen.y - shown.y);
  });
  for (const { at, centre, sd } of PRIOR)
    equations.addNumber(at, variance / sd ** 2, (variance * (centre - motion[at])) / sd ** 2);
  return equations.whole();
}

/** @param start where to begin @returns undefined where the points leave the motion open */
export function fitMotion(situation: Situation, start: MotionParameters): MotionFit | undefined {
  let motion = start;
  let { loss } = lossOf(situation, motion);
  for (let round = 0; round < ROUNDS; round++) {
    const { matrix, side } = normalEquations(situation, motion);
    const solved = invertDefinite(matrix);
    if (!solved) return undefined;
    const step = timesVector(solved.inverse, side);
    let share = 1;
    let next = motion;
    let reached = loss;
    for (; share > 1e-4; share /= 2) {
      next = changedMotion(motion, (value, j) => value + share * there(step[j], "a step of every number"));
      reached = lossOf(situation, next).loss;
      if (reached <= loss) break;
    }
    if (!(reached <= loss)) break;
    const gain = loss - reached;
    motion = next;
    loss = reached;
    if (gain <= 1e-10 * loss || loss === 0) break;
  }
  const { matrix } = normalEquations(situation, motion);
  const solved = invertDefinite(matrix);
  if (!solved) return undefined;
  return {
    slipping: situation.slipping,
    motion,
    squares: lossOf(situation, motion).squares,
    loss,
    covariance: solved.inverse,
    logDeterminant: solved.logDeterminant,
  };
}

/** A motion to begin with, from a parabola through places on the table. @param places after the contact, in order */
export function firstMotion(
  times: readonly number[],
  places: readonly Point[],
  weights: readonly number[],
  nearest: number,
): MotionParameters {
  const origin = there(times[0], "a first time");
  const last = there(times.at(-1), "a last time");
  const since = times.map((time) => time - origin);
  const x = quadratic(
    since,
    places.map((place) => place.x),
    weights,
  );
  const y = quadratic(
    since,
    places.map((place) => place.y),
    weights,
  );
  // Back to where the centre was a radius from the nose, by the slope alone where the parabola never was there.
  const open = y[1] ** 2 - 4 * y[2] * (y[0] - nearest);
  const root = open >= 0 ? y[1] + Math.sign(y[1] || 1) * Math.sqrt(open) : 2 * y[1];
  const back = (-2 * (y[0] - nearest)) / root;
  // The contact is a frame or two before the first point, whatever bad points make of the parabola.
  const when = Math.min(0, Math.max(-EARLIEST * (last - origin), Number.isFinite(back) ? back : 0));
  return [
    x[0] + x[1] * when + x[2] * when * when,
    origin + when,
    x[1] + 2 * x[2] * when,
    y[1] + 2 * y[2] * when,
    2 * x[2],
    2 * y[2],
    3.9,
  ];
}

/** Least squares of c₀ + c₁t + c₂t². */
function quadratic(
  times: readonly number[],
  values: readonly number[],
  weights: readonly number[],
): readonly [number, number, number] {
  const valueOf = (i: number) => there(values[i], "a value for every time");
  const matrix = zeroMatrix(3);
  times.forEach((time, i) => addOuter(matrix, [1, time, time * time], weightOf(weights, i)));
  const sum = (power: (time: number) => number) =>
    times.reduce((total, time, i) => total + weightOf(weights, i) * power(time) * valueOf(i), 0);
  const side = [sum(() => 1), sum((time) => time), sum((time) => time * time)];
  const solved = invertDefinite(matrix);
  if (!solved) return [valueOf(0), 0, 0];
  const found = timesVector(solved.inverse, side);
  const coefficient = (power: number) => there(found[power], "a coefficient of every power");
  return [coefficient(0), coefficient(1), coefficient(2)];
}
