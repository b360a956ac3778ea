/** The standard normal distribution to full accuracy in both tails. */
import erfc from "@stdlib/math-base-special-erfc";

/** P(Z ≤ z). @example normalLower(0) // 0.5 */
export function normalLower(z: number): number {
  return erfc(-z * Math.SQRT1_2) / 2;
}

/** Density at z. */
export function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
}

/** P(|Z| ≥ |z|). @example normalTwoSided(1.959963984540054) // 0.05 */
export function normalTwoSided(z: number): number {
  return erfc(Math.abs(z) * Math.SQRT1_2);
}
