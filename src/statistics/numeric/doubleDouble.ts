/**
 * Double-double arithmetic on columns: numbers held as an unevaluated sum of two doubles, about 32 digits.
 *
 * Error-free sums after Knuth, error-free products after Dekker and Veltkamp; accumulation as in Ogita, Rump & Oishi,
 * "Accurate sum and dot product", SIAM J. Sci. Comput. 26 (2005) 1955–1988 (their compensated dot product, with both
 * factors in double-double).
 */

/**
 * A column of doubles or double-doubles: value i is high[i] + low[i], |low| at most half a unit in the last place of
 * high; without low it is high[i].
 */
export interface Column {
  readonly high: Float64Array;
  readonly low?: Float64Array;
}

/** A column of double-doubles that has room for its low parts. */
export interface PairColumn extends Column {
  readonly low: Float64Array;
}

/** One double-double: [high, low]. */
export type Pair = readonly [number, number];

const SPLITTER = 134217729; // 2^27 + 1

export function pairColumn(length: number): PairColumn {
  return { high: new Float64Array(length), low: new Float64Array(length) };
}

/** Doubles as a column; an array of doubles is taken as it is, not copied. */
export function exactColumn(values: ArrayLike<number>): Column {
  return { high: values instanceof Float64Array ? values : Float64Array.from(values) };
}

export function copyColumn({ high, low }: Column): PairColumn {
  return { high: high.slice(), low: low ? low.slice() : new Float64Array(high.length) };
}

/** a + b exactly, as a pair. */
function sum(a: number, b: number): Pair {
  const s = a + b;
  const t = s - a;
  return [s, a - (s - t) + (b - t)];
}

/** The rounding error of the product a·b, which together with it is exact. */
function productError(a: number, b: number, product: number): number {
  const ca = SPLITTER * a;
  const ah = ca - (ca - a);
  const al = a - ah;
  const cb = SPLITTER * b;
  const bh = cb - (cb - b);
  const bl = b - bh;
  return al * bl - (product - ah * bh - al * bh - ah * bl);
}

export function add(a: Pair, b: Pair): Pair {
  const [s, e] = sum(a[0], b[0]);
  return sum(s, e + a[1] + b[1]);
}

export function negate(a: Pair): Pair {
  return [-a[0], -a[1]];
}

export function multiply(a: Pair, b: Pair): Pair {
  const p = a[0] * b[0];
  return sum(p, productError(a[0], b[0], p) + (a[0] * b[1] + a[1] * b[0]));
}

export function divide(a: Pair, b: Pair): Pair {
  const q1 = a[0] / b[0];
  const r = add(a, negate(multiply([q1, 0], b)));
  const q2 = r[0] / b[0];
  const r2 = add(r, negate(multiply([q2, 0], b)));
  return add(sum(q1, q2), [r2[0] / b[0], 0]);
}

export function squareRoot(a: Pair): Pair {
  if (a[0] <= 0) return [0, 0];
  const root = Math.sqrt(a[0]);
  const rest = add(a, negate(multiply([root, 0], [root, 0])));
  return sum(root, rest[0] / (2 * root));
}

/** Σ aᵢ·bᵢ of two columns. */
export function dot(a: PairColumn, b: PairColumn): Pair {
  const { high: ah, low: al } = a;
  const { high: bh, low: bl } = b;
  let high = 0;
  let low = 0;
  for (let i = 0; i < ah.length; i++) {
    const x = ah[i];
    const y = bh[i];
    const p = x * y;
    const cx = SPLITTER * x;
    const xh = cx - (cx - x);
    const xl = x - xh;
    const cy = SPLITTER * y;
    const yh = cy - (cy - y);
    const yl = y - yh;
    const s = high + p;
    const t = s - high;
    low += high - (s - t) + (p - t) + (xl * yl - (p - xh * yh - xl * yh - xh * yl)) + (x * bl[i] + al[i] * y);
    high = s;
  }
  return sum(high, low);
}

/** target ← target − factor·column, in place. */
export function subtractMultiple(target: PairColumn, factor: Pair, column: PairColumn): void {
  const { high: th, low: tl } = target;
  const { high: ch, low: cl } = column;
  const f = factor[0];
  const fl = factor[1];
  const cf = SPLITTER * f;
  const fh = cf - (cf - f);
  const fs = f - fh;
  for (let i = 0; i < th.length; i++) {
    const x = ch[i];
    const p = f * x;
    const cx = SPLITTER * x;
    const xh = cx - (cx - x);
    const xs = x - xh;
    const e = fs * xs - (p - fh * xh - fs * xh - fh * xs) + (f * cl[i] + fl * x);
    const a = th[i];
    const s = a - p;
    const t = s - a;
    const rest = a - (s - t) + (-p - t) + tl[i] - e;
    const high = s + rest;
    th[i] = high;
    tl[i] = rest - (high - s);
  }
}

/** The square root of each value, in double-double. */
export function rootColumn(values: ArrayLike<number>): PairColumn {
  const root = pairColumn(values.length);
  for (let i = 0; i < values.length; i++) {
    const [high, low] = squareRoot([values[i], 0]);
    root.high[i] = high;
    root.low[i] = low;
  }
  return root;
}

/** Element by element product of two columns. */
export function multiplyColumns(a: Column, b: Column): PairColumn {
  const product = pairColumn(a.high.length);
  for (let i = 0; i < a.high.length; i++) {
    const [high, low] = multiply([a.high[i], a.low?.[i] ?? 0], [b.high[i], b.low?.[i] ?? 0]);
    product.high[i] = high;
    product.low[i] = low;
  }
  return product;
}
