/**
 * Which bound to try next, so that the value surpassed with a probability becomes known soonest.
 *
 * What is believed of the location μ and the scatter σ of a normal response stands on a grid; every row so far weighs it
 * by its likelihood. The next bound is the one after which the variance of r = μ − z·σ is expected to be least, the mean
 * taken over both outcomes: the adaptive method of Kontsevich & Tyler (Vision Research 39 (1999) 2729–2737), with variance
 * where they have entropy, after Watson & Pelli (Perception & Psychophysics 33 (1983) 113–120), who follow the location alone.
 */
import { normalQuantile } from "../distributions/distributions";
import { normalDensity, normalLower } from "../distributions/normal";
import type { Known } from "./likelihood";

export interface NextQuestion {
  readonly bounds: ArrayLike<number>;
  readonly known: readonly Known[];
  /** Bounds that can be set: origin + k · step for any whole k. */
  readonly step: number;
  readonly origin: number;
  /** The probability of r; one half unless said. */
  readonly probability?: number;
  /** What is believed of the location before any row: a normal curve. The scatter is taken to be within 1/2 and 32 steps. */
  readonly before: { readonly location: number; readonly spread: number };
}

/** A bound that can be set, and what it is expected to teach. */
export interface NextBound {
  readonly bound: number;
  /** The chance that a row reaches it, as far as is known. */
  readonly chance: number;
  /** What is known of r: mean and standard deviation of the belief. */
  readonly value: number;
  readonly spread: number;
  /** The standard deviation that is expected after one more row there. */
  readonly after: number;
  /** How many more rows about halve the spread. */
  readonly toHalve: number;
}

/** Places of the location in a step, and scatters on the grid. */
const PER_STEP = 2;
const SCATTERS = 17;
const [LEAST_SCATTER, MOST_SCATTER] = [0.5, 32];
/** A bound so high that it is hardly ever reached teaches nothing by not being reached, and one so low nothing by being. */
const [LEAST_CHANCE, MOST_CHANCE] = [0.1, 0.97];

/** The belief: weights of location × scatter, in steps from the origin. */
interface Belief {
  readonly from: number;
  readonly places: number;
  readonly scatters: readonly number[];
  readonly weights: Float64Array;
}

/** @throws RangeError for a step that is not above 0, or lists of different lengths */
export function nextBound(question: NextQuestion): NextBound {
  const { bounds, known, step, probability = 0.5 } = question;
  if (!(step > 0) || !Number.isFinite(step)) throw new RangeError(`the step is ${step}: it must be above 0`);
  if (bounds.length !== known.length)
    throw new RangeError(`there are ${bounds.length} bounds for ${known.length} rows`);
  const belief = believed(question);
  const deviate = normalQuantile(probability);
  const now = momentsOf(belief, deviate);
  const best = bestCandidate(belief, deviate);
  const variance = now.square - now.mean ** 2;
  const after = Math.max(0, now.square - best.explained);
  const learnt = 1 / after - 1 / variance;
  const back = (steps: number) => question.origin + step * steps;
  return {
    bound: back(best.at),
    chance: best.chance,
    value: back(now.mean),
    spread: step * Math.sqrt(variance),
    after: step * Math.sqrt(after),
    toHalve: learnt > 0 ? Math.max(1, Math.round(3 / variance / learnt)) : Infinity,
  };
}

function believed({ bounds, known, step, origin, before }: NextQuestion): Belief {
  const inSteps = Array.from(bounds, (bound) => (bound - origin) / step);
  const middle = (before.location - origin) / step;
  const wide = before.spread / step;
  const low = Math.floor(Math.min(middle - 3 * wide, Math.min(...inSteps) - 16));
  const high = Math.ceil(Math.max(middle + 3 * wide, Math.max(...inSteps) + 16));
  const places = (high - low) * PER_STEP + 1;
  const scatters = Array.from(
    { length: SCATTERS },
    (_, j) => LEAST_SCATTER * (MOST_SCATTER / LEAST_SCATTER) ** (j / (SCATTERS - 1)),
  );
  const weights = new Float64Array(places * SCATTERS);
  for (let j = 0; j < SCATTERS; j++)
    for (let i = 0; i < places; i++) weights[j * places + i] = normalDensity((low + i / PER_STEP - middle) / wide);
  const belief = { from: low, places, scatters, weights };
  inSteps.forEach((bound, row) => weigh(belief, bound, known[row] ?? "value"));
  return belief;
}

