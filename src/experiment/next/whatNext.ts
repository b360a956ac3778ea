/**
 * What to shoot next, from all rows so far: the setting with the highest predicted bend, the one that would teach most,
 * and the trade between the two.
 *
 * The prediction is a regression, curved where the rows allow it, held at what is set up now; with physics as a prior
 * it is the model's bend plus a regression of what the model leaves. Gain is the expected improvement over the best
 * setting so far (Jones, Schonlau & Welch, J. Global Optim. 13 (1998) 455–492), with Student's t in place of the bell
 * because the scatter is itself estimated. Teaching is the fall of the mean variance of the prediction over the limits
 * that one more shot there brings.
 */
import { boxSearch, spreadPlaces, type Side } from "../../statistics/numeric/boxSearch";
import type { Setting } from "../../statistics/fit/designMatrix";
import { studentDensity, studentTwoSided } from "../../statistics/distributions/distributions";
import { extent } from "../../statistics/numeric/extent";
import type { Estimate } from "../../statistics/fit/estimates";
import type { Regression } from "../../statistics/fit/regression";
import type { Interval } from "../../statistics/measure/spread";
import { analyse, NoAnswer, type Analysis } from "../question/analysis";
import { atCushion, guessParts, partColumns, type Part, type PartColumn } from "../calibrate/calibrationRows";
import type { Choice, DriverChoice } from "../question/choice";
import { intervalsAbout } from "../question/predictAt";
import { leading, sessionAware, type SessionAware } from "../question/sessionAware";
import { setByShot } from "../log/header";
import { bendOfShot } from "../shot/computedShot";
import { levelOf, numberOf, type Reading } from "../log/reading";
import { boundsOf, conditionsOfShot, type ShotSettings } from "../shot/shotSettings";
import type { TrialLog } from "../log/trialLog";
import { there } from "../../there";
import { columnNamed } from "../question/rowCheck";
import { nextMap, type NextMap } from "./nextMap";
import { teacher } from "./teaching";

export interface NextWish {
  /** Whether more of the response is better, or less. */
  readonly aim: "most" | "least";
  /** Limits of the settings that may change, by heading. */
  readonly limits: Readonly<Record<string, Side>>;
  /** What is set up now: every other driver's value, by heading. */
  readonly held: Readonly<Record<string, number | string>>;
  /** The calibrated shot whose model is the prior; undefined for a regression alone. */
  readonly physics: ShotSettings | undefined;
}

export interface Proposal {
  /** In the order of the drivers. */
  readonly settings: readonly { readonly heading: string; readonly value: number | string; readonly free: boolean }[];
  /** Predicted mean response there. */
  readonly mean: Estimate;
  /** Interval of a single shot there, of a session to come where sessions are shifted; null without a scatter. */
  readonly single: Interval | null;
  /** Chance that the mean there is better than the best so far; null without a scatter. */
  readonly better: number | null;
  /** Expected improvement over the best so far; null without a scatter. */
  readonly gain: number | null;
  /** Share by which one shot there lowers the mean variance over the limits. */
  readonly teaches: number;
  /** What lies beyond anything shot so far: settings that may change, and what is set up now. */
  readonly beyond: readonly string[];
}

export interface WhatNext {
  /** The fit behind it, sessions taken as the answer takes them. */
  readonly analysis: Analysis;
  /** What the sessions mean for it, where they count. */
  readonly sessions: SessionAware | undefined;
  /** Whether free settings may curve, act together, and whether the model is the prior. */
  readonly form: { readonly curved: readonly string[]; readonly joint: boolean; readonly physics: boolean };
  /** Rows that the model could not predict and that are therefore left out. */
  readonly unpredicted: number;
  /** The best fitted mean among the settings shot so far, at what is set up now; null where none can be fitted. */
  readonly best: number | null;
  readonly highest: Proposal;
  readonly trade: Proposal | undefined;
  readonly teaching: Proposal;
  /** The prediction over the first two settings that may change, the others as for the highest. */
  readonly map: NextMap | undefined;
}

/**
 * Columns that a first wish lets change: what a shot can set, with the limits of what was shot; the rest as in the last
 * row.
 */
export function firstNext(log: TrialLog, choice: Pick<Choice, "drivers">): NextWish {
  const limits: Record<string, Side> = {};
  const held: Record<string, number | string> = {};
  for (const { heading, as } of choice.drivers) {
    const column = log.columns.find((one) => one.heading.text === heading);
    if (!column) continue;
    const usable = column.readings.filter(({ kind }) => kind !== "blank" && kind !== "unusable");
    if (as === "number") {
      const numbers = usable.map(numberOf).filter(Number.isFinite);
      if (numbers.length === 0) continue;
      const side = extent(numbers);
      if (setByShot(column.meaning) && side.low < side.high) limits[heading] = side;
      else held[heading] = there(numbers.at(-1), "a last number");
    } else if (usable.length > 0) held[heading] = levelOf(there(usable.at(-1), "a last reading"));
  }
  return { aim: "most", limits, held, physics: undefined };
}

