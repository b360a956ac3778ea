/**
 * What a film tells of a shot: the ball's bend after the cushion with its interval, from a track of points.
 *
 * The slip's end is the one number that points seldom tell well, and the interval must know it. So the motion is fitted
 * for
 * a grid of ends, each end counts by its likelihood with the other numbers integrated out (Laplace; the scatter's
 * variance
 * exactly, which makes each a Student's t), and the interval is that of the mixture. All ends are as likely beforehand,
 * and
 * a slip that lasts longer than the track counts as much as all shorter ones: coverage is in docs/evidence.md.
 */
import type { Point } from "../../bank/pathClearance";
import type { ProjectiveMap } from "../../bank/projective";
import { mixtureMoments, mixtureQuantile, type StudentPart } from "../../statistics/distributions/studentMixture";
import { extent } from "../../statistics/numeric/extent";
import { inner, timesVector } from "../../statistics/numeric/symmetric";
import { firstAfterContact, wayOut } from "./contact";
import { fitMotion, STILL, type MotionFit, type SeenPoint, type SituatedPoint, type View } from "./fitMotion";
import { distancesFromPath } from "./goodPoints";
import { logEvidence, overBadPoints, type LoggedPart } from "./badPoints";
import { pointsOnPath } from "./onPath";
import { slipEnds, type SlipEnds } from "./slipEnds";
import { there } from "../../there";
import { bendOf, changedMotion, contactOf, courseOf, velocityAt, type TrackMotion } from "./motion";

export interface TrackedShot {
  /** In in; + short, − long. */
  readonly bend: number;
  readonly standardError: number;
  readonly low: number;
  readonly high: number;
  /** Angles from square to the banked rail, degrees. */
  readonly departureAngle: number;
  readonly arrivalAngle: number;
  /** In in/s. */
  readonly speedAfterCushion: number;
  /** Of the ball's centre along the banked rail, in. */
  readonly cushionAt: number;
  /** In s. */
  readonly contactTime: number;
  readonly pointsUsed: number;
  /** Indices, among all points, of those after the contact that lie off the path. */
  readonly leftOut: readonly number[];
  /** Scatter of a coordinate, in the unit of what was measured. */
  readonly scatter: number;
  /** Points after the way out: the ball came back, or met something else. */
  readonly afterwards: number;
  /** The path that fits best, from the contact to the last point seen, in in. */
  readonly path: readonly Point[];
}

/** Why a track tells nothing. */
export class TrackProblem extends Error {}

/**
 * Fewest good points after the contact: two coordinates each, for seven numbers and something to judge the scatter by.
 */
export const FEWEST_POINTS = 8;
const NUMBERS = 7;
/** Pieces in which the fitted path is told. */
const SAMPLES = 60;
/**
 * A first point seen sooner after the contact than this share of a frame may as well have been seen before it, or while
 * the ball lay against the nose: it is left aside.
 */
const TOUCHING = 0.15;
const SAME: View = { show: (place) => place, magnified: () => ({ x: { x: 1, y: 0 }, y: { x: 0, y: 1 } }) };
/** A step on the table by which the picture's own is found, in. */
const STEP = 1e-4;

function viewThrough(map: ProjectiveMap): View {
  const show = (place: Point) => map.toPicture(place);
  const stepFrom = (place: Point, dx: number, dy: number) => {
    const [before, after] = [show({ x: place.x - dx, y: place.y - dy }), show({ x: place.x + dx, y: place.y + dy })];
    return { x: (after.x - before.x) / (2 * STEP), y: (after.y - before.y) / (2 * STEP) };
  };
  return { show, magnified: (place) => ({ x: stepFrom(place, STEP, 0), y: stepFrom(place, 0, STEP) }) };
}

/**
 * @param points in the order of time
 * @param map from the picture to the table; without it the points are inches on the table
 * @param nearest distance of the ball's centre from the nose at the contact, in: the ball's radius
 * @throws TrackProblem
 */