/** Weighs the belief by one row, and makes it one in all. */
function weigh({ from, places, scatters, weights }: Belief, bound: number, known: Known): void {
  let total = 0;
  scatters.forEach((scatter, j) => {
    for (let i = 0; i < places; i++) {
      const eta = (from + i / PER_STEP - bound) / scatter;
      const likely = known === "value" ? normalDensity(eta) / scatter : normalLower(known === "at least" ? eta : -eta);
      total += weights[j * places + i] *= likely;
    }
  });
  // A row that nothing on the grid allows leaves the belief as it was.
  if (total > 0) for (let i = 0; i < weights.length; i++) weights[i] /= total;
}

function momentsOf({ from, places, scatters, weights }: Belief, deviate: number) {
  let [total, mean, square] = [0, 0, 0];
  scatters.forEach((scatter, j) => {
    for (let i = 0; i < places; i++) {
      const weight = weights[j * places + i];
      const value = from + i / PER_STEP - deviate * scatter;
      total += weight;
      mean += weight * value;
      square += weight * value * value;
    }
  });
  return { mean: mean / total, square: square / total };
}

/** The bound whose two outcomes explain most: Σ (mean of r and the outcome)² / chance of the outcome. */
function bestCandidate(
  { from, places, scatters, weights }: Belief,
  deviate: number,
): { readonly at: number; readonly chance: number; readonly explained: number } {
  const reach = scatters.map((scatter) => normalTable(places, scatter));
  const held = scatters.map((_, j) => heldPlaces(weights, j * places, places));
  let best = { at: from, chance: NaN, explained: -Infinity };
  let nearest = Infinity;
  for (let at = from; at <= from + (places - 1) / PER_STEP; at++) {
    const shift = (at - from) * PER_STEP;
    let [total, reached, reachedValue, value] = [0, 0, 0, 0];
    scatters.forEach((scatter, j) => {
      const table = reach[j] as Float64Array;
      const [first, last] = held[j] as readonly [number, number];
      for (let i = first; i <= last; i++) {
        const weight = weights[j * places + i];
        const r = weight * (from + i / PER_STEP - deviate * scatter);
        const chance = table[i - shift + places - 1];
        total += weight;
        value += r;
        reached += weight * chance;
        reachedValue += r * chance;
      }
    });
    const chance = reached / total;
    const explained = (reachedValue ** 2 / reached + (value - reachedValue) ** 2 / (total - reached)) / total;
    // Beyond the chances that teach, the nearest to them is all that there is.
    const beyond = Math.max(0, LEAST_CHANCE - chance, chance - MOST_CHANCE);
    if (!Number.isFinite(explained) || beyond > nearest) continue;
    if (beyond < nearest || explained > best.explained) best = { at, chance, explained };
    nearest = beyond;
  }
  return best;
}

/** Below it a weight takes no part in sums of a thousand. */
const NO_WEIGHT = 1e-9;

/** The first and last place that has any weight; the last before the first where none has. */
function heldPlaces(weights: Float64Array, from: number, places: number): readonly [number, number] {
  let [first, last] = [0, places - 1];
  while (first <= last && weights[from + first] < NO_WEIGHT) first++;
  while (last > first && weights[from + last] < NO_WEIGHT) last--;
  return [first, last];
}

/** The chance to reach a bound that lies so many places of the grid below, from −(places − 1) up. */
function normalTable(places: number, scatter: number): Float64Array {
  return Float64Array.from({ length: 2 * places - 1 }, (_, k) => normalLower((k - places + 1) / PER_STEP / scatter));
}
