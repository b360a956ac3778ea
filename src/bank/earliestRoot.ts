/**
 * When a thing under constant acceleration first gets somewhere.
 */

/** A discriminant this far below 0, relative to b², is rounding: the place is reached just as the motion turns. */
const ROUNDING = 1e-14;

/**
 * The smallest t > 0 with a t² + b t + c = 0, without cancellation; Infinity when there is none.
 * @example earliestRoot(1, -3, 2) === 1
 * @example earliestRoot(1, -2, 0) === 2
 * @example earliestRoot(1, 0, 1) === Infinity
 */
export function earliestRoot(a: number, b: number, c: number): number {
  const square = b * b;
  let discriminant = square - 4 * a * c;
  if (discriminant < 0 && discriminant > -ROUNDING * square) discriminant = 0;
  if (!(discriminant >= 0)) return Infinity;
  const q = -0.5 * (b + (b < 0 ? -1 : 1) * Math.sqrt(discriminant));
  const first = a === 0 ? Infinity : q / a;
  const second = q === 0 ? Infinity : c / q;
  return Math.min(first > 0 ? first : Infinity, second > 0 ? second : Infinity);
}
