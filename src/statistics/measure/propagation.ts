/**
 * Propagation of distributions by drawing (JCGM 101:2008): what a result's distribution is when each input has its own,
 * and whether the law of propagation of uncertainty agrees with it.
 */
import { randomOf, type Random } from "../numeric/drawer";

/** One input. A scaled and shifted t stands for a mean of few readings (6.4.9). */
export type Input =
  | { readonly kind: "normal"; readonly mean: number; readonly standard: number }
  | { readonly kind: "uniform"; readonly low: number; readonly high: number }
  | { readonly kind: "t"; readonly mean: number; readonly scale: number; readonly df: number };

export interface Propagated {
  readonly draws: number;
  readonly mean: number;
  readonly standard: number;
  /** Interval with as much probability below it as above (5.3.3). */
  readonly low: number;
  readonly high: number;
  /** The shortest interval of that probability (5.3.4). */
  readonly shortest: readonly [low: number, high: number];
}

export interface PropagationOptions {
  /** JCGM 101, 7.2.2 asks for 10⁴ / (1 − confidence) or more. */
  readonly draws: number;
  /** A whole number: the same seed gives the same answer. */
  readonly seed: number;
  readonly confidence: number;
}

/** Draws between two reports of the share that is done. */
const STRETCH = 5000;

/**
 * Draws the inputs, computes the result and describes its distribution.
 * @returns a generator of the share that is done, which ends with the description
 */
export function* propagate(
  inputs: readonly Input[],
  model: (values: readonly number[]) => number,
  { draws, seed, confidence }: PropagationOptions,
): Generator<number, Propagated> {
  const random = randomOf(seed);
  const results = new Float64Array(draws);
  const values = new Array<number>(inputs.length).fill(0);
  for (let i = 0; i < draws; i++) {
    for (let k = 0; k < inputs.length; k++) values[k] = drawn(inputs[k], random);
    results[i] = model(values);
    if ((i + 1) % STRETCH === 0) yield (i + 1) / draws;
  }
  const mean = results.reduce((sum, value) => sum + value, 0) / draws;
  const standard = Math.sqrt(results.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (draws - 1));
  results.sort();
  // 7.7: of the sorted draws, q apart enclose the probability.
  const q = Math.min(draws - 1, Math.round(confidence * draws));
  const start = Math.round((draws - q) / 2);
  let shortest = 0;
  for (let i = 1; i + q < draws; i++)
    if (results[i + q] - results[i] < results[shortest + q] - results[shortest]) shortest = i;
  return {
    draws,
    mean,
    standard,
    low: results[Math.max(0, start - 1)],
    high: results[Math.min(draws - 1, start - 1 + q)],
    shortest: [results[shortest], results[shortest + q]],
  };
}

function drawn(input: Input, random: Random): number {
  switch (input.kind) {
    case "normal":
      return input.mean + input.standard * random.normal();
    case "uniform":
      return input.low + (input.high - input.low) * random.uniform();
    case "t":
      return input.mean + (input.scale * random.normal()) / Math.sqrt(chiSquare(input.df, random) / input.df);
    default:
      return input satisfies never;
  }
}

/**
 * Marsaglia & Tsang, ACM Trans. Math. Softw. 26 (2000) 363–372; below 2 degrees of freedom by their power of a uniform.
 */
function chiSquare(df: number, random: Random): number {
  const shape = df / 2;
  if (shape < 1) return chiSquare(df + 2, random) * random.uniform() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = random.normal();
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(random.uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return 2 * d * v;
  }
}

/**
 * Numerical tolerance of a standard uncertainty given to so many digits (7.9.2): half a unit of the last.
 * @example numericalTolerance(0.0035, 2) === 0.00005
 */
export function numericalTolerance(standard: number, digits: number): number {
  return Number(`0.5e${Math.floor(Math.log10(standard)) - digits + 1}`);
}

export interface Agreement {
  /** How far the ends of the two intervals are apart. */
  readonly low: number;
  readonly high: number;
  readonly tolerance: number;
  /** Whether both ends agree within the tolerance (JCGM 101, 8.1). */
  readonly agrees: boolean;
}

/**
 * Compares an interval estimate ± expanded with that of the draws.
 * @param digits of the standard uncertainty that count, usually 1 or 2
 */
export function agreement(
  estimate: number,
  expanded: number,
  standard: number,
  drawn: Propagated,
  digits: number,
): Agreement {
  const low = Math.abs(estimate - expanded - drawn.low);
  const high = Math.abs(estimate + expanded - drawn.high);
  const tolerance = numericalTolerance(standard, digits);
  return { low, high, tolerance, agrees: low <= tolerance && high <= tolerance };
}
