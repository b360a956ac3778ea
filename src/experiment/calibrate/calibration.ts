/**
 * Slip friction, nose friction and restitution fitted to measured bends, what the rows cannot tell apart, and how well
 * the model, a regression, and both together predict sessions that they have not seen. SI.
 */
import { conditionProblem, type CushionModel } from "../../bank/conditions";
import { nonlinearFit } from "../../statistics/fit/nonlinearFit";
import { regress } from "../../statistics/fit/regression";
import { studentQuantile } from "../../statistics/distributions/distributions";
import { addOuter, eigen, zeroMatrix, type Matrix } from "../../statistics/numeric/symmetric";
import { completed } from "../language/completed";
import { bankAtCushion } from "../shot/computedShot";
import {
  AT_CUSHION,
  CONSTANT_KINDS,
  conditionsOf,
  UNCERTAIN,
  type AtCushion,
  type ShotSettings,
  type UncertainName,
} from "../shot/shotSettings";

export interface MeasuredShot extends Readonly<Record<AtCushion, number>> {
  readonly bend: number;
  /** Standard deviation of the measured bend; all rows weigh alike when missing. */
  readonly deviation?: number;
  readonly session?: string;
}

export interface CalibrationQuestion {
  readonly shots: readonly MeasuredShot[];
  /** Whether measured bends have a sign; otherwise sizes are compared. */
  readonly signed: boolean;
  /** Where the fit begins, and by its range what change of a constant matters. */
  readonly constants: ShotSettings["constants"];
  readonly cushionModel: CushionModel;
}

export interface Constant {
  readonly name: UncertainName;
  readonly estimate: number;
  /** Null where the rows do not determine the constant, and where it ran into its limit: there a standard error means nothing. */
  readonly standardError: number | null;
  /** Which limit it ran into; the other constants' standard errors are then those with it held there. */
  readonly atBound: "low" | "high" | undefined;
}

/** Constants that can change together with hardly any change of the predicted bends. */
export interface Untold {
  /** A change along the direction, by constant. */
  readonly change: Readonly<Record<UncertainName, number>>;
  /** What that does to the predicted bends: root mean square, m. */
  readonly effect: number;
}

export interface Calibration {
  readonly constants: readonly Constant[];
  /** Between constants in the order of `constants`; null where one is not determined. */
  readonly correlations: readonly (readonly (number | null)[])[];
  readonly untold: readonly Untold[];
  /** Residual standard deviation in m, or in units of the rows' own deviations when they have them; null without degrees of freedom. */
  readonly scatter: number | null;
  readonly df: number;
  /** 95 % quantile of Student's t for the intervals; null without degrees of freedom. */
  readonly t: number | null;
  /** Indices of shots that the fitted model never brings to the line. */
  readonly never: readonly number[];
  readonly residuals: readonly number[];
}

/** A direction counts as not told when its variance, in ranges, is above this, or beyond rounding. */
const UNTOLD_DEVIATION = 1;
const SINGULAR = 1e-10;
/** A part of an undetermined direction this small leaves its constant determined. */
const NO_PART = 1e-3;

/** Signed bend by the model, undefined for a ball that never reaches the line; NaN where the ball would be wedged. */
function modelled(
  shot: MeasuredShot,
  constants: readonly number[],
  { cushionModel }: Pick<CalibrationQuestion, "cushionModel">,
): number | undefined {
  const conditions = conditionsOf(
    { slipFriction: constants[0], noseFriction: constants[1], restitution: constants[2] },
    cushionModel,
  );
  return conditionProblem(conditions) ? NaN : bankAtCushion(shot, conditions).path?.bend;
}

/** Bend as the measurement sees it. A ball that never reaches the line has no bend. */
function predicted(
  shot: MeasuredShot,
  constants: readonly number[],
  question: Pick<CalibrationQuestion, "cushionModel" | "signed">,
): number {
  const bend = modelled(shot, constants, question) ?? 0;
  return question.signed ? bend : Math.abs(bend);
}

/**
 * Besides the values in force, from where a fit begins. Each start is followed for a few steps on a part of the shots; the
 * best of them is then fitted to all.
 */
const STARTS: readonly (readonly [number, number, number])[] = [
  [0.2, 0.14, 0.9],
  [0.15, 0.25, 0.8],
  [0.3, 0.1, 0.75],
];

const FIRST_LOOK = { shots: 16, rounds: 2 };

/** A wedged ball is as wrong as this much bend, m. */
const WEDGED = 10;

function fitTo(shots: readonly MeasuredShot[], question: CalibrationQuestion, starts: readonly (readonly number[])[]) {
  if (starts.length === 1) return fitFrom(starts[0], shots, question);
  const step = Math.max(1, shots.length / FIRST_LOOK.shots);
  const some = Array.from({ length: Math.floor(shots.length / step) }, (_, i) => shots[Math.floor(i * step)]);
  const looks = starts.map((start) => fitFrom(start, some, question, FIRST_LOOK.rounds));
  return fitFrom(looks.reduce((best, fit) => (fit.squares < best.squares ? fit : best)).estimates, shots, question);
}

