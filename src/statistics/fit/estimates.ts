/** What a fit tells: coefficients, estimates with their intervals, tests. Parts that the rows cannot give are null. */

/** One coefficient. Parts that the rows cannot give are null. */
export interface Term {
  readonly label: string;
  readonly drivers: readonly number[];
  readonly estimate: number | null;
  readonly standardError: number | null;
  readonly t: number | null;
  /** Degrees of freedom of t: rows less coefficients, or fewer where rows go together. */
  readonly df: number | null;
  readonly p: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

export interface FTest {
  readonly value: number | null;
  readonly df1: number;
  /** Null where there is no test. */
  readonly df2: number | null;
  readonly p: number | null;
}

/** An estimate with its standard error and interval; null where no spread can be judged. */
export interface Estimate {
  readonly value: number;
  readonly standardError: number | null;
  /** Degrees of freedom of the standard error. */
  readonly df: number | null;
  readonly low: number | null;
  readonly high: number | null;
}