/** Fewest degrees of freedom that a curved or joint form must leave: below, its intervals are too wide to choose by. */
const LEAST_DF = 6;
const PLACES = 600;
const OVER = 200;

/**
 * Looks for the next shots.
 * @param plainFirst whether the reader asked for the plain fit where sessions would count
 * @throws NoAnswer when the rows cannot answer, UnknownColumn when a column is gone
 * @throws RangeError naming a limit that is reversed, a value that no row has, or that nothing may change
 */
export function whatNext(log: TrialLog, choice: Choice, wish: NextWish, plainFirst = false): WhatNext {
  const free = choice.drivers
    .filter(({ heading }) => Object.hasOwn(wish.limits, heading))
    .map(({ heading }) => heading);
  checkLimits(wish, free);
  const prior = wish.physics && priorOf(log, choice, wish.physics);
  const { plain, form } = fitted(prior?.log ?? log, choice, free, plainFirst);
  const analysis = leading(plain, plainFirst);
  const { regression } = analysis;
  const places = placer(analysis, wish, free);
  const sign = wish.aim === "most" ? 1 : -1;
  const model = (place: readonly number[]) => (prior ? prior.at(valuesAt(choice, wish, free, place)) : 0);
  const mean = (place: readonly number[]): Estimate | undefined => {
    const estimate = regression.estimate(places(place));
    if (!estimate) return undefined;
    const bend = model(place);
    if (Number.isNaN(bend)) return undefined;
    const add = (value: number | null) => (value === null ? null : value + bend);
    return { ...estimate, value: estimate.value + bend, low: add(estimate.low), high: add(estimate.high) };
  };
  const best = bestSoFar(analysis, free, mean, sign);
  const box = free.map((heading) => limitsOf(wish, heading));
  const teaches = teacher(regression, spreadPlaces(box, OVER).map(places));
  const gainAt = (place: readonly number[]) => {
    const estimate = mean(place);
    return estimate && best !== null ? improvement(estimate, best, sign) : undefined;
  };
  const search = (cost: (place: readonly number[]) => number) =>
    boxSearch(box, cost, { places: PLACES, climbs: 3, lastStep: 1e-4 });
  const height = search((place) => {
    const estimate = mean(place);
    return estimate ? -sign * estimate.value : Infinity;
  });
  if (height.value === Infinity)
    throw new NoAnswer(
      "The rows do not determine a prediction within these limits at what is set up now: choose a table, cloth or setting that was shot, or shoot there first.",
      analysis.check,
    );
  const proposal = (place: readonly number[]): Proposal =>
    proposed(analysis, valuesAt(choice, wish, free, place), free, {
      mean: there(mean(place), "a mean at the place"),
      gain: gainAt(place),
      teaches: teaches(places(place)),
    });
  const most = search((place) => (mean(place) ? -teaches(places(place)) : Infinity));
  const trade = search((place) => -(gainAt(place)?.gain ?? -Infinity));
  return {
    analysis,
    sessions: analysis === plain ? undefined : sessionAware(plain),
    form: { ...form, physics: prior !== undefined },
    unpredicted: prior?.unpredicted ?? 0,
    best,
    highest: proposal(height.place),
    trade: Number.isFinite(trade.value) ? proposal(trade.place) : undefined,
    teaching: proposal(most.place),
    map: mapOf(regression, choice, wish, free, height.place, mean),
  };
}

/** What is known of one place. */
interface Known extends Pick<Proposal, "mean" | "teaches"> {
  readonly gain: ReturnType<typeof improvement>;
}

function proposed(
  analysis: Analysis,
  values: Readonly<Record<string, number | string>>,
  free: readonly string[],
  { mean, gain, teaches }: Known,
): Proposal {
  const { single, newSession } = intervalsAbout(analysis, mean);
  const { drivers } = analysis.choice;
  return {
    settings: drivers.map(({ heading }) => ({
      heading,
      value: there(values[heading], "a value"),
      free: free.includes(heading),
    })),
    mean,
    single: newSession?.single ?? single ?? null,
    better: gain?.chance ?? null,
    gain: gain?.gain ?? null,
    teaches,
    beyond: drivers.flatMap(({ heading }) => {
      const value = values[heading];
      return typeof value === "number" && !withinShot(analysis, heading, value) ? [heading] : [];
    }),
  };
}

