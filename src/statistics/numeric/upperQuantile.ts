/** The quantile of a distribution known by its upper tail. */

/**
 * The q above 0 with upper(q) = tail, by bracketed secant steps on the logarithms of both, an end that stays twice
 * halved (the Illinois rule).
 * @param tail above 0, below 1
 * @param upper falls from 1 at 0 towards 0
 * @example upperQuantile(0.1, (q) => Math.exp(-q)) // Math.log(10)
 */
export function upperQuantile(tail: number, upper: (q: number) => number): number {
  const height = (logQ: number) => Math.log(upper(Math.exp(logQ)) / tail);
  let low = Math.log(2);
  while (height(low) < 0) low -= 2;
  let high = low + 1;
  while (height(high) > 0) [low, high] = [high, high + 1 + (high - low)];
  let [atLow, atHigh] = [height(low), height(high)];
  let side = 0;
  for (let i = 0; i < 60 && high - low > 1e-14 * Math.max(1, Math.abs(high)); i++) {
    // A tail that has run out gives no slope.
    const next = atHigh === -Infinity ? (low + high) / 2 : low + ((high - low) * atLow) / (atLow - atHigh);
    const value = height(next);
    if (Math.abs(value) < 1e-12) return Math.exp(next);
    if (value > 0) {
      [low, atLow] = [next, value];
      if (side === 1) atHigh /= 2;
      side = 1;
    } else {
      [high, atHigh] = [next, value];
      if (side === -1) atLow /= 2;
      side = -1;
    }
  }
  return Math.exp((low + high) / 2);
}
