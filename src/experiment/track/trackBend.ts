/**
 * Bend of a ball's path from points without times: its largest distance from its own chord, with its standard error.
 *
 * Along the line of travel the sideways place is a cubic that goes over, with equal slope, into a straight line: a
 * parabola with room for the ball's slowing, then rolling. Where the straight part begins is seldom told well, and the
 * standard error must know it: every beginning counts by its likelihood, as in trackedShot.ts.
 */
import { mixtureMoments, mixtureQuantile, type StudentPart } from "../../statistics/distributions/studentMixture";
import { median } from "../../statistics/numeric/median";
import { addOuter, inner, invertDefinite, timesVector, zeroMatrix } from "../../statistics/numeric/symmetric";
import { there } from "../../there";
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
/** From this many points on the path may be cubic and go over into a straight line. */
const ROOM_FOR_STRAIGHT = 10;
/** Shares of the way at which the straight part is let begin; at 1 there is none. */
const BEGINNINGS = [1, ...Array.from({ length: 40 }, (_, i) => 0.99 - 0.02 * i)];
const TAIL = 0.025;

interface BentFit {
  readonly knot: number;
  readonly coefficients: readonly number[];
  readonly squares: number;
  readonly covariance: readonly (readonly number[])[];
  readonly logDeterminant: number;
}

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
  const terms = xs.length < ROOM_FOR_STRAIGHT ? 3 : 4;
  const knots = xs.length < ROOM_FOR_STRAIGHT ? [1] : BEGINNINGS;
  const straight = way.beside.map((value) => (value - median(way.beside)) ** 2);
  const found = pointsOnPath(
    straight,
    { size: way.range, coordinates: 1, numbers: terms, fewest: FEWEST_TRACK_POINTS },
    (weights, _variance, roughly) => {
      const tried = roughly ? knots.filter((_, i) => i % 4 === 0) : knots;
      const fits = tried.flatMap((knot) => bentFit(way, weights, knot, terms) ?? []);
      const best = fits.reduce((least, fit) => (fit.squares < least.squares ? fit : least));
      const distances = way.beside.map((side, i) => (side - pathAt(alongAt(way, i), best)) ** 2);
      return { fit: { best, fits }, distances };
    },
  );
  if (!found) return undefined;
  const { best, fits } = found.fit;
  const df = found.used - terms;
  const at = farthest(best);
  const side = off(at, best) > 0 ? 1 : -1;
  const parts = partsOf(fits, best, df, side, way.range);
  return {
    bend: Math.max(0, mixtureQuantile(parts, 0.5)),
    standardError: mixtureMoments(parts).sd,
    low: mixtureQuantile(parts, TAIL),
    high: mixtureQuantile(parts, 1 - TAIL),
    ...way.place(at, pathAt(at, best)),
    turns: side > 0 ? "right" : "left",
    leftOut: found.weights.flatMap((weight, i) => (weight === 0 ? [i] : [])),
  };
}

const alongAt = ({ along }: Turned, i: number) => there(along[i], "a place along the way for every point");

/** 1, s, s² and s³, the last two going on straight from the knot. */
function basis(s: number, knot: number, terms: number): number[] {
  const bent = Math.min(s, knot);
  const beyond = s - bent;
  return [1, s, bent * bent + 2 * bent * beyond, bent ** 3 + 3 * bent * bent * beyond].slice(0, terms);
}

function pathAt(at: number, { knot, coefficients }: BentFit): number {
  return inner(basis(at, knot, coefficients.length), coefficients);
}

/** Distance from the chord, square to the line of travel. */
function off(at: number, fit: BentFit): number {
  const first = pathAt(0, fit);
  return pathAt(at, fit) - first - (pathAt(1, fit) - first) * at;
}

/** Least squares for one beginning of the straight part; undefined where the points do not tell all of it. */
function bentFit(way: Turned, weights: readonly number[], knot: number, terms: number): BentFit | undefined {
  const matrix = zeroMatrix(terms);
  const rows = way.beside.map((beside, i) => ({
    beside,
    powers: basis(alongAt(way, i), knot, terms),
    weight: there(weights[i], "a weight for every point"),
  }));
  for (const { powers, weight } of rows) addOuter(matrix, powers, weight);
  const side = Array.from({ length: terms }, (_, j) =>
    rows.reduce((sum, { powers, weight, beside }) => sum + weight * there(powers[j], "a power") * beside, 0),
  );
  const solved = invertDefinite(matrix);
  if (!solved) return undefined;
  const coefficients = timesVector(solved.inverse, side);
  const squares = rows.reduce(
    (sum, { powers, weight, beside }) => sum + weight * (beside - inner(powers, coefficients)) ** 2,
    0,
  );
  return { knot, coefficients, squares, covariance: solved.inverse, logDeterminant: solved.logDeterminant };
}

function partsOf(fits: readonly BentFit[], best: BentFit, df: number, side: 1 | -1, range: number): StudentPart[] {
  const least = Math.max(best.squares, Number.MIN_VALUE);
  const others = fits.length - 1;
  return fits.map((fit) => {
    const { knot, coefficients, squares, covariance, logDeterminant } = fit;
    const at = farthest(fit);
    const cosine = range / Math.hypot(range, pathAt(1, fit) - pathAt(0, fit));
    const powersAt = (place: number) => basis(place, knot, coefficients.length);
    const [first, last] = [powersAt(0), powersAt(1)];
    const power = (powers: readonly number[], j: number) => there(powers[j], "a power of every place");
    const slopes = powersAt(at).map((value, j) => cosine * (value - (1 - at) * power(first, j) - at * power(last, j)));
    const likelihood =
      -0.5 * df * Math.log(Math.max(squares, Number.MIN_VALUE) / least) - 0.5 * (logDeterminant - best.logDeterminant);
    return {
      weight: Math.exp(likelihood) * (knot === 1 ? Math.max(1, others) : 1),
      centre: side * cosine * off(at, fit),
      scale: Math.sqrt((Math.max(0, inner(slopes, timesVector(covariance, slopes))) * squares) / df),
      df,
    };
  });
}

/** Where from 0 to 1 the path is farthest from its chord: a scan, then thirds. */
function farthest(fit: BentFit): number {
  const distance = (at: number) => Math.abs(off(at, fit));
  let best = 0;
  for (let i = 0; i <= 100; i++) if (distance(i / 100) > distance(best)) best = i / 100;
  let low = Math.max(0, best - 1 / 100);
  let high = Math.min(1, best + 1 / 100);
  for (let i = 0; i < 50; i++) {
    const a = low + (high - low) / 3;
    const b = high - (high - low) / 3;
    if (distance(a) < distance(b)) low = a;
    else high = b;
  }
  return 0.5 * (low + high);
}