/** @throws RangeError naming a limit that is reversed, or that nothing may change */
function checkLimits(wish: NextWish, free: readonly string[]): void {
  if (free.length === 0)
    throw new RangeError("nothing may change: let at least one setting, such as the speed, lie within limits");
  refuseReversed(wish, free);
}

/** @throws RangeError naming a limit that is reversed */
export function refuseReversed(wish: Pick<NextWish, "limits">, free: readonly string[]): void {
  for (const heading of free) {
    const { low, high } = limitsOf(wish, heading);
    if (!(low < high))
      throw new RangeError(`the limits of ${heading} are ${low} and ${high}: the second must be above the first`);
  }
}

/** The prediction over the first settings that may change, the others as at the place. */
function mapOf(
  regression: Regression,
  choice: Choice,
  wish: NextWish,
  free: readonly string[],
  at: readonly number[],
  mean: (place: readonly number[]) => Estimate | undefined,
): NextMap | undefined {
  return nextMap({
    free: free.map((heading) => ({
      heading,
      side: limitsOf(wish, heading),
      shot: valuesOf(regression, choice, heading),
    })),
    at,
    mean,
    measured: regression.question.response,
  });
}

/** The richest of a few forms that the rows determine with something left over. */
function fitted(
  log: TrialLog,
  choice: Choice,
  free: readonly string[],
  plainFirst: boolean,
): { plain: Analysis; form: { curved: readonly string[]; joint: boolean } } {
  const levels = (heading: string) =>
    new Set(columnNamed(log, heading).readings.map(numberOf).filter(Number.isFinite)).size;
  const curvable = free.filter((heading) => levels(heading) >= 3);
  const pairs = free.flatMap((a, i) => free.slice(0, i).map((b): [string, string] => [b, a]));
  const form = (curved: readonly string[], joint: boolean) => {
    const drivers = choice.drivers.map((driver): DriverChoice =>
      free.includes(driver.heading)
        ? {
            ...driver,
            degree: Math.max(
              curved.includes(driver.heading) ? 2 : 1,
              driver.degree > 2 && curved.length > 0 ? driver.degree : 1,
            ),
          }
        : driver,
    );
    return { curved, joint, choice: { ...choice, drivers, joint: joint ? pairs : [] } };
  };
  for (const { choice: asked, curved, joint } of [
    form(curvable, pairs.length > 0),
    form(curvable, false),
    form([], false),
  ]) {
    if (curved.length === 0 && !joint) return { plain: analyse(log, asked), form: { curved: [], joint: false } };
    try {
      const plain = analyse(log, asked);
      const { unestimated, residual } = leading(plain, plainFirst).regression;
      if (unestimated.length === 0 && residual.df >= LEAST_DF) return { plain, form: { curved, joint } };
    } catch (problem) {
      if (!(problem instanceof NoAnswer)) throw problem;
    }
  }
  throw new RangeError("no form could be fitted");
}

function valuesAt(
  choice: Choice,
  { held }: NextWish,
  free: readonly string[],
  place: readonly number[],
): Record<string, number | string> {
  return Object.fromEntries(
    choice.drivers.map(({ heading }) => [
      heading,
      there(free.includes(heading) ? place[free.indexOf(heading)] : held[heading], "a value"),
    ]),
  );
}

/** From a place in the box to settings of the regression, everything else as it is set up now. */
function placer(
  { regression, choice }: Analysis,
  { held }: NextWish,
  free: readonly string[],
): (place: readonly number[]) => Setting[] {
  const fixed = choice.drivers.map(({ heading }, i): Setting => {
    if (free.includes(heading)) return NaN;
    const driver = there(regression.question.drivers[i], "a driver");
    const value = held[heading];
    if (driver.kind === "number") {
      if (typeof value !== "number" || !Number.isFinite(value))
        throw new RangeError(`${heading} is "${value ?? ""}" now: give a number`);
      return value;
    }
    const level = driver.levels.indexOf(String(value));
    if (level < 0)
      throw new RangeError(
        `${heading} is "${value ?? ""}" now, which no row has; there are: ${driver.levels.join(", ")}`,
      );
    return level;
  });
  const settings = choice.drivers.map(({ heading }, i) => ({ setting: fixed[i] ?? NaN, at: free.indexOf(heading) }));
  return (place) => settings.map(({ setting, at }) => (at < 0 ? setting : there(place[at], "a setting")));
}

/** What was shot of a driver, row by row. */
function valuesOf({ question }: Regression, choice: Choice, heading: string): ArrayLike<number> {
  const index = choice.drivers.findIndex((driver) => driver.heading === heading);
  return there(question.drivers[index], "the driver").values;
}

function limitsOf({ limits }: Pick<NextWish, "limits">, heading: string): Side {
  return there(limits[heading], "limits of what may change");
}

