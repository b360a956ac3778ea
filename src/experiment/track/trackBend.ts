/**
 * Bend of a ball's path from points without times: its largest distance from its own chord, with its standard error.
 *
 * The path is a parabola that goes over, with equal slope, into a straight line (bentPath.ts). Where the straight part
 * begins is seldom told well, and the standard error must know it: every beginning counts by its likelihood, as in
 * trackedShot.ts. The chord runs from the first to the last point that lies on the path.
 */
import { mixtureMoments, mixtureQuantile } from "../../statistics/distributions/studentMixture";
import { median } from "../../statistics/numeric/median";
import { inner, timesVector } from "../../statistics/numeric/symmetric";
import { there } from "../../there";
import { besideAt, fitBentPath, type BentFit, type BentNumbers } from "./bentPath";
import { allPaths, bestPath, type FitAt, type WeighedPath } from "./straightPart";
import { logEvidence, overBadPoints, type LoggedPart } from "./badPoints";
import { distancesFromPath } from "./goodPoints";
import { pointsOnPath } from "./onPath";

export interface TrackBend {
  /** In the unit of the points, 0 or more. */
  readonly bend: number;
  readonly standardError: number;
  /** Ends of the 95 % interval; the lower one may be below 0, for a path that may turn the other way. */
  readonly low: number;
  readonly high: number;
  /** Fitted path where it is farthest from its chord. */
  readonly x: number;
  readonly y: number;
  /** Which way the path turns, seen along the travel with y to the left of x. */
  readonly turns: "left" | "right";
  /** Indices of the points that lie off the path. */
  readonly leftOut: readonly number[];
}

/** Fewest points that leave something to judge the spread by. */
export const FEWEST_TRACK_POINTS = 6;
/** From this many points on the ball may slow on its way, and the path go over into a straight line. */
const ROOM_FOR_STRAIGHT = 10;
const TAIL = 0.025;
/** Natural logarithm of the share below which a part changes nothing that is told. */
const NEGLIGIBLE = -16;

/** The points seen along and beside the way that they go. */
interface Turned {
  /** 0 at the first place, 1 at the last. */
  readonly along: readonly number[];
  readonly beside: readonly number[];
  readonly range: number;
  place(along: number, beside: number): { readonly x: number; readonly y: number };
}

function turned(xs: readonly number[], ys: readonly number[]): Turned | undefined {
  const third = Math.max(1, Math.floor(xs.length / 3));
  const from = { x: median(xs.slice(0, third)), y: median(ys.slice(0, third)) };
  const to = { x: median(xs.slice(-third)), y: median(ys.slice(-third)) };
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (!(length > 0)) return undefined;
  const dx = (to.x - from.x) / length;
  const dy = (to.y - from.y) / length;
  const points = xs.map((x, i) => ({ x, y: there(ys[i], "a y for every x") }));
  const along = points.map(({ x, y }) => (x - from.x) * dx + (y - from.y) * dy);
  const beside = points.map(({ x, y }) => (y - from.y) * dx - (x - from.x) * dy);
  const start = Math.min(...along);
  const range = Math.max(...along) - start;
  return {
    along: along.map((value) => (value - start) / range),
    beside,
    range,
    place: (at, side) => ({
      x: from.x + (start + at * range) * dx - side * dy,
      y: from.y + (start + at * range) * dy + side * dx,
    }),
  };
}

/**
 * @param xs points in the order of travel, at least 6
 * @returns undefined when the points do not travel, or fewer than 6 lie on one path
 */
