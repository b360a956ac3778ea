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
/** Parts less likely than this share of the likeliest change nothing that is told. */
const NEGLIGIBLE = 1e-7;

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
  const basisOf = new Map(knots.map((knot) => [knot, way.along.map((at) => basis(at, knot, terms))]));
  const straight = way.beside.map((value) => (value - median(way.beside)) ** 2);
  const found = pointsOnPath(
    straight,
    { size: way.range, coordinates: 1, numbers: terms, fewest: FEWEST_TRACK_POINTS },
    (weights, _variance, roughly) => {
      const tried = roughly ? knots.filter((_, i) => i % 4 === 0) : knots;
      const fits = tried.flatMap(
        (knot) => bentFit(way.beside, there(basisOf.get(knot), "a basis"), weights, knot) ?? [],
      );
      const best = fits.reduce((least, fit) => (fit.squares < least.squares ? fit : least));
      const powers = there(basisOf.get(best.knot), "a basis");
      const distances = way.beside.map((side, i) => (side - inner(there(powers[i], "powers"), best.coefficients)) ** 2);
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
function bentFit(
  besides: readonly number[],
  basis: readonly (readonly number[])[],
  weights: readonly number[],
  knot: number,
): BentFit | undefined {
  const rows = besides.flatMap((beside, i) => {
    const weight = there(weights[i], "a weight for every point");
    return weight > 0 ? [{ beside, powers: there(basis[i], "powers of every place"), weight }] : [];
  });
  const terms = there(basis[0], "a first place").length;
  const matrix = zeroMatrix(terms);
  const side = new Array<number>(terms).fill(0);
  for (const { powers, weight, beside } of rows) {
    addOuter(matrix, powers, weight);
    powers.forEach((power, j) => (side[j] = there(side[j], "a side") + weight * power * beside));
  }
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
  const parts = fits.map((fit) => {
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
  const most = Math.max(...parts.map(({ weight }) => weight));
  return parts.filter(({ weight }) => weight > NEGLIGIBLE * most);
}

/** Where from 0 to 1 the path is farthest from its chord: where it runs along it, or where the straight part begins. */
function farthest(fit: BentFit): number {
  const { knot, coefficients } = fit;
  const [first = 0, slope = 0, bent = 0, more = 0] = coefficients;
  const rise = slope - (pathAt(1, fit) - first);
  // rise + 2·bent·s + 3·more·s² = 0, both roots without cancelling.
  const half = bent + Math.sign(bent || 1) * Math.sqrt(Math.max(0, bent * bent - 3 * more * rise));
  const level = [-rise / half, -half / (3 * more)].filter((at) => at > 0 && at < knot);
  const distance = (at: number) => Math.abs(off(at, fit));
  return level.reduce((best, at) => (distance(at) > distance(best) ? at : best), knot);
}
