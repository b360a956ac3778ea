/**
 * Slip friction, nose friction and restitution fitted to measured bends, what the rows cannot tell apart, and how well
 * the model, a regression, and both together predict sessions that they have not seen. SI.
 */
import { conditionProblem } from "../../bank/conditions";
import type { Known } from "../../statistics/censored/censoredFit";
import { nonlinearFit } from "../../statistics/fit/nonlinearFit";
import { regress } from "../../statistics/fit/regression";
import { studentQuantile } from "../../statistics/distributions/distributions";
import { addOuter, eigen, timesVector, zeroMatrix, type Matrix } from "../../statistics/numeric/symmetric";
import { there } from "../../there";
import { bestScatter, devianceResidual, informationShare, minusTwoLog, boundWorth } from "./boundedFit";
import { completed } from "../language/completed";
import { bankAtCushion } from "../shot/computedShot";
import {
  AT_CUSHION,
  CONSTANT_KINDS,
  conditionsOf,
  UNCERTAIN,
  type AtCushion,
  type OtherValues,
  type ShotSettings,
  type UncertainName,
} from "../shot/shotSettings";

export interface MeasuredShot extends Readonly<Record<AtCushion, number>> {
  /** The measured bend, or the bound that the bend was at least or less than. */
  readonly bend: number;
  /** What is known of it; the value itself when left out. */
  readonly known?: Known;
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
  /** Ball, nose and what else is not fitted; the usual ones when left out. */
  readonly others?: OtherValues;
  /** Of the intervals; 0.95 when left out. */
  readonly confidence?: number;
}

const CONFIDENCE = 0.95;

export interface Constant {
  readonly name: UncertainName;
  readonly estimate: number;
  /**
   * Null where the rows do not determine the constant, and where it ran into its limit: there a standard error means
   * nothing.
   */
  readonly standardError: number | null;
  /** Which limit it ran into; the other constants' standard errors are then those with it held there. */
  readonly atBound: "low" | "high" | undefined;
}

type PerConstant<T> = Readonly<Record<UncertainName, T>>;

function perConstant<T>(of: (name: UncertainName, place: number) => T): PerConstant<T> {
  return Object.fromEntries(UNCERTAIN.map((name, place) => [name, of(name, place)])) as Record<UncertainName, T>;
}

/** Numbers in the order of UNCERTAIN by their names. */
function named(numbers: readonly number[]): PerConstant<number> {
  return perConstant((name, k) => there(numbers[k], `a number for ${name}`));
}

/** Constants that can change together with hardly any change of the predicted bends. */
export interface LooseDirection {
  /** A change along the direction, by constant. */
  readonly change: PerConstant<number>;
  /** What that does to the predicted bends: root mean square, m. */
  readonly effect: number;
}

export interface Calibration {
  readonly constants: readonly Constant[];
  /** Between constants; null where one is not determined. */
  readonly correlations: PerConstant<PerConstant<number | null>>;
  readonly untold: readonly LooseDirection[];
  /**
   * Residual standard deviation in m, or in units of the rows' own deviations when they have them; null without degrees
   * of freedom.
   */
  readonly scatter: number | null;
  /** How many of the shots have no more than a bound. */
  readonly bounds: number;
  /** The scatter of bounds ran into the least that is looked for: the model parts got by from hit without exception. */
  readonly cleanStep: boolean;
  readonly df: number;
  /** Of the intervals, and the quantile of Student's t for them; null without degrees of freedom. */
  readonly confidence: number;
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
  constants: PerConstant<number>,
  { others }: Pick<CalibrationQuestion, "others">,
): number | undefined {
  const conditions = conditionsOf(constants, others);
  return conditionProblem(conditions) ? NaN : bankAtCushion(shot, conditions).path?.bend;
}

/** Bend as the measurement sees it. A ball that never reaches the line has no bend. */
function predicted(
  shot: MeasuredShot,
  constants: PerConstant<number>,
  question: Pick<CalibrationQuestion, "signed" | "others">,
): number {
  const bend = modelled(shot, constants, question) ?? 0;
  return question.signed ? bend : Math.abs(bend);
}

