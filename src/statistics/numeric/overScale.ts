/** Means over an estimated standard deviation, as the t-like distributions need them. */
import gammaln from "@stdlib/math-base-special-gammaln";

/** exp(−43) is below the last digit of a double beside 1. */
const NEGLIGIBLE = 43;

/**
 * The mean of kernel(s) over s with df·s² chi-square on df degrees of freedom: the estimated standard deviation over
 * the true one.
 * @param kernel positive, falling in s, its logarithm concave in log s
 * @param sharpness largest slope of the kernel along log s where it falls like a normal distribution does; 0 for one
 * that falls no faster than s itself changes
 * @example overScale(5, () => 1) // 1
 */
export function overScale(df: number, kernel: (scale: number) => number, sharpness = 0): number {
  return overLogScale(df, 0, (u) => kernel(Math.exp(u)), sharpness);
}

/**
 * The mean of kernel(log(q·s)) for the same s. The kernel is asked at multiples of a step that is 0.08 over a power of
 * 2, whatever q is, so that a caller who remembers its values finds a quantile for hardly more than one evaluation.
 *
 * In log s the integrand is analytic and falls off at least exponentially on both sides, where the trapezoidal rule
 * converges exponentially (Trefethen & Weideman, SIAM Review 56 (2014) 385–458), wherever its points lie. The step is
 * chosen for 16 digits of the density: its transform falls like exp(−π·frequency/4) for few degrees of freedom and is
 * that of a normal density with variance 1/(2·df) for many. The peak is found first, so that a kernel far out in its
 * tail keeps its digits.
 * @param kernel positive, falling, its logarithm concave
 */
export function overLogScale(df: number, logQ: number, kernel: (u: number) => number, sharpness = 0): number {
  // The density in x is exp(constant + df·(x − (e^{2x} − 1)/2)), written so that nothing cancels for many df.
  const half = df / 2;
  const constant = Math.LN2 - logGammaRest(half);
  const logDensity = (x: number) => df * (x - Math.expm1(2 * x) / 2);
  const step = 0.08 / 2 ** Math.max(0, Math.ceil(Math.log2(0.08 * Math.max(Math.sqrt(df) / 0.35, sharpness / 0.6))));
  const height = (i: number) => logDensity(i * step - logQ) + Math.log(kernel(i * step));

  // The place with the highest of the points: the height is concave, so it rises before its peak and falls behind.
  let left = Math.floor((logQ - 400) / step);
  let right = Math.ceil((logQ + Math.min(3, 10 / Math.sqrt(2 * df))) / step);
  while (right > left) {
    const middle = Math.floor((left + right) / 2);
    if (height(middle + 1) > height(middle)) left = middle + 1;
    else right = middle;
  }
  const peak = left * step - logQ;
  const top = height(left);
  if (!(top > -Infinity)) return 0;
  let total = 0;
  for (const direction of [1, -1]) {
    for (let i = direction === 1 ? 0 : 1; i < 1e7; i++) {
      const place = (left + direction * i) * step;
      const value = kernel(place);
      const rise = logDensity(place - logQ) - logDensity(peak);
      if (!(logDensity(peak) + rise + Math.log(value) - top > -NEGLIGIBLE)) break;
      total += Math.exp(rise) * value;
    }
  }
  return total * step * Math.exp(constant + logDensity(peak));
}

/** log Γ(x) − x·log x + x; for large x by Stirling's series, as the difference would lose digits. */
function logGammaRest(x: number): number {
  if (x < 20) return gammaln(x) - x * Math.log(x) + x;
  const square = 1 / (x * x);
  const series =
    1 / 12 -
    square * (1 / 360 - square * (1 / 1260 - square * (1 / 1680 - square * (1 / 1188 - (square * 691) / 360360))));
  return (Math.log(2 * Math.PI) - Math.log(x)) / 2 + series / x;
}