export function trackedShot(
  points: readonly SeenPoint[],
  { map, nearest, confidence }: { map?: ProjectiveMap; nearest: number; confidence: number },
): TrackedShot {
  const view = map ? viewThrough(map) : SAME;
  const places = points.map(({ seen }) => (map ? map.toTable(seen) : seen));
  const times = points.map(({ time }) => time);
  const first = firstAfterContact(times, places, nearest);
  if (first === undefined)
    throw new TrackProblem(
      "the ball never goes away from the banked rail: y, its distance from the nose, does not grow.",
    );
  const end = first + wayOut(times.slice(first), places.slice(first));
  const fitFrom = (from: number) => goodFit(points.slice(from, end), places.slice(from, end), view);
  let from = first;
  const begun = fitFrom(from);
  if (!begun) throw new TrackProblem("fewer than eight points lie on one path: the track does not follow one ball.");
  let good = begun;
  // The fitted motion knows better than a few points when the ball touched; a first point that does not lie on the path
  // may have been seen before it.
  const tried = new Set([from]);
  const isAfter = (when: number) => (time: number, i: number) =>
    time > when + TOUCHING * Math.min(time - (times[i - 1] ?? -Infinity), (times[i + 1] ?? Infinity) - time);
  for (let round = 0; round < 4; round++) {
    const { when } = contactOf(good.best.motion, nearest);
    const late = good.weights.findIndex((weight) => weight > 0);
    const next = late > 0 ? from + late : times.findIndex(isAfter(when));
    if (next < 0 || tried.has(next) || end - next < FEWEST_POINTS) break;
    tried.add(next);
    const other = fitFrom(next);
    if (!other || surpriseOf(other) > surpriseOf(good)) continue;
    from = next;
    good = other;
  }
  return { ...told(good, times.slice(0, end), nearest, confidence, from), afterwards: times.length - end };
}

/**
 * How badly a fit explains its points, on average: what a point on the path costs by the scatter, and one off it by the
 * track's own extent (negative logarithm of the likelihood, a tenth of the points being anywhere).
 */
function surpriseOf({ best, weights, df, size }: Good): number {
  const used = weights.filter((weight) => weight > 0).length;
  const variance = Math.max(best.squares / df, (1e-6 * size) ** 2);
  return (used * Math.log(2 * Math.PI * variance) + (weights.length - used) * Math.log(size * size)) / weights.length;
}

interface Good {
  readonly best: MotionFit;
  readonly ends: SlipEnds;
  readonly weights: readonly number[];
  readonly df: number;
  /** How far the track goes, in the unit of what was measured. */
  readonly size: number;
  /** The ends of the slip with other points on the path. */
  endsWith(weights: readonly number[]): SlipEnds;
  /** The fit with other points on the path, for the best end alone. */
  fitWith(weights: readonly number[]): MotionFit | undefined;
}

/** The motion that fits the points that lie on the path, and which they are; undefined where too few lie on one. */
function goodFit(points: readonly SeenPoint[], places: readonly Point[], view: View): Good | undefined {
  if (points.length < FEWEST_POINTS)
    throw new TrackProblem(
      `${points.length} points after the cushion are too few: ${FEWEST_POINTS} are needed, and fifteen or more tell something.`,
    );
  const origin = there(points[0], "a first point").time;
  const rough = distancesFromPath(
    points.map(({ time }) => time),
    places,
  );
  const size = Math.hypot(span(points.map(({ seen }) => seen.x)), span(points.map(({ seen }) => seen.y)));
  const situated = points.map((point, i) => ({ ...point, magnified: view.magnified(there(places[i], "a place")) }));
  let start: TrackMotion | undefined;
  let scatter = 0;
  const situationWith = (weights: readonly number[], variance: number) => {
    const weighed = situated.map((point, i) => ({ ...point, weight: there(weights[i], "a weight") }));
    start ??= beginning(weighed, places, origin);
    return { situation: { points: weighed.filter(({ weight }) => weight > 0), view, variance }, start };
  };
  const endsOf = (weights: readonly number[], variance: number, roughly: boolean) => {
    const { situation, start: from } = situationWith(weights, variance);
    return slipEnds(situation, from, roughly);
  };
  const found = pointsOnPath(
    rough,
    { size, coordinates: 2, numbers: NUMBERS, fewest: FEWEST_POINTS },
    (weights, variance, roughly) => {
      const ends = endsOf(weights, variance, roughly);
      scatter = variance;
      const best = ends.best();
      start = best.motion;
      return { fit: { best, ends }, distances: distancesOf(points, view, best) };
    },
  );
  if (!found) return undefined;
  return {
    ...found.fit,
    weights: found.weights,
    df: 2 * found.used - NUMBERS,
    size,
    endsWith: (weights) => endsOf(weights, scatter, false),
    fitWith: (weights) => fitMotion(situationWith(weights, scatter).situation, found.fit.best.motion),
  };
}

