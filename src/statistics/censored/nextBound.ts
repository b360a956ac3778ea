/**
 * Which bound to try next, so that the value surpassed with a probability becomes known soonest.
 *
 * What is believed of the location μ and the scatter σ of a normal response stands on a grid; every row so far weighs
 * it by its likelihood. The next bound is the one after which the belief in r = μ − z·σ is expected to be narrowest,
 * the mean taken over both outcomes: the adaptive method of Kontsevich & Tyler (Vision Research 39 (1999) 2729–2737),
 * for the one quantity that is looked for, as Watson & Pelli (Perception & Psychophysics 33 (1983) 113–120) have it.
 * But where they take the entropy, here it is the width 1/Σp²: what is wanted is a small error of r, and the entropy is
 * a logarithm of the width (README.md says what was tried).
 */
import { normalQuantile } from "../distributions/distributions";
import { normalDensity, normalLower } from "../distributions/normal";
import { memo } from "../numeric/memo";
import type { Known } from "./likelihood";
import { seenChance } from "./seen";

/** What is believed before any row; little, so that a few rows outweigh it. */
export interface Believed {
  /** The location lies evenly between these, and gently less beyond. */
  readonly low: number;
  readonly high: number;
  /** The scatter is about so much; its logarithm is a normal curve with the spread. */
  readonly scatter: number;
  readonly logSpread: number;
  /** Where the location is looked for first: a normal curve over a tenth of what is believed evenly. */
  readonly about?: { readonly location: number; readonly spread: number };
}

export interface NextQuestion {
  readonly bounds: ArrayLike<number>;
  readonly known: readonly Known[];
  /** Bounds that can be set: origin + k · step for any whole k, between the two ends. */
  readonly step: number;
  readonly origin: number;
  readonly least: number;
  readonly most: number;
  /** The probability of r; one half unless said. */
  readonly probability?: number;
  /** Share of rows that are taken for the opposite of what they are (see seen.ts); none unless said. */
  readonly misjudged?: number;
  readonly before: Believed;
}

/** A bound that can be set, and what it is expected to teach. */
export interface NextBound {
  readonly bound: number;
  /** The chance that a row reaches it, as far as is known. */
  readonly chance: number;
  /** What is known of r: where it is believed in most, and the standard deviation of the belief. */
  readonly value: number;
  readonly spread: number;
  /** The standard deviation that is expected after one more row there. */
  readonly after: number;
  /** How many more rows about halve the spread. */
  readonly toHalve: number;
  /** What is known of the scatter: the middle of the belief in its logarithm, and that one's standard deviation. */
  readonly scatter: Pick<Believed, "scatter" | "logSpread">;
}

/** Places of the location between the ends of what is believed at least, and in a step at least. */
const [PLACES, PLACES_OF_STEP] = [72, 2];
/** Scatters on the grid, and how many spreads of their logarithm it reaches to either side. */
const [SCATTERS, SCATTER_REACH] = [15, 3];
/** Shares of the range: how far the grid goes beyond its ends, and over what length belief falls to a third there. */
const [BEYOND, SHOULDER] = [0.75, 1 / 36];
/**
 * A bound so high that it is hardly ever reached teaches nothing by not being reached, and one so low nothing by being.
 */
const [LEAST_CHANCE, MOST_CHANCE] = [0.1, 0.97];

/** The belief: weights of location × scatter, in steps from the origin. */
interface Belief {
  readonly from: number;
  readonly places: number;
  readonly perStep: number;
  readonly scatters: readonly number[];
  /** For each scatter: the chance to reach a bound that lies so many places below, from −(places − 1) up. */
  readonly reaching: readonly Float64Array[];
  readonly misjudged: number;
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
  const best = bestCandidate(belief, deviate, question);
  const variance = now.square - now.mean ** 2;
  const after = Math.max(0, now.square - best.explained);
  const learnt = 1 / after - 1 / variance;
  const back = (steps: number) => question.origin + step * steps;
  return {
    bound: back(best.at),
    chance: best.chance,
    value: back(mostBelieved(belief, deviate)),
    spread: step * Math.sqrt(variance),
    after: step * Math.sqrt(after),
    toHalve: learnt > 0 ? Math.max(1, Math.round(3 / variance / learnt)) : Infinity,
    scatter: scatterOf(belief, step),
  };
}

function scatterOf({ places, scatters, weights }: Belief, step: number): NextBound["scatter"] {
  let [total, mean, square] = [0, 0, 0];
  scatters.forEach((scatter, j) => {
    let weight = 0;
    for (let i = 0; i < places; i++) weight += weights[j * places + i];
    total += weight;
    mean += weight * Math.log(scatter);
    square += weight * Math.log(scatter) ** 2;
  });
  const middle = mean / total;
  return { scatter: step * Math.exp(middle), logSpread: Math.sqrt(Math.max(0, square / total - middle ** 2)) };
}

