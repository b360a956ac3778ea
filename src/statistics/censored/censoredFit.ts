/**
 * A normal response of which some rows say the value and others only that it is at least, or less than, a bound.
 */
import { normalQuantile } from "../distributions/distributions";
import { normalLower } from "../distributions/normal";
import type { Design, Setting } from "../fit/designMatrix";
import { degreesOfFreedom, fallOf } from "./calibration";
import { leastSurpassed, mostSurpassed } from "./oneSided";
import {
  betweenSessions,
  chanceDeviate,
  logScatter,
  profileInterval,
  surpassed,
  type End,
  type ProfiledQuantity,
} from "./profile";
import { seenChance } from "./seen";
import { errorOf, solve, variancesOf, type CensoredQuestion, type Solved } from "./solve";
import { untoldOf, type Untold } from "./untold";

export type { CensoredQuestion } from "./solve";
export type { Known } from "./likelihood";
export type { Untold } from "./untold";

/** A figure with its interval: null where the rows give no such figure, or no such end. */
export interface Estimated {
  readonly estimate: number | null;
  readonly low: End;
  readonly high: End;
}

/**
 * Profile likelihood, a climb for each of its points; or the standard error alone, for the many places of a picture.
 */
export type IntervalBy = "profile" | "standard error";

export interface CensoredTerm extends Estimated {
  readonly label: string;
  /** Indices of the drivers that it belongs to. */
  readonly drivers: readonly number[];
  /** From the information at the highest place, as the plain fit has it. */
  readonly standardError: number | null;
}

export interface CensoredFit {
  readonly rows: number;
  readonly confidence: number;
  /** A term that the rows do not determine has no estimate. */
  readonly terms: readonly CensoredTerm[];
  /** Standard deviation of single rows within a session. */
  readonly scatter: Estimated;
  /** Standard deviation between sessions. */
  readonly session: (Estimated & { readonly groups: number }) | undefined;
  /** Its highest value, or what it rises to where it has no highest place. */
  readonly logLikelihood: number;
  readonly untold: readonly Untold[];
  readonly question: CensoredQuestion;
  readonly design: Design;
  /**
   * The value that a row at the settings surpasses with a probability: in an average session, or in one yet to come.
   * @returns undefined where the rows do not determine the setting
   */
  surpassed(
    settings: readonly Setting[],
    probability: number,
    newSession?: boolean,
    by?: IntervalBy,
  ): Estimated | undefined;
  /** The probability that a row at the settings is at least the bound. */
  chance(settings: readonly Setting[], bound: number, newSession?: boolean, by?: IntervalBy): Estimated | undefined;
  /** How much more a row is at one setting than at another, on average. */
  difference(settings: readonly Setting[], less: readonly Setting[], confidence?: number): Estimated | undefined;
}

/**
 * Fits by maximum likelihood, sessions integrated out (see likelihood.ts). Intervals are profile likelihood's, with the
 * fall at their ends raised for few rows (see calibration.ts); each is worked out when it is asked for.
 * @throws RangeError when there is no row, lengths differ, or a number is not finite
 * @example censoredFit({ bounds: [1, 2, 3], known: ["value", "value", "value"], drivers: [] }).terms[0].estimate // 2
 */