/**
 * Besides the values in force, from where a fit begins. Each start is followed for a few steps on a part of the shots;
 * the best of them is then fitted to all.
 */
const STARTS: readonly PerConstant<number>[] = [
  { slipFriction: 0.2, noseFriction: 0.14, restitution: 0.9 },
  { slipFriction: 0.15, noseFriction: 0.25, restitution: 0.8 },
  { slipFriction: 0.3, noseFriction: 0.1, restitution: 0.75 },
];

const FIRST_LOOK = { shots: 16, rounds: 2 };

/** A bound that is worth so little does not tell how far the model moves. */
const HARDLY = 1e-3;
/** So near its least the scatter is not told. */
const CLEAN = 1.05;

/** A wedged ball is as wrong as this much bend, m. */
const WEDGED = 10;

function fitTo(
  shots: readonly MeasuredShot[],
  question: CalibrationQuestion,
  starts: readonly PerConstant<number>[],
  rounds?: number,
) {
  const step = Math.max(1, shots.length / FIRST_LOOK.shots);
  const some = Array.from({ length: Math.floor(shots.length / step) }, (_, i) =>
    there(shots[Math.floor(i * step)], "a shot for a first look"),
  );
  const looks = starts.map((start) => fitFrom(start, some, question, FIRST_LOOK.rounds));
  const best = looks.reduce((one, fit) => (fit.squares < one.squares ? fit : one));
  return fitFrom(best.estimates, shots, question, rounds);
}

const isBound = ({ known = "value" }: MeasuredShot) => known !== "value";

/** How far the model is above what was measured, or above the bound. */
function offOf(shot: MeasuredShot, constants: PerConstant<number>, question: CalibrationQuestion): number {
  const bend = predicted(shot, constants, question);
  return (Number.isNaN(bend) ? WEDGED : bend) - shot.bend;
}

/** Scatter of bends about the model with which a fit to bounds begins, and between which it is looked for; m. */
const FIRST_SCATTER = 0.003;
const [LEAST_SCATTER, MOST_SCATTER] = [0.0002, 0.03];
/** Turns of scatter and constants, and the rounds of a fit that begins where the last one ended. */
const [TURNS, FEW_ROUNDS] = [10, 3];
/** A scatter that moves by less has come to rest. */
const REST_SCATTER = 0.02;
/** Squares of deviance residuals are no squares near their least, so steps creep: far below any error by then. */
const BOUND_ROUNDS = 6;

interface Fitted {
  readonly estimates: PerConstant<number>;
  readonly squares: number;
  readonly jacobian: Matrix;
  /** By row: what it is worth beside a measured bend, as a share of its information. */
  readonly worth: readonly number[];
  /** Where some bends are only bounds: the scatter, which is then part of the fit; m. */
  readonly scatter?: number;
}

/** The fit to all shots; where some only have a bound, with the scatter at which the whole is likeliest. */
function fitAll(shots: readonly MeasuredShot[], question: CalibrationQuestion): Fitted {
  const starts = [perConstant((name) => question.constants[name].value), ...STARTS];
  // An obstacle is set near where the ball goes: bounds taken for bends lead to the summit that is looked for.
  const near = shots.map(({ known: _known, ...shot }): MeasuredShot => shot);
  const bound = shots.some(isBound);
  const first = fitTo(near, question, starts, bound ? BOUND_ROUNDS : undefined);
  if (!bound) return { ...first, worth: shots.map(() => 1) };
  // The scatter and the constants hardly hang together, so a few turns of one and the other come to rest.
  let [last, scatter] = [first.estimates, FIRST_SCATTER];
  for (let turn = 0; turn < TURNS; turn++) {
    const rows = shots.map((shot) => ({ known: shot.known ?? "value", off: offOf(shot, last, question) }));
    const before = scatter;
    scatter = bestScatter(LEAST_SCATTER, MOST_SCATTER, (tried) => minusTwoLog(rows, tried));
    last = fitFrom(last, shots, question, FEW_ROUNDS, scatter).estimates;
    if (Math.abs(scatter / before - 1) < REST_SCATTER) break;
  }
  const fit = fitFrom(last, shots, question, BOUND_ROUNDS, scatter);
  const off = shots.map((shot) => offOf(shot, fit.estimates, question));
  return {
    estimates: fit.estimates,
    squares: fit.squares,
    jacobian: fit.jacobian.map((row, i) => {
      const share = informationShare(shots[i]?.known ?? "value", off[i] ?? 0, scatter);
      return row.map((slope) => share * slope);
    }),
    worth: shots.map(({ known = "value" }, i) => boundWorth(known, off[i] ?? 0, scatter)),
    scatter,
  };
}

