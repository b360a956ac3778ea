/** A fit whose rows do scatter, in groups too few or too small for any interval: its numbers alone. */
import type { Estimate, FTest, Term } from "./estimates";
import type { Regression } from "./regression";

/** The same term with nothing said of how sure it is. */
export function bareTerm(term: Term): Term {
  return { ...term, standardError: null, t: null, df: null, p: null, low: null, high: null };
}

/**
 * A test of so many coefficients that cannot be given.
 * @example untested(2) // { value: null, df1: 2, df2: null, p: null }
 */
export function untested(df1: number): FTest {
  return { value: null, df1, df2: null, p: null };
}

/** Terms as they may stand beside those of a fit that leads: without an interval where that one has none. */
export function noSurer(terms: readonly Term[], leading: readonly Term[] | undefined): readonly Term[] {
  const bare = new Set(leading?.flatMap(({ label, standardError }) => (standardError === null ? [label] : [])));
  return terms.map((term) => (bare.has(term.label) ? bareTerm(term) : term));
}

/**
 * The same estimates without standard errors, intervals and tests.
 * @example withoutIntervals(regress({ response: [1, 3, 5, 8], drivers: [] })).terms[0].low // null
 */
export function withoutIntervals(regression: Regression): Regression {
  const bare = (estimate: Estimate | undefined): Estimate | undefined =>
    estimate && { value: estimate.value, standardError: null, df: null, low: null, high: null };
  return {
    ...regression,
    terms: regression.terms.map(bareTerm),
    F: untested(regression.F.df1),
    residuals: regression.residuals,
    estimate: (settings) => bare(regression.estimate(settings)),
    difference: (from, to) => bare(regression.difference(from, to)),
    contrast: (parts) => bare(regression.contrast(parts)),
    test: (matches) => untested(regression.test(matches).df1),
  };
}
