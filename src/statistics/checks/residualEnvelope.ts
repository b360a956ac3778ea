/**
 * How residuals would scatter about the line of normal scores if the fit's assumptions held, by simulation.
 */
import { DrawnResiduals } from "./drawnResiduals";
import { influence } from "./influence";
import { normalScores } from "../distributions/normalScores";
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
 * Compares the residuals, in order, with sets drawn as they would be. The envelope lies so many standard deviations of
 * each rank about its mean that a whole set lies within it as often as the confidence says: simultaneous, by the
 * largest deviation of each draw. The idea of a simulated envelope is Atkinson's (Biometrika 68 (1981) 13–20).
 * @returns a task that yields the share done; the answer is undefined when there are fewer than 3 rows or degrees of
 * freedom
 */
export function* residualEnvelope({
  question,
  seed,
  draws: wanted,
}: EnvelopeQuestion): Generator<number, Envelope | undefined> {
  const regression = regress(question);
  const { residual, confidence } = regression;
  const judged = influence(regression).flatMap(({ row, leverage, studentised }) =>
    studentised === null ? [] : [{ row, rest: 1 - leverage, studentised }],
  );
  const n = judged.length;
  if (n < 3 || residual.df < 3) return undefined;
  const draws = wanted ?? Math.min(MOST, Math.max(FEWEST, Math.floor(BUDGET / n)));
  const drawn = new DrawnResiduals(regression, judged, draws, seed);
  const ranks = yield* scatterOfRanks(drawn);
  const farthest = yield* farthestOfDraws(drawn, ranks);
  // The rank for which the real rows, as one more set, lie within as often as said.
  const reach = farthest[Math.min(draws - 1, Math.ceil(confidence * (draws + 1)) - 1)];
  const scores = normalScores(judged.map(({ studentised }) => studentised));
  const outside = scores.flatMap(({ value, row }, rank) =>
    Math.abs(value - ranks.mean[rank]) > reach * ranks.spread[rank] ? [judged[row].row] : [],
  );
  const shown = shownRanks(n);
  return {
    draws,
    seed,
    confidence,
    outside,
    rows: n,
    x: shown.map((rank) => scores[rank].score),
    low: shown.map((rank) => ranks.mean[rank] - reach * ranks.spread[rank]),
    high: shown.map((rank) => ranks.mean[rank] + reach * ranks.spread[rank]),
  };
}

/** Mean and standard deviation of each rank over the draws. */
interface RankScatter {
  readonly mean: Float64Array;
  readonly spread: Float64Array;
}

/** The first half of the work. */
function* scatterOfRanks(drawn: DrawnResiduals): Generator<number, RankScatter> {
  const { draws, ranks } = drawn;
  const mean = new Float64Array(ranks);
  const spread = new Float64Array(ranks);
  let i = 0;
  for (const sorted of drawn) {
    for (let rank = 0; rank < ranks; rank++) {
      const step = sorted[rank] - mean[rank];
      mean[rank] += step / (i + 1);
      spread[rank] += step * (sorted[rank] - mean[rank]);
    }
    yield i++ / draws / 2;
  }
  for (let rank = 0; rank < ranks; rank++) spread[rank] = Math.sqrt(spread[rank] / (draws - 1));
  return { mean, spread };
}

/**
 * The other half: how many standard deviations off its mean the farthest rank of each draw lies.
 * @returns ascending
 */
function* farthestOfDraws(drawn: DrawnResiduals, { mean, spread }: RankScatter): Generator<number, Float64Array> {
  const { draws, ranks } = drawn;
  const farthest = new Float64Array(draws);
  let i = 0;
  for (const sorted of drawn) {
    for (let rank = 0; rank < ranks; rank++)
      farthest[i] = Math.max(farthest[i], Math.abs(sorted[rank] - mean[rank]) / spread[rank]);
    yield 0.5 + i++ / draws / 2;
  }
  return farthest.sort();
}

/** Of very many ranks as many as are drawn, evenly apart, the ends among them. */
function shownRanks(n: number): number[] {
  const shown = Math.min(n, RANKS);
  return Array.from({ length: shown }, (_, i) => Math.round((i * (n - 1)) / (shown - 1)));
}