function fitFrom(
  start: PerConstant<number>,
  shots: readonly MeasuredShot[],
  question: CalibrationQuestion,
  rounds?: number,
  scatter = shots.some(isBound) ? FIRST_SCATTER : 1,
) {
  const residuals = (parameters: readonly number[]) => {
    const constants = named(parameters);
    return shots.map((shot) =>
      devianceResidual(shot.known ?? "value", offOf(shot, constants, question), shot.deviation ?? scatter),
    );
  };
  const { estimates, squares, jacobian } = nonlinearFit(
    residuals,
    UNCERTAIN.map((name) => ({
      start: start[name],
      ...CONSTANT_KINDS[name].bounds,
      scale: rangeOf(question.constants[name]),
    })),
    rounds,
  );
  return { estimates: named(estimates), squares, jacobian };
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
  const { shots, constants, confidence = CONFIDENCE } = question;
  const size = UNCERTAIN.length;
  if (shots.length < size) throw new RangeError(`${shots.length} shots cannot determine ${size} constants`);
  const wrong = shots.find(({ deviation }) => deviation !== undefined && !(deviation > 0));
  if (wrong) throw new RangeError(`a standard deviation is ${wrong.deviation}: it must be above 0`);
  const fit = fitAll(shots, question);
  const scales = perConstant((name) => rangeOf(constants[name]));
  const df = fit.worth.reduce((sum, one) => sum + one, 0) - size;
  // With bounds the residuals are in scatters already, and the likeliest scatter is too small by the constants fitted.
  const variance = df > 0 ? (fit.scatter === undefined ? fit.squares / df : (df + size) / df) : null;

  const bound = perConstant((name): Constant["atBound"] => {
    const { low, high } = CONSTANT_KINDS[name].bounds;
    return fit.estimates[name] <= low ? "low" : fit.estimates[name] >= high ? "high" : undefined;
  });
  const along = directions(fit.jacobian, bound);
  const untold = along.flatMap((direction) => {
    const deviation = direction.singular ? Infinity : Math.sqrt((variance ?? 0) / direction.value);
    return deviation > UNTOLD_DEVIATION ? [looseDirection(direction, fit, shots, scales)] : [];
  });
  const known = perConstant(
    (name) =>
      bound[name] === undefined && along.every(({ singular, parts }) => !singular || Math.abs(parts[name]) < NO_PART),
  );
  const covariance = (a: UncertainName, b: UncertainName) =>
    along.reduce((sum, { value, parts, singular }) => (singular ? sum : sum + (parts[a] * parts[b]) / value), 0) *
    (variance ?? NaN) *
    scales[a] *
    scales[b];
  return {
    constants: UNCERTAIN.map((name) => ({
      name,
      estimate: fit.estimates[name],
      standardError: known[name] && variance !== null ? Math.sqrt(covariance(name, name)) : null,
      atBound: bound[name],
    })),
    correlations: perConstant((a) =>
      perConstant((b) =>
        a === b
          ? 1
          : known[a] && known[b] && variance !== null && variance > 0
            ? covariance(a, b) / Math.sqrt(covariance(a, a) * covariance(b, b))
            : null,
      ),
    ),
    untold,
    scatter: variance === null ? null : (fit.scatter ?? 1) * Math.sqrt(variance),
    bounds: shots.filter(isBound).length,
    cleanStep: fit.scatter !== undefined && fit.scatter < CLEAN * LEAST_SCATTER,
    df,
    confidence,
    t: df > 0 ? studentQuantile(confidence, df) : null,
    never: shots.flatMap((shot, i) => (modelled(shot, fit.estimates, question) === undefined ? [i] : [])),
    residuals: shots.map((shot) => shot.bend - predicted(shot, fit.estimates, question)),
  };
}

