/**
 * Readings rounded to a ruler's division: how scatter and rounding go together.
 *
 * A reading of μ + σz is off by what rounding does, which runs like a saw over a division. Where nobody chose μ by the
 * ruler's lines, a single reading's rounding is spread evenly over a division, whatever σ; but readings of one thing
 * share it, the more the smaller σ: two of them with covariance d²·Σ exp(−4π²k²σ²/d²) / (2π²k²), from the saw's Fourier
 * series (the moments of rounding: Sheppard, Proceedings of the London Mathematical Society 29 (1898) 353–380; the mean
 * of rounded readings: Vardeman, Journal of Quality Technology 37 (2005) 3–15, quoted from memory).
 */

/**
 * Covariance of what rounding does to two readings that scatter with sd.
 * @example sharedRounding(0, 1) // 0.0833333333333
 */
export function sharedRounding(sd: number, division: number): number {
  if (division === 0) return 0;
  const ratio = sd / division;
  if (ratio === 0) return division ** 2 / 12;
  let total = 0;
  for (let k = 1; k <= MOST; k++) {
    const term = Math.exp(-4 * Math.PI ** 2 * k ** 2 * ratio ** 2) / (2 * Math.PI ** 2 * k ** 2);
    total += term;
    if (term < 1e-17) return total * division ** 2;
  }
  // What is left of Σ 1/k² beyond the most, as an integral.
  return (total + 1 / (2 * Math.PI ** 2 * (MOST + 0.5))) * division ** 2;
}
const MOST = 2000;

/**
 * Variance that rounded readings of one thing are expected to show among each other.
 * @example shownVariance(0.5, 0) === 0.25
 */
export function shownVariance(sd: number, division: number): number {
  return sd ** 2 + division ** 2 / 12 - sharedRounding(sd, division);
}

/** Variance of rounding's part in the mean of n readings. @example roundingOfMean(0, 1, 5) // 0.0833333333333 */
export function roundingOfMean(sd: number, division: number, n: number): number {
  return (division ** 2 / 12 + (n - 1) * sharedRounding(sd, division)) / n;
}

/**
 * The scatter before rounding of readings that show a variance; it grows with what is shown, so halving finds it.
 * @example scatterBehind(0.25, 0) === 0.5
 */
export function scatterBehind(variance: number, division: number): number {
  let [low, high] = [0, Math.sqrt(variance)];
  if (division === 0) return high;
  for (let i = 0; i < 100 && high - low > 1e-12 * high; i++) {
    const middle = (low + high) / 2;
    if (shownVariance(middle, division) > variance) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}
