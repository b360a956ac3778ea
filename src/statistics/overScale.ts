/** Means over an estimated standard deviation, as the t-like distributions need them. May import: nothing of ours. */
import gammaln from "@stdlib/math-base-special-gammaln";

/** exp(−43) is below the last digit of a double beside 1. */
const NEGLIGIBLE = 43;

/**
 * The mean of kernel(s) over s with df·s² chi-square on df degrees of freedom: the estimated standard deviation over the
 * true one.
 *
 * In x = log s the integrand is analytic and falls off at least exponentially on both sides, where the trapezoidal rule
 * converges exponentially (Trefethen & Weideman, SIAM Review 56 (2014) 385–458). The step is chosen for 16 digits of
 * the density: its transform falls like exp(−π·frequency/4) for few degrees of freedom and is that of a normal density
 * with variance 1/(2·df) for many. The peak is found first, so that a kernel far out in its tail keeps its digits.
 * @param kernel positive, falling in s, its logarithm concave in log s
 * @example overScale(5, () => 1) // 1
 */
export function overScale(df: number, kernel: (scale: number) => number): number {
  // The density in x is exp(constant + df·(x − (e^{2x} − 1)/2)), written so that nothing cancels for many df.
  const half = df / 2;
  const constant = Math.LN2 - logGammaRest(half);
  const logDensity = (x: number) => df * (x - Math.expm1(2 * x) / 2);
  const height = (x: number) => logDensity(x) + Math.log(kernel(Math.exp(x)));

  const width = 1 / Math.sqrt(2 * df);
  let left = -400;
  let right = Math.min(3, 10 * width);
  for (let i = 0; i < 80 && right - left > width / 50; i++) {
    const a = left + (right - left) * 0.382;
    const b = left + (right - left) * 0.618;
    if (height(b) > height(a)) left = a;
    else right = b;
  }
  const peak = (left + right) / 2;
  const top = height(peak);
  if (!(top > -Infinity)) return 0;
  const step = Math.min(0.08, 0.35 / Math.sqrt(df));
  let total = 0;
  for (const direction of [1, -1]) {
    for (let i = direction === 1 ? 0 : 1; i < 1e5; i++) {
      const x = peak + direction * i * step;
      const value = kernel(Math.exp(x));
      const above = logDensity(x) + Math.log(value) - top;
      if (!(above > -NEGLIGIBLE)) break;
      total += Math.exp(logDensity(x) - logDensity(peak)) * value;
    }
  }
  return total * step * Math.exp(constant + logDensity(peak));
}

/** log Γ(x) − x·log x + x; for large x by Stirling's series, as the difference would lose digits. */
function logGammaRest(x: number): number {
  if (x < 20) return gammaln(x) - x * Math.log(x) + x;
  const square = 1 / (x * x);
  const series = 1 / 12 - square * (1 / 360 - square * (1 / 1260 - square * (1 / 1680 - square * (1 / 1188 - (square * 691) / 360360))));
  return (Math.log(2 * Math.PI) - Math.log(x)) / 2 + series / x;
}
