/**
 * What a film tells of a shot: the ball's bend after the cushion with its interval, from a track of points.
 *
 * The slip's end is the one number that points seldom tell well, and the interval must know it. So the motion is fitted
 * for a grid of ends, each end counts by its likelihood with the other numbers integrated out (Laplace; the scatter's
 * variance exactly, which makes each a Student's t), and the interval is that of the mixture. All ends are as likely
 * beforehand, and a slip that lasts longer than the track counts as much as all shorter ones: coverage is in
 * docs/evidence.md. Corners that were clicked by hand widen every part (cornerError.ts).
 */
import type { Point } from "../../bank/pathClearance";
import { mixtureMoments, mixtureQuantile } from "../../statistics/distributions/studentMixture";
import { there } from "../../there";
import { bendParts, withOther } from "./bendParts";
import { firstAfterContact, wayOut } from "./contact";
import { cornersPart } from "./cornerError";
import type { SeenPoint } from "./fitMotion";
import { FEWEST_POINTS, goodFit, surpriseOf, type GoodFit } from "./goodFit";
import { bendOf, contactOf, courseOf, velocityAt } from "./motion";
import type { PicturedTable } from "./picturedTable";
import { TrackProblem } from "./trackProblem";
import { SAME, viewThrough } from "./view";

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
  /** What the corners alone make of the standard error, in; 0 for places on the table. */
  readonly cornersPart: number;
  /** Points after the way out: the ball came back, or met something else. */
  readonly afterwards: number;
  /** The path that fits best, from the contact to the last point seen, in in. */
  readonly path: readonly Point[];
}

/** Pieces in which the fitted path is told. */
const SAMPLES = 60;
/**
 * A first point seen sooner after the contact than this share of a frame may as well have been seen before it, or while
 * the ball lay against the nose: it is left aside.
 */
const TOUCHING = 0.15;
interface Asked {
  /** The table in the picture; without it the points are inches on the table. */
  readonly table?: PicturedTable;
  /** Distance of the ball's centre from the nose at the contact, in: the ball's radius. */
  readonly nearest: number;
  /** Of the interval. */
  readonly confidence: number;
}

/**
 * @param points in the order of time
 * @throws TrackProblem
 */
export function trackedShot(points: readonly SeenPoint[], asked: Asked): TrackedShot {
  const { table, nearest } = asked;
  const view = table ? viewThrough(table.map) : SAME;
  const places = points.map(({ seen }) => (table ? table.map.toTable(seen) : seen));
  const times = points.map(({ time }) => time);
  const first = firstAfterContact(times, places, nearest);
  if (first === undefined)
    throw new TrackProblem(
      "the ball never goes away from the banked rail: y, its distance from the nose, does not grow.",
    );
  const end = first + wayOut(times.slice(first), places.slice(first));
  const begun = settledFit(
    (from) => goodFit(points.slice(from, end), places.slice(from, end), view),
    { times, first, end },
    nearest,
  );
  if (!begun) throw new TrackProblem("fewer than eight points lie on one path: the track does not follow one ball.");
  return { ...told(begun, times.slice(0, end), asked), afterwards: times.length - end };
}

interface Begun {
  readonly good: GoodFit;
  /** Index of the first point after the contact. */
  readonly from: number;
}

/**
 * The fit from the point with which it explains itself best. The fitted motion knows better than a few points when the
 * ball touched; a first point that does not lie on the path may have been seen before it.
 */
function settledFit(
  fitFrom: (from: number) => GoodFit | undefined,
  { times, first, end }: { readonly times: readonly number[]; readonly first: number; readonly end: number },
  nearest: number,
): Begun | undefined {
  let from = first;
  const begun = fitFrom(from);
  if (!begun) return undefined;
  let good = begun;
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
  return { good, from };
}

function told(
  { good, from }: Begun,
  times: readonly number[],
  { table, nearest, confidence }: Asked,
): Omit<TrackedShot, "afterwards"> {
  const { best, weights, df } = good;
  const { motion } = best;
  const last = there(times.at(-1), "a last point");
  const contact = contactOf(motion, nearest);
  const forward = courseOf(motion)(last).x >= contact.at ? 1 : -1;
  const corners = table ? cornersPart(table, motion, { nearest, last, forward }) : 0;
  const parts = withOther(
    bendParts(good, (one) => bendOf(one, nearest, last, forward)),
    corners,
  );
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
    cornersPart: corners,
    path: Array.from({ length: SAMPLES + 1 }, (_, i) =>
      courseOf(motion)(contact.when + ((last - contact.when) * i) / SAMPLES),
    ),
  };
}
