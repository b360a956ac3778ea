/**
 * The upper tail of the noncentral F distribution.
 *
 * A Poisson mixture of beta tails (Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 2, 2nd ed. (1995),
 * equation 30.10), summed both ways from its largest term, all terms positive.
 */
import betainc from "@stdlib/math-base-special-betainc";
import gammaln from "@stdlib/math-base-special-gammaln";

/**
 * P(F > f).
 * @param shift noncentrality: squared distance from no effect in standard deviations, 0 or more
 * @throws RangeError when degrees of freedom are not above 0 or the shift is below 0
 * @example noncentralFisherUpper(161.44763879758847, 1, 1, 0) // 0.05
 */
export function noncentralFisherUpper(f: number, df1: number, df2: number, shift: number): number {
  if (!(df1 > 0 && df2 > 0)) throw new RangeError(`degrees of freedom are ${df1} and ${df2}: both must be above 0`);
  if (!(shift >= 0 && shift < Infinity)) throw new RangeError(`shift is ${shift}: it must be 0 or more`);
  if (!(f > 0)) return Number.isNaN(f) ? NaN : 1;
  if (f === Infinity) return 0;
  const scaled = df1 * f;
  const tail = (j: number) => {
    const a = df1 / 2 + j;
    const b = df2 / 2;
    return scaled > df2
      ? betainc(df2 / (df2 + scaled), b, a, true, false)
      : betainc(scaled / (df2 + scaled), a, b, true, true);
  };
  if (shift === 0) return tail(0);
  const half = shift / 2;
  const term = (j: number) => Math.exp(j * Math.log(half) - half - gammaln(j + 1)) * tail(j);
  // Tails grow with j, so the largest term stands at the mode of the Poisson weights or above it; the terms rise to it
  // and fall behind.
  let low = Math.floor(half);
  let high = low + 1;
  const ratio = (j: number) => (half / (j + 1)) * (tail(j + 1) / tail(j));
  while (ratio(high) > 1) [low, high] = [high, 2 * high];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (ratio(middle) > 1) low = middle;
    else high = middle;
  }
  let total = 0;
  for (let j = low; j >= 0; j--) {
    const one = term(j);
    total += one;
    if (one <= 1e-17 * total) break;
  }
  for (let j = low + 1; ; j++) {
    const one = term(j);
    total += one;
    if (!(one > 1e-17 * total)) break;
  }
  return Math.min(1, total);
}
