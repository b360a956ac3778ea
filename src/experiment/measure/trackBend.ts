/**
 * Bend of a ball's path seen on video: a smooth path through noisy points, robust to bad ones, and its largest distance
 * from its own chord.
 *
 * Along the line of travel the sideways place is a cubic that goes over, with equal slope, into a straight line: a
 * parabola with a little room for the ball's slowing, then rolling. Where the straight part begins is chosen among five
 * places by the residual spread. Fitted by iterated weights, Huber's first and Tukey's bisquare after (Huber & Ronchetti,
 * Robust Statistics, 2009), with the spread from the median absolute residual; the standard error is the law of
 * propagation on the fitted coefficients.
 */
import { exactColumn } from "../../statistics/numeric/doubleDouble";
import { leastSquares, type LeastSquares } from "../../statistics/fit/leastSquares";
import { median } from "../../statistics/numeric/median";

export interface TrackBend {
  /** In the unit of the points, 0 or more. */
  readonly bend: number;
  readonly standardError: number;
  /** Fitted path where it is farthest from its chord. */
  readonly x: number;
  readonly y: number;
  /** Which way the path turns, seen along the travel with y to the left of x. */
  readonly turns: "left" | "right";
  /** Indices of the points that got no weight. */
  readonly leftOut: readonly number[];
}

/** Fewest points that leave something to judge the spread by. */
export const FEWEST_TRACK_POINTS = 6;
/** From this many points on the path may be cubic and go over into a straight line. */
const ROOM_FOR_STRAIGHT = 10;
const STRAIGHT_FROM = [1, 0.85, 0.7, 0.55, 0.4];
/** A straight part must lower the residual spread by this much to be taken up. */
const WORTHWHILE = 0.95;

/**
 * @param xs points in the order of travel, at least 6
 * @returns undefined when the points do not travel
 */
export function trackBend(xs: readonly number[], ys: readonly number[]): TrackBend | undefined {
  const n = xs.length;
  const third = Math.max(1, Math.floor(n / 3));
  const from = { x: median(xs.slice(0, third)), y: median(ys.slice(0, third)) };
  const to = { x: median(xs.slice(-third)), y: median(ys.slice(-third)) };
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (!(length > 0)) return undefined;
  const dx = (to.x - from.x) / length;
  const dy = (to.y - from.y) / length;
  const along = xs.map((x, i) => (x - from.x) * dx + (ys[i] - from.y) * dy);
  const beside = xs.map((x, i) => (ys[i] - from.y) * dx - (x - from.x) * dy);
  const start = Math.min(...along);
  const range = Math.max(...along) - start;
  const s = along.map((value) => (value - start) / range);

  let best: Fit | undefined;
  for (const knot of n < ROOM_FOR_STRAIGHT ? [1] : STRAIGHT_FROM) {
    const fit = robustFit(s, beside, knot, n < ROOM_FOR_STRAIGHT ? 3 : 4);
    if (!best || fit.spread < WORTHWHILE * best.spread) best = fit;
  }
  const { knot, terms, coefficients, spread, weights } = best!;
  const path = (at: number) => basis(at, knot, terms).reduce((sum, term, j) => sum + term * coefficients[j], 0);
  const first = path(0);
  const rise = path(1) - first;
  const off = (at: number) => path(at) - first - rise * at;
  const at = farthest(off);
  const cosine = range / Math.hypot(range, rise);

  // The bend is a combination of the coefficients, and of the knot where there is one.
  const gap = (term: (at: number) => number) => cosine * (term(at) - (1 - at) * term(0) - at * term(1));
  const combination = coefficients.map((_, j) => gap((place) => basis(place, knot, terms)[j]));
  const columns = coefficients.map((_, j) => s.map((place) => basis(place, knot, terms)[j]));
  if (knot < 1) {
    const shift = (place: number) =>
      (pathAt(place, knot + 1e-5, coefficients) - pathAt(place, knot - 1e-5, coefficients)) / 2e-5;
    combination.push(gap(shift));
    columns.push(s.map(shift));
  }
  const solved = weighted(columns, beside, weights);
  const factor = solved.combine(combination.map((value) => [value, 0]))?.errorFactor ?? NaN;
  const place = start + at * range;
  const side = path(at);
  return {
    bend: Math.abs(off(at)) * cosine,
    standardError: factor * spread,
    x: from.x + place * dx - side * dy,
    y: from.y + place * dy + side * dx,
    turns: off(at) > 0 ? "right" : "left",
    leftOut: weights.flatMap((weight, i) => (weight === 0 ? [i] : [])),
  };
}

