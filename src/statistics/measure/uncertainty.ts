/**
 * Combining standard uncertainties, and what they say of a target.
 *
 * JCGM 100:2008, Guide to the expression of uncertainty in measurement (GUM): law of propagation for independent
 * inputs (5.1.2), Welch–Satterthwaite (G.4.1), expanded uncertainty (6.2, G.3). JCGM 106:2012 for the probability that
 * a limit is exceeded.
 */
import { studentQuantile, studentTwoSided } from "../distributions/distributions";

/** One input's contribution to the result, in the result's unit. */
export interface Contribution {
  /** Standard uncertainty times sensitivity; 0 or more. */
  readonly standard: number;
  /** Degrees of freedom; Infinity for a distribution taken as known (type B). */
  readonly df: number;
}

export interface CombinedUncertainty {
  readonly standard: number;
  /** Effective degrees of freedom; Infinity when every contribution is taken as known. */
  readonly df: number;
}

/**
 * Combines independent contributions.
 * @example combinedUncertainty([{ standard: 3, df: Infinity }, { standard: 4, df: Infinity }]).standard === 5
 */
export function combinedUncertainty(contributions: readonly Contribution[]): CombinedUncertainty {
  const variance = contributions.reduce((total, { standard }) => total + standard ** 2, 0);
  const rest = contributions.reduce((total, { standard, df }) => total + standard ** 4 / df, 0);
  return { standard: Math.sqrt(variance), df: rest > 0 ? variance ** 2 / rest : Infinity };
}

/**
 * The same for parts of which some rest on few readings. The formula of Welch and Satterthwaite counts degrees of
 * freedom by parts that are themselves estimated: where two readings happen to agree it takes the rest for all there
 * is, and the interval covers less than it says (0.87 of 0.95 with two readings that scatter by two divisions). So the
 * degrees of freedom are those with which Student's t times the standard uncertainty is the root of the sum of the
 * parts' own expanded uncertainties squared, at 0.95, which covers as it says (`npm run evidence -- readings`).
 * @example carefullyCombined([{ standard: 1, df: 3 }, { standard: 0, df: Infinity }]).df // 3
 */
export function carefullyCombined(contributions: readonly Contribution[]): CombinedUncertainty {
  const { standard, df } = combinedUncertainty(contributions);
  if (!Number.isFinite(df)) return { standard, df };
  const wide = Math.hypot(...contributions.map((one) => expandedUncertainty(one, 0.95)));
  // Between the fewest degrees of freedom of a part and endlessly many, by the reciprocal.
  let [few, many] = [1 / Math.min(...contributions.map((one) => one.df)), 1 / MANY];
  for (let i = 0; i < 60; i++) {
    const middle = (few + many) / 2;
    if (expandedUncertainty({ standard, df: 1 / middle }, 0.95) > wide) few = middle;
    else many = middle;
  }
  return { standard, df: 2 / (few + many) };
}

/**
 * Standard uncertainty of a quantity known to lie anywhere within ± halfWidth alike (GUM 4.3.7).
 * @example uniformUncertainty(3) // 1.7320508075688772
 */
export function uniformUncertainty(halfWidth: number): number {
  return halfWidth / Math.sqrt(3);
}

/**
 * Half-width of the interval that holds the value with the confidence: Student's t on the effective degrees of freedom,
 * not truncated.
 * @example expandedUncertainty({ standard: 1, df: Infinity }, 0.95) // 1.959963984540054
 */
export function expandedUncertainty({ standard, df }: CombinedUncertainty, confidence: number): number {
  return standard * studentQuantile(confidence, Math.min(df, MANY));
}

/** From here on Student's t and the normal agree to all digits that a double holds. */
const MANY = 1e12;

/**
 * Probability that the true value lies above a limit, given the estimate (JCGM 106, 7.2, with Student's t where the
 * degrees of freedom are few).
 * @example probabilityAbove(2, { standard: 1, df: Infinity }, 2) === 0.5
 */
export function probabilityAbove(estimate: number, { standard, df }: CombinedUncertainty, limit: number): number {
  if (standard === 0) return estimate > limit ? 1 : 0;
  const t = (estimate - limit) / standard;
  const tail = studentTwoSided(t, Math.min(df, MANY)) / 2;
  return t >= 0 ? 1 - tail : tail;
}

/**
 * Guard band: how far an estimate must lie beyond a limit so that the true value lies beyond it with the probability
 * (JCGM 106, 8.3, acceptance with a guard band; Student's t where the degrees of freedom are few).
 * @param probability above 0.5 and below 1
 * @example guardBand({ standard: 1, df: Infinity }, 0.975) // 1.959963984540054
 */
export function guardBand({ standard, df }: CombinedUncertainty, probability: number): number {
  return standard * studentQuantile(2 * probability - 1, Math.min(df, MANY));
}
