/** Success rate and its interval. */
import { betaQuantile, chiSquareQuantile, normalQuantile } from "../distributions/distributions";

export interface ProportionEstimate {
  readonly rate: number;
  readonly low: number;
  readonly high: number;
}

/** The method, as the user reads it. */
export const PROPORTION_METHOD = "Clopper–Pearson (exact)";

/**
 * Rate of successes with the exact interval of Clopper & Pearson, "The use of confidence or fiducial limits",
 * Biometrika 26 (1934) 404–413. It covers at least as often as it says, whatever the true rate.
 * @param successes whole number, 0 to tries
 * @param tries whole number, at least 1
 * @example proportion(7, 10, 0.95) // { rate: 0.7, low: 0.34754714994, high: 0.93326048882 }
 */
export function proportion(successes: number, tries: number, confidence: number): ProportionEstimate {
  const tail = (1 - confidence) / 2;
  if (tries > EXACT_TO) return ofManyTries(successes, tries, tail);
  return {
    rate: successes / tries,
    low: successes === 0 ? 0 : betaQuantile(tail, successes, tries - successes + 1),
    high: successes === tries ? 1 : 1 - betaQuantile(tail, tries - successes, successes + 1),
  };
}

/** Beyond so many tries the quantiles of the beta distribution are their limits to ten digits, and can be had. */
const EXACT_TO = 1e10;
/** Beyond so many successes a count scatters as a normal distribution does, to the last digits of its interval. */
const FEW = 1e5;

/** The same interval where counts of successes scatter as Poisson's law says, or as the normal distribution. */
function ofManyTries(successes: number, tries: number, tail: number): ProportionEstimate {
  const rate = successes / tries;
  const failures = tries - successes;
  if (Math.min(successes, failures) > FEW) {
    const half = -normalQuantile(tail) * Math.sqrt(rate / tries) * Math.sqrt(failures / tries);
    return { rate, low: Math.max(0, rate - half), high: Math.min(1, rate + half) };
  }
  const least = (count: number) => (count === 0 ? 0 : chiSquareQuantile(tail, 2 * count) / 2 / tries);
  const most = (count: number) => chiSquareQuantile(1 - tail, 2 * count + 2) / 2 / tries;
  return successes <= failures
    ? { rate, low: least(successes), high: most(successes) }
    : { rate, low: 1 - most(failures), high: 1 - least(failures) };
}
