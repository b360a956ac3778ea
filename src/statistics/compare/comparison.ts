/**
 * The levels of a category compared with each other or with one of them, in their means or in the effect of a number.
 */
import { adjustedMeans, middleSettings, type AdjustedMean } from "../fit/adjustedMeans";
import { dunnett, nearestLoadings } from "../distributions/dunnett";
import type { Estimate, FTest } from "../fit/estimates";
import type { Regression } from "../fit/regression";
import { studentisedRangeQuantile, studentisedRangeUpper } from "../distributions/studentisedRange";
import { termTests } from "../fit/wholeTerms";

/** A pair of levels. What the rows cannot give is null. */
export interface Pairing {
  readonly a: string;
  readonly b: string;
  /** Mean (or slope) of a less that of b. */
  readonly difference: number | null;
  readonly standardError: number | null;
  readonly df: number | null;
  /** Ends of the interval that holds for all pairs at once. */
  readonly low: number | null;
  readonly high: number | null;
  /** For all pairs at once. */
  readonly p: number | null;
  /** The interval lies within the margin on both sides of 0; null without a margin or an interval. */
  readonly equivalent: boolean | null;
}

export interface Comparison {
  readonly means: readonly AdjustedMean[];
  readonly pairs: readonly Pairing[];
}

/**
 * Adjusted means and differences, with intervals and p-values that hold for all of them together. Without a reference
 * all pairs, from the studentised range (Tukey; for unequal numbers of rows Kramer, Biometrics 12 (1956) 307–310,
 * proved conservative by Hayter, Annals of Statistics 12 (1984) 61–75). With one, every other level less the reference,
 * from Dunnett's distribution; exact where the levels alone make the fit, otherwise after Hsu (1992), see dunnett.ts.
 * Each difference uses the degrees of freedom of its own standard error.
 * @param category index of the category among the regression's drivers
 * @param margin largest difference that counts as none, in the response's unit
 * @param reference index of the level that the others are compared with
 * @throws RangeError when the driver is a number, the margin is not above 0, or there is no such level
 */
export function compare(regression: Regression, category: number, margin?: number, reference?: number): Comparison {
  const means = adjustedMeans(regression, category);
  const middle = middleSettings(regression);
  const at = (level: number) => middle.map((setting, j) => (j === category ? level : setting));
  const between = (a: number, b: number) => regression.difference(at(b), at(a));
  const size = (level: number) => Math.abs(means[level].estimate?.value ?? 0);
  return {
    means,
    pairs: pairings(
      means.map(({ level }) => level),
      between,
      size,
      regression.confidence,
      margin,
      reference,
    ),
  };
}

export interface SlopeComparison {
  /** Per level: change of the fitted mean per unit of the number. */
  readonly slopes: readonly {
    readonly level: string;
    readonly rows: number;
    readonly estimate: Estimate | undefined;
  }[];
  /** Differences of the slopes, simultaneous as those of the means. */
  readonly pairs: readonly Pairing[];
  /** Whether the slopes differ at all: the joint effect, given the rest. */
  readonly test: FTest;
}

/**
 * Does a number matter more at one level than at another?
 * @param regression a fit with the joint effect of the category and the number, the number a straight line
 * @param number index of the number among the regression's drivers
 * @throws RangeError when there is no such joint effect, or as compare does
 */
export function compareSlopes(
  regression: Regression,
  category: number,
  number: number,
  reference?: number,
): SlopeComparison {
  const { drivers, joint = [] } = regression.question;
  const pair = joint.find(([a, b]) => (a === category && b === number) || (a === number && b === category));
  const test =
    pair &&
    termTests(regression).find(({ drivers: of }) => of.length === 2 && of[0] === pair[0] && of[1] === pair[1])?.test;
  if (!test)
    throw new RangeError(`the fit has no joint effect of ${drivers[category].name} and ${drivers[number].name}`);
  const middle = middleSettings(regression);
  const x = middle[number] as number;
  // Steps as large as the rows' reach, so that a number such as a year loses no digits.
  const reach = Array.prototype.reduce.call(
    drivers[number].values,
    (most: unknown, value: unknown) => Math.max(most as number, Math.abs((value as number) - x)),
    0,
  ) as number;
  const step = reach > 0 ? reach : 1;
  const slope = (level: number, sign: number) =>
    [1, -1].map((end) => ({
      factor: (sign * end) / step,
      settings: middle.map((setting, j) =>
        j === category ? level : j === number ? (end === 1 ? x + step : x) : setting,
      ),
    }));
  const slopes = adjustedMeans(regression, category).map(({ level, rows }, index) => ({
    level,
    rows,
    estimate: regression.contrast(slope(index, 1)),
  }));
  const between = (a: number, b: number) => regression.contrast([...slope(a, 1), ...slope(b, -1)]);
  const size = (level: number) => Math.abs(slopes[level].estimate?.value ?? 0);
  return {
    slopes,
    pairs: pairings(
      slopes.map(({ level }) => level),
      between,
      size,
      regression.confidence,
      undefined,
      reference,
    ),
    test,
  };
}

