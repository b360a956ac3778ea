/** How well repeated readings of one thing agree. */
import { chiSquareQuantile, fisherQuantile, fisherUpper } from "../distributions/distributions";
import { regress } from "../fit/regression";
import type { Estimate, FTest } from "../fit/estimates";
import type { Interval } from "./spread";

export interface Repeatability {
  /** Things that were read, and readings of each. */
  readonly things: number;
  readonly times: number;
  /** Standard deviation of single readings of one thing. */
  readonly sd: number;
  readonly sdInterval: Interval;
  readonly df: number;
  /** Two readings of one thing differ by more than this one time in twenty. */
  readonly limit: number;
  /** Standard deviation of the things' true values; 0 where they differ by no more than the readings make them. */
  readonly between: number;
  /** Variance of repeating over that of single readings of different things, 0 to 1; null when nothing differs. */
  readonly share: number | null;
  readonly shareInterval: Interval | undefined;
  /** Mean of each later reading less the first, over the things. */
  readonly shifts: readonly Estimate[];
  /** Whether the readings' means differ at all, given the things. */
  readonly shiftTest: FTest;
}

/**
 * One-way random effects, balanced: each thing has a true value, each reading an error of its own. Its standard
 * deviation has the chi-square interval, the share of the variance the exact one from F (Searle, Casella & McCulloch,
 * Variance Components (1992), section 3.5; Shrout & Fleiss, Psychological Bulletin 86 (1979) 420–428, their first case,
 * whose correlation is one less the share). The squares are taken within things, so a large common level costs no
 * digits.
 * @param readings one list per thing, all equally long; at least two things and two readings of each, any one unit
 * @throws RangeError when there are too few, the lists differ in length or a reading is not finite
 * @example repeatability([[1, 2], [3, 4], [5, 6]], 0.95).sd // Math.SQRT1_2
 */
export function repeatability(readings: readonly (readonly number[])[], confidence: number): Repeatability {
  const things = readings.length;
  if (things < 2) throw new RangeError(`${things} things are measured more than once: at least 2 are needed`);
  const times = readings[0].length;
  if (times < 2) throw new RangeError("each thing is measured once: at least 2 readings of each are needed");
  if (readings.some((one) => one.length !== times))
    throw new RangeError("the things are not all measured equally often");
  if (!readings.every((one) => one.every(Number.isFinite))) throw new RangeError("a reading is no finite number");
  const means = readings.map((one) => one.reduce((total, value) => total + (value - one[0]) / times, one[0]));
  const df = things * (times - 1);
  const squares = readings.reduce(
    (total, one, i) => total + one.reduce((sum, value) => sum + (value - means[i]) ** 2, 0),
    0,
  );
  const meanSquare = squares / df;
  const centre = means.reduce((total, mean) => total + (mean - means[0]) / things, means[0]);
  const betweenSquare = (times * means.reduce((total, mean) => total + (mean - centre) ** 2, 0)) / (things - 1);
  const tail = (1 - confidence) / 2;
  const sd = Math.sqrt(meanSquare);
  const shareAt = (F: number) => Math.min(1, times / (F + times - 1));
  const ratio = betweenSquare / meanSquare;
  const differs = squares > 0 || betweenSquare > 0;
  return {
    things,
    times,
    sd,
    sdInterval: {
      low: Math.sqrt(squares / chiSquareQuantile(1 - tail, df)),
      high: Math.sqrt(squares / chiSquareQuantile(tail, df)),
    },
    df,
    limit: Math.SQRT2 * 1.959963984540054 * sd,
    between: Math.sqrt(Math.max(0, (betweenSquare - meanSquare) / times)),
    share: differs ? (squares > 0 ? shareAt(ratio) : 0) : null,
    shareInterval:
      squares > 0
        ? {
            low: shareAt(ratio / fisherQuantile(tail, things - 1, df)),
            high: shareAt(ratio / fisherQuantile(1 - tail, things - 1, df)),
          }
        : undefined,
    shifts: shiftsOf(readings, confidence),
    shiftTest: shiftTestOf(readings, means, squares),
  };
}

/** Each later reading less the first, thing by thing, so that each shift has the scatter of its own differences. */
function shiftsOf(readings: readonly (readonly number[])[], confidence: number): Estimate[] {
  return readings[0].slice(1).map((_, j): Estimate => {
    const { estimate, standardError, df, low, high } = regress({
      response: readings.map((one) => one[j + 1] - one[0]),
      drivers: [],
      confidence,
    }).terms[0];
    return { value: estimate ?? 0, standardError, df, low, high };
  });
}

/** Analysis of variance of the readings' order, the things taken out. @param means of the things */
function shiftTestOf(readings: readonly (readonly number[])[], means: readonly number[], squares: number): FTest {
  const [things, times] = [readings.length, readings[0].length];
  const df2 = (things - 1) * (times - 1);
  const columns = readings[0].map((_, j) =>
    readings.reduce((total, one, i) => total + (one[j] - means[i]) / things, 0),
  );
  const added = things * columns.reduce((total, value) => total + value * value, 0);
  const left = Math.max(0, squares - added);
  if (!(left > 1e-24 * squares)) return { value: null, df1: times - 1, df2, p: null };
  const value = added / (times - 1) / (left / df2);
  return { value, df1: times - 1, df2, p: fisherUpper(value, times - 1, df2) };
}
