/**
 * What a film tells of a shot: the ball's bend after the cushion with its interval, from a track of points.
 *
 * The slip's end is the one number that points seldom tell well, and the interval must know it. So the motion is fitted
 * for a grid of ends, each end counts by its likelihood with the other numbers integrated out (Laplace; the scatter's
 * variance exactly, which makes each a Student's t), and the interval is that of the mixture. All ends are as likely
 * beforehand, and a slip that lasts longer than the track counts as much as all shorter ones: coverage is in
 * docs/evidence.md.
 */
import type { Point } from "../../bank/pathClearance";
import type { ProjectiveMap } from "../../bank/projective";
import { mixtureMoments, mixtureQuantile, type StudentPart } from "../../statistics/distributions/studentMixture";
import { extent } from "../../statistics/numeric/extent";
import { inner, timesVector } from "../../statistics/numeric/symmetric";
import { median } from "../../statistics/numeric/median";
import { firstAfterContact, wayOut } from "./contact";
import { firstMotion, type MotionFit, type SeenPoint, type View } from "./fitMotion";
import { distancesFromParabola } from "./goodPoints";
import { pointsOnPath } from "./onPath";
import { slipEnds, type SlipEnds } from "./slipEnds";
import { there } from "../../there";
import { AT, bendOf, changedMotion, placeAt, velocityAt, WHEN, type MotionParameters } from "./motion";

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
}

/** Why a track tells nothing. */
export class TrackProblem extends Error {}

/**
 * Fewest good points after the contact: two coordinates each, for seven numbers and something to judge the scatter by.
 */
export const FEWEST_POINTS = 8;
const NUMBERS = 7;
const STILL: View["show"] = (place) => place;

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
  const view: View = { show: map ? (place) => map.toPicture(place) : STILL, nearest };
  const places = points.map(({ seen }) => (map ? map.toTable(seen) : seen));
  const times = points.map(({ time }) => time);
  const first = firstAfterContact(times, places, nearest);
  if (first === undefined)
    throw new TrackProblem(
      "the ball never goes away from the banked rail: y, its distance from the nose, does not grow.",
    );
  const end = first + wayOut(times.slice(first), places.slice(first));
  let from = first;
  let good = goodFit(points.slice(from, end), places.slice(from, end), view);
  // The fitted motion knows better than a few points when the ball touched.
  for (let round = 0; round < 3; round++) {
    const when = good.best.motion[WHEN];
    const better = times.findIndex((time) => time >= when);
    if (better === from || better < 0 || end - better < FEWEST_POINTS) break;
    from = better;
    good = goodFit(points.slice(from, end), places.slice(from, end), view);
  }
  return told(good, there(times[end - 1], "a last point"), view, confidence, from);
}

interface Good {
  readonly best: MotionFit;
  readonly ends: SlipEnds;
  readonly weights: readonly number[];
  readonly df: number;
}

/** The motion that fits the points that lie on the path, and which they are. */
function goodFit(points: readonly SeenPoint[], places: readonly Point[], view: View): Good {
  if (points.length < FEWEST_POINTS)
    throw new TrackProblem(
      `${points.length} points after the cushion are too few: ${FEWEST_POINTS} are needed, and fifteen or more tell something.`,
    );
  const times = points.map(({ time }) => time);
  const rough = distancesFromParabola(times, places);
  const soft = rough.map((distance) => 1 / Math.sqrt(1 + distance / Math.max(median(rough), Number.MIN_VALUE)));
  const size = Math.hypot(span(points.map(({ seen }) => seen.x)), span(points.map(({ seen }) => seen.y)));
  let start: MotionParameters = firstMotion(times, places, soft, view.nearest);
  const found = pointsOnPath(
    rough,
    { size, coordinates: 2, numbers: NUMBERS, fewest: FEWEST_POINTS },
    (weights, variance, roughly) => {
      const ends = slipEnds({ points, weights, view, variance }, start, roughly);
      const best = ends.best();
      start = best.motion;
      return { fit: { best, ends }, distances: distancesOf(points, view, best) };
    },
  );
  if (!found) throw new TrackProblem("fewer than eight points lie on one path: the track does not follow one ball.");
  return { ...found.fit, weights: found.weights, df: 2 * found.used - NUMBERS };
}

function span(values: readonly number[]): number {
  const { low, high } = extent(values);
  return high - low;
}

function distancesOf(points: readonly SeenPoint[], view: View, { motion, slipping }: MotionFit): number[] {
  return points.map(({ time, seen }) => {
    const shown = view.show(placeAt(motion, slipping, view.nearest, time));
    return (shown.x - seen.x) ** 2 + (shown.y - seen.y) ** 2;
  });
}

/** Each end of the slip as a part of the mixture. */
function partsOf({ ends, df }: Good, bend: (motion: MotionParameters, slipping: number) => number): StudentPart[] {
  return ends.all(df).map(({ fit, weight }) => {
    const { motion, slipping, covariance, loss } = fit;
    const slopes = motion.map((value, j) => {
      const step = 1e-4 * Math.max(1, Math.abs(value));
      const other = (by: number) => changedMotion(motion, (one, k) => (k === j ? one + by : one));
      return (bend(other(step), slipping) - bend(other(-step), slipping)) / (2 * step);
    });
    const variance = inner(slopes, timesVector(covariance, slopes));
    return { weight, centre: bend(motion, slipping), scale: Math.sqrt(Math.max(0, variance) * (loss / df)), df };
  });
}

function told(good: Good, last: number, view: View, confidence: number, from: number): TrackedShot {
  const { best, weights, df } = good;
  const { motion, slipping } = best;
  const { nearest } = view;
  const to = placeAt(motion, slipping, nearest, last);
  const forward = to.x >= motion[AT] ? 1 : -1;
  const parts = partsOf(good, (one, end) => bendOf(one, end, nearest, last, forward));
  const tail = (1 - confidence) / 2;
  const angle = ({ x, y }: Point) => (Math.atan2(forward * x, y) * 180) / Math.PI;
  const departure = velocityAt(motion, slipping, motion[WHEN]);
  return {
    bend: mixtureQuantile(parts, 0.5),
    standardError: mixtureMoments(parts).sd,
    low: mixtureQuantile(parts, tail),
    high: mixtureQuantile(parts, 1 - tail),
    departureAngle: angle(departure),
    arrivalAngle: angle(velocityAt(motion, slipping, last)),
    speedAfterCushion: Math.hypot(departure.x, departure.y),
    cushionAt: motion[AT],
    contactTime: motion[WHEN],
    pointsUsed: weights.filter((weight) => weight > 0).length,
    leftOut: weights.flatMap((weight, i) => (weight > 0 ? [] : [from + i])),
    scatter: Math.sqrt(best.squares / df),
  };
}