export function trackBend(xs: readonly number[], ys: readonly number[]): TrackBend | undefined {
  const way = turned(xs, ys);
  if (!way) return undefined;
  const free = xs.length >= ROOM_FOR_STRAIGHT;
  const terms = free ? 4 : 3;
  const rough = distancesFromPath(
    way.along,
    way.beside.map((beside) => ({ x: beside, y: 0 })),
  );
  let start: BentNumbers = [median(way.beside), 0, 0, 0];
  let scatter = 0;
  const pointsWith = (weights: readonly number[]) =>
    way.along.flatMap((along, i) => {
      const weight = there(weights[i], "a weight for every point");
      return weight > 0 ? [{ along, beside: besideOf(way, i), weight }] : [];
    });
  const fitsWith = (weights: readonly number[], variance: number): FitAt => {
    const points = pointsWith(weights);
    return (knot, near) => fitBentPath(points, knot, near?.numbers ?? start, variance, free);
  };
  const found = pointsOnPath(
    rough,
    { size: way.range, coordinates: 1, numbers: terms, fewest: FEWEST_TRACK_POINTS },
    (weights, variance, roughly) => {
      const best = bestPath(fitsWith(weights, variance), free, roughly);
      start = best.numbers;
      scatter = variance;
      return { fit: best, distances: way.along.map((at, i) => (besideOf(way, i) - besideAt(best, at)) ** 2) };
    },
  );
  if (!found) return undefined;
  const best = found.fit;
  const chord = chordOf(way, found.weights);
  const dfOf = (some: readonly number[]) => some.filter((weight) => weight > 0).length - terms;
  const at = farthest(best, chord);
  const side = offChord(best, chord, at) > 0 ? 1 : -1;
  const parts = overBadPoints(
    { weights: found.weights, size: way.range, coordinates: 1, fewest: FEWEST_TRACK_POINTS },
    (some) => {
      const fit = fitsWith(some, scatter)(best.knot, best);
      return fit && logEvidence(fit, dfOf(some));
    },
    // A point put in or left out at an end moves the chord, and with it what is asked.
    (some) =>
      partsOf(allPaths(fitsWith(some, scatter), free, dfOf(some)), chordOf(way, some), {
        df: dfOf(some),
        side,
        range: way.range,
      }),
  );
  return {
    bend: Math.max(0, mixtureQuantile(parts, 0.5)),
    standardError: mixtureMoments(parts).sd,
    low: mixtureQuantile(parts, TAIL),
    high: mixtureQuantile(parts, 1 - TAIL),
    ...way.place(at, besideAt(best, at)),
    turns: side > 0 ? "right" : "left",
    leftOut: found.weights.flatMap((weight, i) => (weight === 0 ? [i] : [])),
  };
}

const besideOf = ({ beside }: Turned, i: number) => there(beside[i], "a sideways place for every point");

/** Its ends, along the way. */
interface Chord {
  readonly from: number;
  readonly to: number;
}

/** From the first to the last of the points that count. */
function chordOf({ along }: Turned, weights: readonly number[]): Chord {
  const used = along.filter((_, i) => there(weights[i], "a weight for every point") > 0);
  return { from: Math.min(...used), to: Math.max(...used) };
}

/** Distance from the chord, square to the line of travel. */
function offChord(fit: Pick<BentFit, "numbers" | "knot">, { from, to }: Chord, at: number): number {
  const [first, last] = [besideAt(fit, from), besideAt(fit, to)];
  return besideAt(fit, at) - first - ((last - first) * (at - from)) / (to - from);
}

/** Where the path is farthest from its chord: where it runs along it, on the parabola; else where that ends. */
function farthest({ numbers, knot }: Pick<BentFit, "numbers" | "knot">, chord: Chord): number {
  const [, c1, c2, slowing] = numbers;
  const fit = { numbers, knot };
  const slope = (besideAt(fit, chord.to) - besideAt(fit, chord.from)) / (chord.to - chord.from);
  // At time t the path goes sideways by c₁ + 2c₂t, along by 1 − slowing · t.
  const time = (slope - c1) / (2 * c2 + slowing * slope);
  const at = time - 0.5 * slowing * time * time;
  const end = Math.min(knot, chord.to);
  return at > chord.from && at < end ? at : end;
}

const STEP = 1e-5;

function partsOf(
  weighed: readonly WeighedPath[],
  chord: Chord,
  { df, side, range }: { df: number; side: 1 | -1; range: number },
): LoggedPart[] {
  const most = Math.max(...weighed.map(({ log }) => log));
  return weighed
    .filter(({ log }) => log > most + NEGLIGIBLE)
    .map(({ fit, log }) => {
      const at = farthest(fit, chord);
      const rise = besideAt(fit, chord.to) - besideAt(fit, chord.from);
      const cosine = 1 / Math.hypot(1, rise / ((chord.to - chord.from) * range));
      const slopes = fit.numbers.map((_, j) => {
        const moved = (by: number): Pick<BentFit, "numbers" | "knot"> => {
          const [a, b, c, d] = fit.numbers.map((value, k) => (k === j ? value + by : value));
          return { knot: fit.knot, numbers: [a ?? 0, b ?? 0, c ?? 0, d ?? 0] };
        };
        return (cosine * (offChord(moved(STEP), chord, at) - offChord(moved(-STEP), chord, at))) / (2 * STEP);
      });
      return {
        log,
        centre: side * cosine * offChord(fit, chord, at),
        scale: Math.sqrt((Math.max(0, inner(slopes, timesVector(fit.covariance, slopes))) * fit.loss) / df),
        df,
      };
    });
}