function fitFrom(
  start: readonly number[],
  shots: readonly MeasuredShot[],
  question: CalibrationQuestion,
  rounds?: number,
) {
  const residuals = (parameters: readonly number[]) =>
    shots.map((shot) => {
      const bend = predicted(shot, parameters, question);
      return ((Number.isNaN(bend) ? WEDGED : bend) - shot.bend) / (shot.deviation ?? 1);
    });
  return nonlinearFit(
    residuals,
    UNCERTAIN.map((name, k) => ({
      start: start[k],
      ...CONSTANT_KINDS[name].bounds,
      scale: rangeOf(question.constants[name]),
    })),
    rounds,
  );
}

/** Half of the range, and something where there is none. */
function rangeOf({ low, high, value }: ShotSettings["constants"][UncertainName]): number {
  return high > low ? (high - low) / 2 : Math.max(0.02, 0.1 * value);
}

/**
 * Fits the constants.
 * @throws RangeError when there are fewer shots than constants, or a deviation is not above 0
 */
export function calibrate(question: CalibrationQuestion): Calibration {
  const { shots, constants } = question;
  const size = UNCERTAIN.length;
  if (shots.length < size) throw new RangeError(`${shots.length} shots cannot determine ${size} constants`);
  const wrong = shots.find(({ deviation }) => deviation !== undefined && !(deviation > 0));
  if (wrong) throw new RangeError(`a standard deviation is ${wrong.deviation}: it must be above 0`);
  const inForce = UNCERTAIN.map((name) => constants[name].value);
  const fit = fitTo(shots, question, [inForce, ...STARTS]);
  const scales = UNCERTAIN.map((name) => rangeOf(constants[name]));
  const df = shots.length - size;
  const variance = df > 0 ? fit.squares / df : null;

  const bound = UNCERTAIN.map((name, k): Constant["atBound"] => {
    const { low, high } = CONSTANT_KINDS[name].bounds;
    return fit.estimates[k] <= low ? "low" : fit.estimates[k] >= high ? "high" : undefined;
  });
  const { values, vectors } = directions(
    fit.jacobian,
    bound.map((at) => at === undefined),
  );
  const largest = Math.max(...values);
  const singular = values.map((value) => !(value > SINGULAR * largest));
  const untold: Untold[] = [];
  values.forEach((value, j) => {
    const deviation = singular[j] ? Infinity : Math.sqrt((variance ?? 0) / value);
    if (!(deviation > UNTOLD_DEVIATION)) return;
    // Turned so that its largest part is a rise, and as long as one range.
    const turn = Math.sign(vectors[j].reduce((most, part) => (Math.abs(part) > Math.abs(most) ? part : most), 0)) || 1;
    const change = Object.fromEntries(UNCERTAIN.map((name, k) => [name, turn * vectors[j][k] * scales[k]])) as Record<
      UncertainName,
      number
    >;
    const effects = fit.jacobian.map(
      (row, i) => row.reduce((sum, slope, k) => sum + slope * vectors[j][k], 0) * (shots[i].deviation ?? 1),
    );
    untold.push({
      change,
      effect: Math.sqrt(effects.reduce((sum, effect) => sum + effect * effect, 0) / effects.length),
    });
  });
  const known = UNCERTAIN.map(
    (_, k) => bound[k] === undefined && values.every((_value, j) => !singular[j] || Math.abs(vectors[j][k]) < NO_PART),
  );
  const covariance = (a: number, b: number) =>
    values.reduce((sum, value, j) => (singular[j] ? sum : sum + (vectors[j][a] * vectors[j][b]) / value), 0) *
    (variance ?? NaN) *
    scales[a] *
    scales[b];
  return {
    constants: UNCERTAIN.map((name, k) => ({
      name,
      estimate: fit.estimates[k],
      standardError: known[k] && variance !== null ? Math.sqrt(covariance(k, k)) : null,
      atBound: bound[k],
    })),
    correlations: UNCERTAIN.map((_, a) =>
      UNCERTAIN.map((_name, b) =>
        a === b
          ? 1
          : known[a] && known[b] && variance !== null && variance > 0
            ? covariance(a, b) / Math.sqrt(covariance(a, a) * covariance(b, b))
            : null,
      ),
    ),
    untold,
    scatter: variance === null ? null : Math.sqrt(variance),
    df,
    t: df > 0 ? studentQuantile(0.95, df) : null,
    never: shots.flatMap((shot, i) => (modelled(shot, fit.estimates, question) === undefined ? [i] : [])),
    residuals: shots.map((shot) => shot.bend - predicted(shot, fit.estimates, question)),
  };
}