/** A motion to begin with: the parabola on the table itself. */
function beginning(points: readonly SituatedPoint[], places: readonly Point[], origin: number): TrackMotion {
  const onTable = points.map((point, i) => {
    const seen = there(places[i], "a place of every point");
    return { ...point, seen, magnified: SAME.magnified(seen) };
  });
  const start = { origin, slipEnd: Infinity, numbers: STILL };
  return fitMotion({ points: onTable, view: SAME, variance: 0 }, start)?.motion ?? start;
}

function span(values: readonly number[]): number {
  const { low, high } = extent(values);
  return high - low;
}

function distancesOf(points: readonly SeenPoint[], view: View, { motion }: MotionFit): number[] {
  const placeAt = courseOf(motion);
  return points.map(({ time, seen }) => {
    const shown = view.show(placeAt(time));
    return (shown.x - seen.x) ** 2 + (shown.y - seen.y) ** 2;
  });
}

/** Each end of the slip, with each likely choice of points, as a part of the mixture. */
function partsOf(
  { ends, weights, size, endsWith, fitWith }: Good,
  bend: (motion: TrackMotion) => number,
): StudentPart[] {
  const dfOf = (some: readonly number[]) => 2 * some.filter((weight) => weight > 0).length - NUMBERS;
  return overBadPoints(
    { weights, size, coordinates: 2, fewest: FEWEST_POINTS },
    (some) => {
      const fit = fitWith(some);
      return fit && logEvidence(fit, dfOf(some));
    },
    (some) => partsWith(some === weights ? ends : endsWith(some), dfOf(some), bend),
  );
}

function partsWith(ends: SlipEnds, df: number, bend: (motion: TrackMotion) => number): LoggedPart[] {
  return ends.all(df).map(({ fit, log }) => {
    const { motion, covariance, loss } = fit;
    const slopes = motion.numbers.map((value, j) => {
      const step = 1e-4 * Math.max(1, Math.abs(value));
      const other = (by: number) => changedMotion(motion, (one, k) => (k === j ? one + by : one));
      return (bend(other(step)) - bend(other(-step))) / (2 * step);
    });
    const variance = inner(slopes, timesVector(covariance, slopes));
    return { log, centre: bend(motion), scale: Math.sqrt(Math.max(0, variance) * (loss / df)), df };
  });
}

function told(
  good: Good,
  times: readonly number[],
  nearest: number,
  confidence: number,
  from: number,
): Omit<TrackedShot, "afterwards"> {
  const { best, weights, df } = good;
  const { motion } = best;
  const last = there(times.at(-1), "a last point");
  const contact = contactOf(motion, nearest);
  const forward = courseOf(motion)(last).x >= contact.at ? 1 : -1;
  const parts = partsOf(good, (one) => bendOf(one, nearest, last, forward));
  const tail = (1 - confidence) / 2;
  const angle = ({ x, y }: Point) => (Math.atan2(forward * x, y) * 180) / Math.PI;
  const departure = velocityAt(motion, contact.when);
  return {
    bend: mixtureQuantile(parts, 0.5),
    standardError: mixtureMoments(parts).sd,
    low: mixtureQuantile(parts, tail),
    high: mixtureQuantile(parts, 1 - tail),
    departureAngle: angle(departure),
    arrivalAngle: angle(velocityAt(motion, last)),
    speedAfterCushion: Math.hypot(departure.x, departure.y),
    cushionAt: contact.at,
    contactTime: contact.when,
    pointsUsed: weights.filter((weight) => weight > 0).length,
    leftOut: times.flatMap((time, i) => (time < contact.when || (weights[i - from] ?? 0) > 0 ? [] : [i])),
    scatter: Math.sqrt(best.squares / df),
    path: Array.from({ length: SAMPLES + 1 }, (_, i) =>
      courseOf(motion)(contact.when + ((last - contact.when) * i) / SAMPLES),
    ),
  };
}
