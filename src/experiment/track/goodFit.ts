/** The motion that fits a track best, and which of its points lie on the path. */
import type { Point } from "../../bank/pathClearance";
import { extent } from "../../statistics/numeric/extent";
import { there } from "../../there";
import { fitMotion, STILL, type MotionFit, type SeenPoint, type SituatedPoint, type View } from "./fitMotion";
import { distancesFromPath } from "./goodPoints";
import { courseOf, type TrackMotion } from "./motion";
import { pointsOnPath } from "./onPath";
import { slipEnds, type SlipEnds } from "./slipEnds";
import { TrackProblem } from "./trackProblem";
import { SAME } from "./view";

/**
 * Fewest good points after the contact: two coordinates each, for seven numbers and something to judge the scatter by.
 */
export const FEWEST_POINTS = 8;
export const NUMBERS = 7;

/**
 * How badly a fit explains its points, on average: what a point on the path costs by the scatter, and one off it by the
 * track's own extent (negative logarithm of the likelihood, a tenth of the points being anywhere).
 */
export function surpriseOf({ best, weights, df, size }: GoodFit): number {
  const used = weights.filter((weight) => weight > 0).length;
  const variance = Math.max(best.squares / df, (1e-6 * size) ** 2);
  return (used * Math.log(2 * Math.PI * variance) + (weights.length - used) * Math.log(size * size)) / weights.length;
}

export interface GoodFit {
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
export function goodFit(points: readonly SeenPoint[], places: readonly Point[], view: View): GoodFit | undefined {
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