/** The best fitted mean over the settings that were shot, at what is set up now. */
function bestSoFar(
  { regression, choice }: Analysis,
  free: readonly string[],
  mean: (place: readonly number[]) => Estimate | undefined,
  sign: number,
): number | null {
  const columns = free.map((heading) => valuesOf(regression, choice, heading));
  const seen = new Set<string>();
  let best: number | null = null;
  for (let i = 0; i < regression.rows && seen.size < 3000; i++) {
    const place = columns.map((values) => there(values[i], "a value"));
    const key = place.join(" ");
    if (seen.has(key)) continue;
    seen.add(key);
    const estimate = mean(place);
    if (estimate && (best === null || sign * estimate.value > sign * best)) best = estimate.value;
  }
  return best;
}

function withinShot({ regression, choice }: Analysis, heading: string, value: number): boolean {
  const { low, high } = extent(valuesOf(regression, choice, heading));
  const slack = 1e-9 * (high - low);
  return value >= low - slack && value <= high + slack;
}

/**
 * Expected improvement and the chance of any, when the mean is known as estimate ± standard error · Student's t:
 * E[max(0, m − best)] = (m − best) P(T > z) + s (df + z²)/(df − 1) f(z), z = (best − m)/s.
 * @param sign 1 where more is better, −1 where less is
 * @returns undefined without a standard error or with 1 degree of freedom, where no expectation exists
 */
export function improvement(
  { value, standardError, df }: Estimate,
  best: number,
  sign: number,
): { readonly gain: number; readonly chance: number } | undefined {
  if (standardError === null || df === null || !(df > 1)) return undefined;
  const ahead = sign * (value - best);
  if (standardError === 0) return { gain: Math.max(0, ahead), chance: ahead > 0 ? 1 : 0 };
  const z = -ahead / standardError;
  const tail = studentTwoSided(z, df) / 2;
  const above = z > 0 ? tail : 1 - tail;
  return {
    gain: Math.max(0, ahead * above + (standardError * (df + z * z) * studentDensity(z, df)) / (df - 1)),
    chance: above,
  };
}

/**
 * The log with the model's bend taken off its response, and the model's bend at any setting, in the response's unit.
 */
function priorOf(
  log: TrialLog,
  choice: Choice,
  shot: ShotSettings,
): {
  readonly log: TrialLog;
  readonly unpredicted: number;
  at(values: Readonly<Record<string, number | string>>): number;
} {
  const parts = partColumns(log, { ...guessParts(log), bend: choice.response }, shot);
  if (typeof parts === "string") throw new RangeError(parts.replace(/\.$/, ""));
  const response = columnNamed(log, choice.response);
  const { size } = there(parts.get("bend"), "the bend's column");
  const signed = response.readings.some((reading) => numberOf(reading) < 0);
  const conditions = conditionsOfShot(shot);
  const base = atCushion(shot);
  const used = [...parts].filter(
    (entry): entry is [Exclude<Part, "bend" | "session" | "deviation">, PartColumn] =>
      entry[0] !== "bend" && entry[0] !== "session" && entry[0] !== "deviation",
  );
  if (!used.some(([, { column }]) => choice.drivers.some(({ heading }) => heading === column.heading.text)))
    throw new RangeError(
      "no driver of the question is a speed, angle, roll, side or distance across, so the model has nothing to say of it",
    );
  const bend = (valueOf: (column: PartColumn["column"]) => number) => {
    const motion = used.map(([part, { column, size: one }]) => [part, valueOf(column) * one] as const);
    // Outside what the model takes, a blank among it, it has no prediction.
    if (!motion.every(([part, value]) => value >= boundsOf(part, shot).low && value <= boundsOf(part, shot).high))
      return NaN;
    const found = bendOfShot({ ...base, ...Object.fromEntries(motion) }, conditions) / size;
    return signed ? found : Math.abs(found);
  };
  // A column of the shot that is no driver of the question stays as in its last row.
  const last = new Map(
    used.map(([, { column }]) => [
      column.heading.text,
      column.readings.map(numberOf).filter(Number.isFinite).pop() ?? NaN,
    ]),
  );
  let unpredicted = 0;
  const readings = response.readings.map((reading, i): Reading => {
    if (reading.kind !== "number") return reading;
    const model = bend((column) => numberOf(there(column.readings[i], "a reading")));
    if (Number.isFinite(model)) return { kind: "number", value: reading.value - model };
    unpredicted++;
    return {
      kind: "unusable",
      reason: "a bend that the model cannot predict: the ball never reaches the line, or a setting is missing",
    };
  });
  const columns = log.columns.map((column) => (column === response ? { ...column, readings } : column));
  return {
    log: { ...log, columns },
    unpredicted,
    at: (values) => bend((column) => Number(values[column.heading.text] ?? last.get(column.heading.text))),
  };
}
