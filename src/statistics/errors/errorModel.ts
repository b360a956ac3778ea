/**
 * How the rows of a fit scatter, and what that makes of the standard errors.
 *
 * Everything is expressed along the orthonormal directions of the fit (see leastSquares.ts), where the plain covariance
 * is the unit matrix times the residual variance; so the hard part of an ill-conditioned design is left behind.
 */

/** Which rows belong together: `groups` index into `levels`. */
export interface Grouping {
  readonly name: string;
  readonly groups: ArrayLike<number>;
  readonly levels: readonly string[];
}

/** The rows of each level, ascending; an empty list for a level without rows. */
export function membersOf({ groups, levels }: Grouping): number[][] {
  const members = levels.map((): number[] => []);
  for (let row = 0; row < groups.length; row++) members[groups[row]].push(row);
  return members;
}

/** What is assumed of the scatter about the fit; left out, every row scatters alike and apart from the others. */
export type ErrorModel =
  /** Each row may scatter by its own amount. */
  | { readonly kind: "robust" }
  /** Rows of one group may go together in any way. */
  | { readonly kind: "cluster"; readonly by: Grouping }
  /** Each group is shifted as a whole by a random amount. */
  | { readonly kind: "random"; readonly by: Grouping };

/** Covariance of the estimates along the directions, and what it can be trusted for. */
export interface Uncertainty {
  /** To be added to the least squares projections on the directions; absent when the estimates stay. */
  readonly shift?: readonly number[];
  /** Variance of Σ along·projection; undefined where the rows cannot give it. */
  variance(along: readonly number[]): number | undefined;
  /** Degrees of freedom of that variance. */
  df(along: readonly number[]): number;
  /** Tests that several combinations, with these values, are all zero. */
  joint(
    along: readonly (readonly number[])[],
    values: readonly number[],
  ): { readonly value: number; readonly df2: number } | undefined;
  /** Standard deviations, where the model has more than one. */
  readonly spread?: { readonly between: number; readonly within: number };
  /**
   * How far a group that is not among the rows may lie off, no less than groups differ: the root of the mean square of
   * the groups' own means, and its degrees of freedom. The estimate of what is between them alone is 0 too often.
   */
  readonly newGroup?: { readonly standard: number; readonly df: number };
  /** Intervals of those standard deviations; undefined where the rows cannot give them. */
  spreadIntervals?(confidence: number): SpreadIntervals | undefined;
}

export interface SpreadIntervals {
  readonly between: { readonly low: number; readonly high: number };
  readonly within: { readonly low: number; readonly high: number };
}

/** The fit as far as an error model needs it. */
export interface Scatter {
  readonly directions: readonly Float64Array[];
  /** Residuals of the least squares fit. */
  readonly residuals: Float64Array;
  /** Rows less coefficients. */
  readonly df: number;
}