/** The tables of the last few grids: attempt after attempt asks for the same. */
const tables = memo<readonly Float64Array[]>();
const TABLES = {};

function believed({ bounds, known, step, origin, least, most, before, misjudged = 0 }: NextQuestion): Belief {
  const inSteps = Array.from(bounds, (bound) => (bound - origin) / step);
  const [first, last] = [(before.low - origin) / step, (before.high - origin) / step];
  const wide = last - first;
  const perStep = Math.max(PLACES_OF_STEP, Math.ceil(PLACES / wide));
  const ends = [least, most].map((end) => (end - origin) / step);
  const low = Math.floor(Math.min(first - BEYOND * wide, ...ends, ...inSteps));
  const high = Math.ceil(Math.max(last + BEYOND * wide, ...ends, ...inSteps));
  const places = (high - low) * perStep + 1;
  const deviates = Array.from({ length: SCATTERS }, (_, j) => SCATTER_REACH * ((2 * j) / (SCATTERS - 1) - 1));
  const scatters = deviates.map((deviate) => (before.scatter / step) * Math.exp(deviate * before.logSpread));
  const shoulder = SHOULDER * wide;
  const weights = new Float64Array(places * SCATTERS);
  for (let i = 0; i < places; i++) {
    const at = low + i / perStep;
    const even =
      nearer(before, origin + step * at) /
      (1 + Math.exp((first - at) / shoulder)) /
      (1 + Math.exp((at - last) / shoulder));
    for (let j = 0; j < SCATTERS; j++) weights[j * places + i] = even * normalDensity(deviates[j]);
  }
  const reaching = tables(TABLES, [places, perStep, before.scatter / step, before.logSpread, misjudged], () =>
    scatters.map((scatter) =>
      Float64Array.from({ length: 2 * places - 1 }, (_, k) =>
        seenChance(normalLower((k - places + 1) / perStep / scatter), misjudged),
      ),
    ),
  );
  const belief = { from: low, places, perStep, scatters, reaching, misjudged, weights };
  inSteps.forEach((bound, row) => weigh(belief, bound, known[row] ?? "value"));
  return belief;
}

/** Share of the belief in a location that is not about where it is looked for first. */
const ELSEWHERE = 0.1;

/** How much more a location is believed in for what was known before; 1 everywhere without it. */
function nearer({ low, high, about }: Believed, location: number): number {
  if (!about) return 1;
  const curve = normalDensity((location - about.location) / about.spread) / about.spread;
  return ELSEWHERE + (1 - ELSEWHERE) * curve * (high - low);
}

/** Weighs the belief by one row, and makes it one in all. */
function weigh(
  { from, places, perStep, scatters, reaching, misjudged, weights }: Belief,
  bound: number,
  known: Known,
): void {
  const shift = (bound - from) * perStep;
  const onGrid = Math.abs(shift - Math.round(shift)) < 1e-6;
  let total = 0;
  scatters.forEach((scatter, j) => {
    const table = reaching[j];
    for (let i = 0; i < places; i++) {
      const eta = (i - shift) / perStep / scatter;
      if (known === "value") total += weights[j * places + i] *= normalDensity(eta) / scatter;
      else {
        const at = i - Math.round(shift) + places - 1;
        const reached = onGrid ? table[at] : seenChance(normalLower(eta), misjudged);
        total += weights[j * places + i] *= known === "at least" ? reached : 1 - reached;
      }
    }
  });
  // A row that nothing on the grid allows leaves the belief as it was.
  if (total > 0) for (let i = 0; i < weights.length; i++) weights[i] /= total;
}

function momentsOf({ from, places, perStep, scatters, weights }: Belief, deviate: number) {
  let [total, mean, square] = [0, 0, 0];
  scatters.forEach((scatter, j) => {
    for (let i = 0; i < places; i++) {
      const weight = weights[j * places + i];
      const value = from + i / perStep - deviate * scatter;
      total += weight;
      mean += weight * value;
      square += weight * value * value;
    }
  });
  return { mean: mean / total, square: square / total };
}

/**
 * The value of r that is believed in most, in steps: the top of the belief once each place is spread over half a step
 * either way, so that the grid does not show.
 */
