/**
 * Tail probabilities and quantiles.
 *
 * Every p-value is computed as an upper tail, never as one less a lower tail, so that 1e-300 stays 1e-300.
 * Which library serves which: DEVELOPERS.md, "Distributions".
 */
import betainc from "@stdlib/math-base-special-betainc";
import betaincinv from "@stdlib/math-base-special-betaincinv";
import gammainc from "@stdlib/math-base-special-gammainc";
import gammaln from "@stdlib/math-base-special-gammaln";
import jStat from "jstat";

/** P(|T| ≥ |t|) for Student's t. @example studentTwoSided(12.706204736174694, 1) // 0.05 */
export function studentTwoSided(t: number, df: number): number {
  if (!Number.isFinite(t)) return Number.isNaN(t) ? NaN : 0;
  const square = t * t;
  return square > df
    ? betainc(df / (df + square), df / 2, 0.5, true, false)
    : betainc(square / (df + square), 0.5, df / 2, true, true);
}

/** Density of Student's t. @example studentDensity(0, 1) // 0.3183098861837907 */
export function studentDensity(t: number, df: number): number {
  return Math.exp(
    gammaln((df + 1) / 2) - gammaln(df / 2) - 0.5 * Math.log(df * Math.PI) - ((df + 1) / 2) * Math.log1p((t * t) / df),
  );
}

/** The t with P(|T| ≤ t) = confidence. @example studentQuantile(0.95, 1) // 12.706204736174694 */
export function studentQuantile(confidence: number, df: number): number {
  if (df < 30) {
    const rest = betaincinv(1 - confidence, df / 2, 0.5, false);
    return Math.sqrt((df * (1 - rest)) / rest);
  }
  const share = betaincinv(1 - confidence, 0.5, df / 2, true);
  return Math.sqrt((df * share) / (1 - share));
}

/** P(F ≥ f) for Fisher's F. @example fisherUpper(161.44763879758847, 1, 1) // 0.05 */
export function fisherUpper(f: number, df1: number, df2: number): number {
  if (!Number.isFinite(f)) return Number.isNaN(f) ? NaN : 0;
  if (f <= 0) return 1;
  const scaled = df1 * f;
  return scaled > df2
    ? betainc(df2 / (df2 + scaled), df2 / 2, df1 / 2, true, false)
    : betainc(scaled / (df2 + scaled), df1 / 2, df2 / 2, true, true);
}

/**
 * Quantile of Fisher's F, from that of the beta distribution.
 * @param probability above 0, below 1
 * @example fisherQuantile(0.95, 1, 10) // 4.9646027437
 */
export function fisherQuantile(probability: number, df1: number, df2: number): number {
  const rest = betaQuantile(1 - probability, df2 / 2, df1 / 2);
  return (df2 * (1 - rest)) / (df1 * rest);
}

/** The x with P(χ² ≤ x) = probability. @example chiSquareQuantile(0.95, 1) // 3.841458820694124 */
export function chiSquareQuantile(probability: number, df: number): number {
  return jStat.chisquare.inv(probability, df);
}

/** The x with P(B ≤ x) = probability for the beta distribution. @example betaQuantile(0.5, 2, 2) // 0.5 */
export function betaQuantile(probability: number, a: number, b: number): number {
  return betaincinv(probability, a, b, false);
}

/** The z with P(Z ≤ z) = probability for the standard normal. @example normalQuantile(0.975) // 1.959963984540054 */
export function normalQuantile(probability: number): number {
  return jStat.normal.inv(probability, 0, 1);
}

/** P(χ² ≥ x). @example chiSquareUpper(3.841458820694124, 1) // 0.05 */
export function chiSquareUpper(x: number, df: number): number {
  return x <= 0 ? 1 : gammainc(x / 2, df / 2, true, true);
}
