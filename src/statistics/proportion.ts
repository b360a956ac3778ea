/** Success rate and its interval. May import: distributions.ts. */
import { betaQuantile } from "./distributions";

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
  return {
    rate: successes / tries,
    low: successes === 0 ? 0 : betaQuantile(tail, successes, tries - successes + 1),
    high: successes === tries ? 1 : 1 - betaQuantile(tail, tries - successes, successes + 1),
  };
}
