/** The logarithm of the standard normal's lower tail and its slope, as far out as a double reaches. */
import erfc from "@stdlib/math-base-special-erfc";

/** Below it P(Z ≤ z) is smaller than any double. */
const FAR = -37;
const HALF_LOG_2PI = Math.log(2 * Math.PI) / 2;

/** log P(Z ≤ z). @example normalLowerLog(0) // Math.log(0.5) */
export function normalLowerLog(z: number): number {
  if (z > 5) return Math.log1p(-erfc(z * Math.SQRT1_2) / 2);
  if (z > FAR) return Math.log(erfc(-z * Math.SQRT1_2) / 2);
  return (-z * z) / 2 - Math.log(-z) - HALF_LOG_2PI + Math.log1p(-far(z));
}

/**
 * The slope of `normalLowerLog`: density over lower tail, which is about −z far below 0.
 * @param log its value at z, where that is known already
 * @example normalHazard(0) // 2 / Math.sqrt(2 * Math.PI)
 */
export function normalHazard(z: number, log = normalLowerLog(z)): number {
  return Math.exp((-z * z) / 2 - HALF_LOG_2PI - log);
}

/**
 * What P(Z ≤ z) falls short of density / −z, as a share, by the asymptotic series (Abramowitz & Stegun (1964),
 * 26.2.12).
 */
function far(z: number): number {
  const x = 1 / (z * z);
  return x * (1 - x * (3 - x * (15 - x * 105)));
}