/** What the rows say along each direction of the constants that may move, as vectors over all constants. */
function directions(
  jacobian: Matrix,
  free: readonly boolean[],
): { values: readonly number[]; vectors: readonly (readonly number[])[] } {
  const places = free.flatMap((may, k) => (may ? [k] : []));
  if (places.length === 0) return { values: [], vectors: [] };
  const information = zeroMatrix(places.length);
  for (const row of jacobian)
    addOuter(
      information,
      places.map((k) => row[k]),
    );
  const { values, vectors } = eigen(information);
  return { values, vectors: vectors.map((vector) => free.map((may, k) => (may ? vector[places.indexOf(k)] : 0))) };
}

/** Root mean square error on sessions that were left out, m; null where none could be predicted. */
export interface SessionErrors {
  readonly sessions: number;
  readonly shots: number;
  /** The other sessions' mean bend, for comparison. */
  readonly mean: number | null;
  readonly model: number | null;
  readonly regression: number | null;
  /** The model, with a regression of what it leaves. */
  readonly both: number | null;
}

/**
 * Leaves out each session in turn, fits to the others and predicts it. Only shots that all four can predict count, so that
 * the errors are of the same shots. Yields after each session.
 * @returns undefined when fewer than two sessions are named
 */
function* sessionSteps(question: CalibrationQuestion, fitted: Calibration): Generator<void, SessionErrors | undefined> {
  const shots = question.shots.filter(({ session }) => session !== undefined);
  const sessions = [...new Set(shots.map(({ session }) => session))];
  if (sessions.length < 2) return undefined;
  const start = fitted.constants.map(({ estimate }) => estimate);
  const squares = { mean: 0, model: 0, regression: 0, both: 0 };
  let count = 0;
  for (const session of sessions) {
    yield;
    const others = shots.filter((shot) => shot.session !== session);
    const held = shots.filter((shot) => shot.session === session);
    if (others.length < UNCERTAIN.length) continue;
    const { estimates } = fitTo(others, question, [start]);
    const model = (shot: MeasuredShot) => predicted(shot, estimates, question);
    const plain = regressionOf(
      others,
      others.map(({ bend }) => bend),
    );
    const rest = regressionOf(
      others,
      others.map((shot) => shot.bend - model(shot)),
    );
    const mean = others.reduce((sum, { bend }) => sum + bend, 0) / others.length;
    for (const shot of held) {
      const [byModel, byRegression, left] = [model(shot), plain(shot), rest(shot)];
      if (byRegression === undefined || left === undefined || Number.isNaN(byModel)) continue;
      count++;
      squares.mean += (mean - shot.bend) ** 2;
      squares.model += (byModel - shot.bend) ** 2;
      squares.regression += (byRegression - shot.bend) ** 2;
      squares.both += (byModel + left - shot.bend) ** 2;
    }
  }
  const root = (sum: number) => (count > 0 ? Math.sqrt(sum / count) : null);
  return {
    sessions: sessions.length,
    shots: count,
    mean: root(squares.mean),
    model: root(squares.model),
    regression: root(squares.regression),
    both: root(squares.both),
  };
}

/** The steps of sessionSteps in one go. */
export function sessionErrors(question: CalibrationQuestion, fitted: Calibration): SessionErrors | undefined {
  return completed(sessionSteps(question, fitted));
}

export interface CalibrationResult {
  readonly fit: Calibration;
  /** Undefined when fewer than two sessions are named. */
  readonly errors: SessionErrors | undefined;
}

/**
 * The whole calibration in steps. Yields the share that is done.
 * @throws as `calibrate`
 */
export function* calibrationSteps(question: CalibrationQuestion): Generator<number, CalibrationResult> {
  const sessions = new Set(question.shots.flatMap(({ session }) => (session === undefined ? [] : [session]))).size;
  // The fit to all rows looks from several starts and takes about as long as three sessions.
  const all = 3 + sessions;
  const fit = calibrate(question);
  let done = 3;
  yield done / all;
  const steps = sessionSteps(question, fit);
  for (;;) {
    const { done: ended, value } = steps.next();
    if (ended) return { fit, errors: value };
    yield Math.min(1, done++ / all);
  }
}

/** A straight regression on the settings that vary. */
function regressionOf(
  shots: readonly MeasuredShot[],
  response: readonly number[],
): (shot: MeasuredShot) => number | undefined {
  const varying = AT_CUSHION.filter((setting) => shots.some((shot) => shot[setting] !== shots[0][setting]));
  const fit = regress({
    response,
    drivers: varying.map((name) => ({
      kind: "number" as const,
      name,
      values: shots.map((shot) => shot[name]),
      degree: 1,
    })),
  });
  return (shot) => fit.estimate(varying.map((name) => shot[name]))?.value;
}