/** Places of the pairs: all, or each with the reference. */
function pairsOf(count: number, reference: number | undefined): (readonly [number, number])[] {
  const all = Array.from({ length: count }, (_, level) => level);
  return all.flatMap((a) =>
    reference === undefined
      ? all.filter((b) => b > a).map((b) => [a, b] as const)
      : a === reference
        ? []
        : [[a, reference] as const],
  );
}

/** Degrees of freedom that differ in rounding alone share a quantile. */
function quantileByDf(quantile: (df: number) => number): (df: number) => number {
  const quantiles = new Map<string, number>();
  return (df) => {
    const key = df.toPrecision(10);
    let known = quantiles.get(key);
    if (known === undefined) quantiles.set(key, (known = quantile(df)));
    return known;
  };
}

/** All pairs, or all against the reference. `between` gives a less b, `size` what rounding is measured by. */
function pairings(
  levels: readonly string[],
  between: (a: number, b: number) => Estimate | undefined,
  size: (level: number) => number,
  confidence: number,
  margin: number | undefined,
  reference: number | undefined,
): Pairing[] {
  if (margin !== undefined && !(margin > 0)) throw new RangeError(`margin is ${margin}: it must be above 0`);
  if (reference !== undefined && !(reference in levels))
    throw new RangeError(`there is no level ${reference} to compare with`);
  const places = pairsOf(levels.length, reference);
  const found = places.map(([a, b]) => between(a, b));
  const distribution =
    reference === undefined
      ? range(levels.length)
      : againstReference(
          places.map(([a]) => a),
          found,
          between,
        );
  const quantile = quantileByDf((df) => distribution.quantile(confidence, df));
  return places.map(([first, second], index): Pairing => {
    const [a, b] = [levels[first], levels[second]];
    const one = found[index];
    if (!one || one.standardError === null || one.df === null)
      return {
        a,
        b,
        difference: one?.value ?? null,
        standardError: null,
        df: null,
        low: null,
        high: null,
        p: null,
        equivalent: null,
      };
    const { value: difference, standardError, df } = one;
    const half = quantile(df) * standardError;
    const [low, high] = [difference - half, difference + half];
    // Without any scatter a difference is either rounding or certain.
    const rounding = 1e-14 * Math.max(size(first), size(second));
    const errors =
      standardError === 0 ? (Math.abs(difference) <= rounding ? 0 : Infinity) : Math.abs(difference) / standardError;
    return {
      a,
      b,
      difference,
      standardError,
      df,
      low,
      high,
      p: distribution.upper(errors, df),
      equivalent: margin === undefined ? null : low > -margin && high < margin,
    };
  });
}

/** The largest of several differences in standard errors: its upper tail and quantile. */
interface Largest {
  upper(errors: number, df: number): number;
  quantile(confidence: number, df: number): number;
}

function range(count: number): Largest {
  return {
    upper: (errors, df) => studentisedRangeUpper(Math.SQRT2 * errors, count, df),
    quantile: (confidence, df) => studentisedRangeQuantile(confidence, count, df) / Math.SQRT2,
  };
}

/**
 * Differences from one reference go together because they share it; how much, their variances and those of their own
 * differences tell.
 */
function againstReference(
  levels: readonly number[],
  found: readonly (Estimate | undefined)[],
  between: (a: number, b: number) => Estimate | undefined,
): Largest {
  const judged = levels.flatMap((level, index) => {
    const error = found[index]?.standardError;
    return error ? [{ level, error }] : [];
  });
  if (judged.length === 0) return dunnett([0]);
  const correlations = judged.map((one) =>
    judged.map((other) => {
      if (one === other) return 1;
      const apart = between(one.level, other.level)?.standardError;
      // Where that cannot be judged, as if unrelated: the widest interval.
      return apart === null || apart === undefined
        ? 0
        : (one.error ** 2 + other.error ** 2 - apart ** 2) / (2 * one.error * other.error);
    }),
  );
  return dunnett(nearestLoadings(correlations));
}
