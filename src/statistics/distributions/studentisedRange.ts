/**
 * The distribution of the studentised range: largest less smallest of several means, over their estimated standard
 * error.
 *
 * Own quadrature, because tables and the common algorithm (Copenhaver & Holland, Journal of Statistical Computation and
 * Simulation 30 (1988) 1–15, as widely coded) lose their digits below about 4 degrees of freedom. The upper tail is
 * summed from positive parts alone, so a p-value of 1e−300 has all its digits.
 */
import { normalDensity, normalLower } from "./normal";
import { overLogScale } from "../numeric/overScale";
import { upperQuantile } from "../numeric/upperQuantile";

/** Step of the trapezoidal rule over z: the integrand is a normal density times entire functions. */
const STEP = 0.125;

/** Φ(z) and the density on the grid z = i · STEP, filled as needed: they serve every width. */
const grid = new Map<number, readonly [number, number]>();
function gridPoint(i: number): readonly [number, number] {
  let point = grid.get(i);
  if (!point) grid.set(i, (point = [normalLower(i * STEP), normalDensity(i * STEP)]));
  return point;
}

/** P(range of `count` standard normals > width). */
function rangeUpper(width: number, count: number): number {
  if (width <= 0) return 1;
  // The largest z is likeliest near width / 2 far out in the tail, and between −9 and 9 near the middle.
  const first = width > 18 ? width / 2 - 9 : -9;
  const last = width / 2 + 9;
  let total = 0;
  for (let i = Math.floor(first / STEP); i * STEP <= last; i++) {
    const [below, density] = gridPoint(i);
    const share = normalLower(i * STEP - width) / below;
    // Φ(z)^(n−1) − (Φ(z) − Φ(z − w))^(n−1), without a difference of like numbers.
    total += density * below ** (count - 1) * -Math.expm1((count - 1) * Math.log1p(-share));
  }
  return Math.min(1, count * STEP * total);
}

/** rangeUpper by the logarithm of the width, remembered: the same widths are asked for every q. */
const known = new Map<number, Map<number, number>>();
function rangeUpperAt(logWidth: number, count: number): number {
  let byWidth = known.get(count);
  if (!byWidth || byWidth.size > 20000) known.set(count, (byWidth = new Map()));
  let found = byWidth.get(logWidth);
  if (found === undefined) byWidth.set(logWidth, (found = rangeUpper(Math.exp(logWidth), count)));
  return found;
}

/**
 * P(studentised range > q).
 * @param q range of the means over the standard error of one mean
 * @param count how many means, 2 or more
 * @param df degrees of freedom of the standard error, above 0, or Infinity
 * @example studentisedRangeUpper(31.689352369386, 10, 2) // 0.01
 */
export function studentisedRangeUpper(q: number, count: number, df: number): number {
  if (!(q > 0)) return Number.isNaN(q) ? NaN : 1;
  if (q === Infinity) return 0;
  if (df === Infinity) return rangeUpper(q, count);
  return Math.min(
    1,
    overLogScale(df, Math.log(q), (u) => rangeUpperAt(u, count)),
  );
}

/**
 * The q with P(studentised range ≤ q) = confidence.
 * @example studentisedRangeQuantile(0.99, 10, 2) // 31.689352369386
 */
export function studentisedRangeQuantile(confidence: number, count: number, df: number): number {
  return upperQuantile(1 - confidence, (q) => studentisedRangeUpper(q, count, df));
}
