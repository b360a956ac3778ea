/**
 * Tails of the noncentral t distribution, (Z + shift) / s with s an estimated standard deviation over the true one.
 *
 * Integrated over s from its definition (Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 2, 2nd ed.
 * (1995), equation 31.10), which holds its digits at any shift up to 10,000; series in the shift do not.
 */
import { normalLower } from "./normal";
import { overScale } from "../numeric/overScale";

/**
 * P(T > t) for t ≥ 0 and P(T < −t), together P(|T| > t).
 * @param t 0 or more
 * @example noncentralTwoSided(12.706204736174694, 1, 0).upper // 0.025
 */
export function noncentralTwoSided(
  t: number,
  df: number,
  shift: number,
): { readonly upper: number; readonly lower: number } {
  // Seen along log s the kernel falls within 1 / shift, which the steps must not jump over, unless it falls where no s
  // is.
  const reached = Math.abs(shift) < t * Math.exp(Math.min(3, 10 / Math.sqrt(2 * df)));
  const sharpness = reached ? Math.min(Math.abs(shift), 1e4) : 0;
  return {
    upper: overScale(df, (scale) => normalLower(shift - t * scale), sharpness),
    lower: overScale(df, (scale) => normalLower(-shift - t * scale), sharpness),
  };
}
