/**
 * How residuals would scatter about the line of normal scores if the fit's assumptions held, by simulation.
 */
import { influence } from "./influence";
import { normalScores } from "../distributions/normalScores";
import { randomOf } from "../numeric/drawer";
import { regress, type RegressionProblem } from "../fit/regression";

export interface EnvelopeQuestion {
  readonly question: RegressionProblem;
  /** A whole number: the same seed gives the same envelope. */
  readonly seed: number;
  /** How many sets of residuals are drawn; chosen by the number of rows unless said. */
  readonly draws?: number;
}

export interface Envelope {
  readonly draws: number;
  readonly seed: number;
  readonly confidence: number;
  /** Normal scores, ascending; some of the ranks where there are many. */
  readonly x: readonly number[];
  /** Between these all ranks together lie in the wanted share of the draws. */
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** Rows whose residual lies outside, by their index. */
  readonly outside: readonly number[];
  /** Rows that have a residual to judge. */
  readonly rows: number;
}

/** Values simulated in all, and the fewest draws that still give a tail. */
const BUDGET = 5_000_000;
const FEWEST = 199;
const MOST = 999;
/** More ranks than this are not drawn. */
const RANKS = 400;

/**
 * Draws normal scatter, takes out what the drivers can take up, puts the residuals into units of their standard errors
 * and in order, as the real ones are. The envelope lies so many standard deviations of each rank about its mean that a
 * whole set lies within it as often as the confidence says: simultaneous, by the largest deviation of each draw.
 * The idea of a simulated envelope is Atkinson's (Biometrika 68 (1981) 13–20). Draws are made twice from the same seed,
 * so that no draw need be kept.
 * @returns a task that yields the share done; the answer is undefined when there are fewer than 3 rows or degrees of
 * freedom
 */
export function* residualEnvelope({
  question,
  seed,
  draws: wanted,
}: EnvelopeQuestion): Generator<number, Envelope | undefined> {
  const regression = regress(question);
  const { fit, residual, confidence } = regression;
  const observed = influence(regression).flatMap(({ row, leverage, studentised }) =>
    studentised === null ? [] : [{ row, rest: 1 - leverage, studentised }],
  );
  const n = observed.length;
  if (n < 3 || residual.df < 3) return undefined;
  const draws = wanted ?? Math.min(MOST, Math.max(FEWEST, Math.floor(BUDGET / n)));
  const directions = fit.directions();
  const errors = new Float64Array(fit.rows);
  const sorted = new Float64Array(n);
  const draw = (normal: () => number) => {
    for (let row = 0; row < errors.length; row++) errors[row] = normal();
    let squares = 0;
    for (const direction of directions) {
      let along = 0;
      for (let row = 0; row < errors.length; row++) along += direction[row] * errors[row];
      for (let row = 0; row < errors.length; row++) errors[row] -= along * direction[row];
    }
    for (let row = 0; row < errors.length; row++) squares += errors[row] ** 2;
    for (let i = 0; i < n; i++) {
      const { row, rest } = observed[i];
      const e = errors[row];
      sorted[i] = e / Math.sqrt(((squares - (e * e) / rest) / (residual.df - 1)) * rest);
    }
    sorted.sort();
  };
  const mean = new Float64Array(n);
  const spread = new Float64Array(n);
  let random = randomOf(seed);
  for (let i = 0; i < draws; i++) {
    draw(random.normal);
    for (let rank = 0; rank < n; rank++) {
      const step = sorted[rank] - mean[rank];
      mean[rank] += step / (i + 1);
      spread[rank] += step * (sorted[rank] - mean[rank]);
    }
    yield i / draws / 2;
  }
  for (let rank = 0; rank < n; rank++) spread[rank] = Math.sqrt(spread[rank] / (draws - 1));
  random = randomOf(seed);
  const farthest = new Float64Array(draws);
  for (let i = 0; i < draws; i++) {
    draw(random.normal);
    for (let rank = 0; rank < n; rank++)
      farthest[i] = Math.max(farthest[i], Math.abs(sorted[rank] - mean[rank]) / spread[rank]);
    yield 0.5 + i / draws / 2;
  }
  farthest.sort();
  // The rank for which the real rows, as one more set, lie within as often as said.
  const reach = farthest[Math.min(draws - 1, Math.ceil(confidence * (draws + 1)) - 1)];
  const scores = normalScores(observed.map(({ studentised }) => studentised));
  const outside = scores.flatMap(({ value, row }, rank) =>
    Math.abs(value - mean[rank]) > reach * spread[rank] ? [observed[row].row] : [],
  );
  const shown = Math.min(n, RANKS);
  const ranks = Array.from({ length: shown }, (_, i) => Math.round((i * (n - 1)) / (shown - 1)));
  return {
    draws,
    seed,
    confidence,
    outside,
    rows: n,
    x: ranks.map((rank) => scores[rank].score),
    low: ranks.map((rank) => mean[rank] - reach * spread[rank]),
    high: ranks.map((rank) => mean[rank] + reach * spread[rank]),
  };
}