interface Fit {
  readonly knot: number;
  readonly terms: number;
  readonly coefficients: readonly number[];
  readonly weights: readonly number[];
  readonly spread: number;
}

/** 1, s, s² and s³, the last two going on straight from the knot. */
function basis(s: number, knot: number, terms: number): number[] {
  const bent = Math.min(s, knot);
  const beyond = s - bent;
  return [1, s, bent * bent + 2 * bent * beyond, bent ** 3 + 3 * bent * bent * beyond].slice(0, terms);
}

function pathAt(s: number, knot: number, coefficients: readonly number[]): number {
  return basis(s, knot, coefficients.length).reduce((sum, term, j) => sum + term * coefficients[j], 0);
}

function weighted(
  columns: readonly (readonly number[])[],
  response: readonly number[],
  weights: readonly number[],
): LeastSquares {
  const roots = weights.map(Math.sqrt);
  return leastSquares(
    columns.map((column) => exactColumn(column.map((value, i) => value * roots[i]))),
    exactColumn(response.map((value, i) => value * roots[i])),
  );
}

const HUBER = 1.345;
const BISQUARE = 4.685;
const ROUNDS = 12;

function robustFit(s: readonly number[], beside: readonly number[], knot: number, terms: number): Fit {
  const columns = Array.from({ length: terms }, (_, j) => s.map((place) => basis(place, knot, terms)[j]));
  let weights: number[] = s.map(() => 1);
  let coefficients: number[] = [];
  let residuals: number[] = [];
  for (let round = 0; round <= 2 * ROUNDS; round++) {
    const fit = weighted(columns, beside, weights);
    coefficients = columns.map((_, j) => (fit.kept.includes(j) ? fit.coefficients[fit.kept.indexOf(j)][0] : 0));
    residuals = s.map((place, i) => beside[i] - pathAt(place, knot, coefficients));
    if (round === 2 * ROUNDS) break;
    const scale = median(residuals.map(Math.abs)) / 0.6745;
    if (!(scale > 1e-14 * Math.max(...beside.map(Math.abs)))) {
      // More than half of the points lie on the path exactly: the rest are bad.
      weights = residuals.map((residual) => (Math.abs(residual) <= 1e-9 * Math.max(...beside.map(Math.abs)) ? 1 : 0));
      continue;
    }
    const next = residuals.map((residual) => {
      const size = Math.abs(residual) / scale;
      if (round < ROUNDS) return size <= HUBER ? 1 : HUBER / size;
      return size >= BISQUARE ? 0 : (1 - (size / BISQUARE) ** 2) ** 2;
    });
    // A path needs more points than coefficients; with fewer left, stay with the weights that had them.
    if (next.filter((weight) => weight > 0).length <= terms) break;
    weights = next;
  }
  const count = weights.reduce((sum, weight) => sum + weight, 0);
  const squares = residuals.reduce((sum, residual, i) => sum + weights[i] * residual * residual, 0);
  return { knot, terms, coefficients, weights, spread: Math.sqrt(squares / Math.max(count - terms, 1)) };
}

/** Where from 0 to 1 a smooth function with ends at zero is farthest from it: a scan, then thirds. */
function farthest(off: (at: number) => number): number {
  let best = 0;
  for (let i = 0; i <= 200; i++) if (Math.abs(off(i / 200)) > Math.abs(off(best))) best = i / 200;
  let low = Math.max(0, best - 1 / 200);
  let high = Math.min(1, best + 1 / 200);
  for (let i = 0; i < 60; i++) {
    const a = low + (high - low) / 3;
    const b = high - (high - low) / 3;
    if (Math.abs(off(a)) < Math.abs(off(b))) low = a;
    else high = b;
  }
  return 0.5 * (low + high);
}