export function censoredFit(question: CensoredQuestion): CensoredFit {
  const { confidence = 0.95, sessions } = question;
  const solved = solve(question);
  const { data, scale, centre, basis, design, top } = solved;
  const along = (settings: readonly Setting[]) => basis.combine(design.weights(settings), true)?.along;
  const length = (value: number) => scale * value;
  const terms = once(() => design.columns.map((_, index) => termOf(solved, index, confidence)));
  const scatter = once(() => estimated(solved, logScatter(data), confidence, (value) => scale * Math.exp(value)));
  const session = once(
    () =>
      sessions && {
        groups: sessions.levels.length,
        ...(data.sessions ? estimated(solved, betweenSessions(data), confidence, length) : NOTHING),
      },
  );
  const untold = untoldOf(solved, question);
  return {
    rows: data.rows,
    confidence,
    get terms() {
      return terms();
    },
    get scatter() {
      return scatter();
    },
    get session() {
      return session();
    },
    logLikelihood: top.value - data.exactCount * Math.log(scale),
    untold,
    question,
    design,
    surpassed(settings, probability, newSession = false, by = "profile") {
      const [why] = untold;
      if (why?.kind === "only at least" || why?.kind === "only less than" || why?.kind === "one row")
        return oneSided(question, probability);
      const at = along(settings);
      const quantity = at && surpassed(data, at, normalQuantile(probability), newSession);
      return quantity && estimated(solved, quantity, confidence, (value) => centre + scale * value, by);
    },
    chance(settings, bound, newSession = false, by = "profile") {
      const at = along(settings);
      const quantity = at && chanceDeviate(data, at, (bound - centre) / scale, newSession);
      return quantity && estimated(solved, quantity, confidence, normalLower, by);
    },
    difference(settings, less, level = confidence) {
      const [at, other] = [along(settings), along(less)];
      if (!at || !other) return undefined;
      const between = at.map((value, j) => value - (other[j] ?? 0));
      return between.every((value) => Math.abs(value) < 1e-12)
        ? undefined
        : estimated(solved, surpassed(data, between, 0, false), level, length);
    },
  };
}

const NOTHING: Estimated = { estimate: null, low: null, high: null };

/** All that rows on one side of their bounds tell: nothing of how it depends on drivers or sessions. */
function oneSided(
  { bounds, known, drivers, sessions, confidence = 0.95, misjudged = 0 }: CensoredQuestion,
  probability: number,
): Estimated {
  if (drivers.length > 0 || sessions) return NOTHING;
  // What is counted is what was seen.
  const seen = seenChance(probability, misjudged);
  return known[0] === "at least"
    ? { ...NOTHING, low: leastSurpassed(Array.from(bounds), seen, confidence) }
    : { ...NOTHING, high: mostSurpassed(Array.from(bounds), seen, confidence) };
}

/** The value, worked out at the first call and kept: each point of a profile is a climb. */
function once<T>(make: () => T): () => T {
  let known: { readonly value: T } | undefined;
  return () => (known ??= { value: make() }).value;
}

/** A length to begin a profile with where there is no standard error, in the scaled rows. */
const SOME_LENGTH = 0.25;

/** The quantity at the summit with its interval, turned back from the scaled rows. */
function estimated(
  solved: Solved,
  quantity: ProfiledQuantity,
  confidence: number,
  back: (value: number) => number,
  by: IntervalBy = "profile",
): Estimated {
  const { data, top, inverse, worth, sessions } = solved;
  const df = degreesOfFreedom(data, worth, variancesOf(solved, quantity));
  const fall = fallOf(confidence, df, data.directions, sessions);
  const error = inverse ? errorOf(top.place, inverse, quantity) : 0;
  const value = quantity.at(top.place);
  if (by === "standard error" && inverse) {
    const half = Math.sqrt(fall) * error;
    return { estimate: back(value), low: back(value - half), high: back(value + half) };
  }
  const unit = error > 0 && Number.isFinite(error) ? error : SOME_LENGTH;
  const { low, high } = profileInterval(data, top, quantity, fall, unit);
  return {
    estimate: inverse ? back(value) : null,
    low: low === null ? null : back(low),
    high: high === null ? null : back(high),
  };
}

function termOf(solved: Solved, index: number, confidence: number): CensoredTerm {
  const { basis, design, data, scale, centre, inverse, top } = solved;
  const { label, drivers, scale: unit } = design.columns[index];
  const constant = drivers.length === 0;
  const combined = basis.kept.includes(index)
    ? basis.combine(
        design.columns.map((_, j) => [j === index ? 1 / unit : 0, 0]),
        !constant,
      )
    : undefined;
  if (!combined) return { label, drivers, standardError: null, ...NOTHING };
  const quantity = surpassed(data, combined.along, 0, false);
  return {
    label,
    drivers,
    standardError: inverse ? scale * errorOf(top.place, inverse, quantity) : null,
    // The bounds were centred, which is the constant's alone.
    ...estimated(solved, quantity, confidence, (value) => scale * value + (constant ? centre : 0)),
  };
}