function mostBelieved({ from, places, perStep, scatters, weights }: Belief, deviate: number): number {
  const moves = scatters.map((scatter) => Math.round(-deviate * scatter * perStep));
  const lowest = Math.min(...moves);
  const all = new Float64Array(places + Math.max(...moves) - lowest);
  moves.forEach((move, j) => {
    for (let i = 0; i < places; i++) all[i + move - lowest] += weights[j * places + i];
  });
  const half = perStep / 2;
  const kernel = Array.from({ length: 4 * perStep + 1 }, (_, k) => normalDensity((k - 2 * perStep) / half));
  const spread = (at: number) => kernel.reduce((sum, share, k) => sum + share * (all[at + k - 2 * perStep] ?? 0), 0);
  let [best, top] = [0, -Infinity];
  for (let at = 0; at < all.length; at++) {
    const height = spread(at);
    if (height > top) [best, top] = [at, height];
  }
  const [before, after] = [spread(best - 1), spread(best + 1)];
  const bent = before - 2 * top + after;
  return (from * perStep + lowest + best + (bent < 0 ? (0.5 * (before - after)) / bent : 0)) / perStep;
}

/** What a row at a bound would tell. */
interface Outlook {
  readonly at: number;
  readonly chance: number;
  /** How wide the belief in r is expected to be. */
  readonly width: number;
  /** The part of the mean square of r that its mean given the outcome explains. */
  readonly explained: number;
}

/** The bound whose outcome is expected to leave the narrowest belief. */
function bestCandidate(belief: Belief, deviate: number, { origin, step, least, most }: NextQuestion): Outlook {
  const look = outlooks(belief, deviate);
  const [first, last] = [Math.ceil((least - origin) / step - 1e-9), Math.floor((most - origin) / step + 1e-9)];
  let best: Outlook = { at: first, chance: NaN, width: Infinity, explained: 0 };
  let nearest = Infinity;
  for (let at = first; at <= last; at++) {
    const row = look(at);
    // Beyond the chances that teach, the nearest to them is all that there is.
    const beyond = Math.max(0, LEAST_CHANCE - row.chance, row.chance - MOST_CHANCE);
    if (beyond > nearest) continue;
    const one = row.outlook();
    if (!Number.isFinite(one.width)) continue;
    if (beyond < nearest || one.width < best.width) best = one;
    nearest = beyond;
  }
  return best;
}

/** The outlook at bounds, with what serves all of them made once. */
function outlooks(
  { from, places, perStep, scatters, reaching, weights }: Belief,
  deviate: number,
): (at: number) => { readonly chance: number; readonly outlook: () => Outlook } {
  const held = scatters.map((_, j) => heldPlaces(weights, j * places, places));
  // r moves with the scatter unless one half is looked for: by whole places of the grid.
  const moves = scatters.map((scatter) => Math.round(-deviate * scatter * perStep));
  const lowest = Math.min(...moves);
  const bins = places + Math.max(...moves) - lowest;
  const [reachedIn, missedIn] = [new Float64Array(bins), new Float64Array(bins)];
  return (at) => {
    const shift = (at - from) * perStep;
    reachedIn.fill(0);
    missedIn.fill(0);
    let [reach, miss] = [0, 0];
    scatters.forEach((_, j) => {
      const table = reaching[j];
      const [first, last] = held[j];
      const move = moves[j] - lowest;
      for (let i = first; i <= last; i++) {
        const weight = weights[j * places + i];
        const reached = weight * table[i - shift + places - 1];
        reachedIn[i + move] += reached;
        missedIn[i + move] += weight - reached;
        reach += reached;
        miss += weight - reached;
      }
    });
    const total = reach + miss;
    const chance = reach / total;
    return {
      chance,
      // Asked for before the next bound is looked at.
      outlook: () => {
        const [yes, no] = [reachedIn, missedIn].map((list) => summed(list, from * perStep + lowest, perStep)) as [
          Summed,
          Summed,
        ];
        return {
          at,
          chance,
          width: (yes.weight * widthOf(yes) + no.weight * widthOf(no)) / total,
          explained: (yes.moment ** 2 / yes.weight + no.moment ** 2 / no.weight) / total,
        };
      },
    };
  };
}

interface Summed {
  readonly weight: number;
  /** Σ weight · r, in steps. */
  readonly moment: number;
  /** Σ weight², place by place. */
  readonly squares: number;
}

/** Places over which a belief would spread if it were even. */
const widthOf = ({ weight, squares }: Summed) => (weight > 0 ? (weight * weight) / squares : 0);

function summed(list: Float64Array, lowest: number, perStep: number): Summed {
  let [weight, moment, squares] = [0, 0, 0];
  for (let i = 0; i < list.length; i++) {
    const one = list[i];
    if (one === 0) continue;
    weight += one;
    moment += (one * (lowest + i)) / perStep;
    squares += one * one;
  }
  return { weight, moment, squares };
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