/** A direction along which the rows do not tell, turned so that its largest part is a rise, as long as one range. */
function looseDirection(
  { vector, parts }: Direction,
  fit: Pick<Fitted, "jacobian" | "worth" | "scatter">,
  shots: readonly MeasuredShot[],
  scales: PerConstant<number>,
): LooseDirection {
  const turn = Math.sign(vector.reduce((most, part) => (Math.abs(part) > Math.abs(most) ? part : most), 0)) || 1;
  const effects = timesVector(fit.jacobian, vector).flatMap((effect, i) => {
    const worth = fit.worth[i] ?? 1;
    return worth > HARDLY ? [(effect * (shots[i]?.deviation ?? fit.scatter ?? 1)) / Math.sqrt(worth)] : [];
  });
  return {
    change: perConstant((name) => turn * parts[name] * scales[name]),
    effect: Math.sqrt(effects.reduce((sum, effect) => sum + effect * effect, 0) / effects.length),
  };
}

/** What the rows say along a direction of the constants, in ranges. */
interface Direction {
  /** Its eigenvalue of the information. */
  readonly value: number;
  /** Whether the rows say nothing, but for rounding. */
  readonly singular: boolean;
  /** Its parts in the order of UNCERTAIN, and by name; 0 for a constant at a bound. */
  readonly vector: readonly number[];
  readonly parts: PerConstant<number>;
}

/** The directions of the constants that may move. */
function directions(jacobian: Matrix, bound: PerConstant<Constant["atBound"]>): Direction[] {
  const free = UNCERTAIN.filter((name) => bound[name] === undefined);
  if (free.length === 0) return [];
  const information = zeroMatrix(free.length);
  for (const row of jacobian)
    addOuter(
      information,
      row.filter((_, k) => free.some((name) => name === UNCERTAIN[k])),
    );
  const { values, vectors } = eigen(information);
  const largest = Math.max(...values);
  return vectors.map((own, j): Direction => {
    const value = there(values[j], "an eigenvalue for every eigenvector");
    const parts = perConstant((name) => own[free.indexOf(name)] ?? 0);
    return { value, singular: !(value > SINGULAR * largest), vector: UNCERTAIN.map((name) => parts[name]), parts };
  });
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
 * Leaves out each session in turn, fits to the others and predicts it. Only shots that all four can predict count, so
 * that the errors are of the same shots. Yields after each session.
 * @returns undefined when fewer than two sessions are named
 */
function* sessionSteps(question: CalibrationQuestion, fitted: Calibration): Generator<void, SessionErrors | undefined> {
  const shots = question.shots.filter(({ session }) => session !== undefined);
  const sessions = [...new Set(shots.map(({ session }) => session))];
  if (sessions.length < 2) return undefined;
  const start = named(fitted.constants.map(({ estimate }) => estimate));
  const squares = { mean: 0, model: 0, regression: 0, both: 0 };
  let count = 0;
  for (const session of sessions) {
    yield;
    const others = shots.filter((shot) => shot.session !== session);
    const measured = others.filter((shot) => !isBound(shot));
    // What a bound leaves open cannot be compared with a prediction.
    const held = shots.filter((shot) => shot.session === session && !isBound(shot));
    if (others.length < UNCERTAIN.length || measured.length === 0) continue;
    const { estimates } = fitFrom(
      start,
      others,
      question,
      undefined,
      fitted.bounds > 0 ? (fitted.scatter ?? FIRST_SCATTER) : 1,
    );
    const model = (shot: MeasuredShot) => predicted(shot, estimates, question);
    const plain = regressionOf(
      measured,
      measured.map(({ bend }) => bend),
    );
    const rest = regressionOf(
      measured,
      measured.map((shot) => shot.bend - model(shot)),
    );
    const mean = measured.reduce((sum, { bend }) => sum + bend, 0) / measured.length;
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
  const varying = AT_CUSHION.filter((setting) => new Set(shots.map((shot) => shot[setting])).size > 1);
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
