/**
 * Plans of factors at two levels: all combinations or a fraction of them, what the fraction mixes up, and its blocks.
 *
 * An effect is a set of factors, kept as a bit mask: 1 is the first factor alone, 3 the joint effect of the first two.
 * Two effects are mixed up when their product is in the group of words that the fraction holds constant (Box & Hunter,
 * Technometrics 3 (1961) 311–351 and 449–458).
 */
import { there } from "../../there";

export interface TwoLevel {
  readonly factors: number;
  /** A power of two, at most 2 to the number of factors. */
  readonly runs: number;
  /** The words that are constant in the plan, the empty one left out; none when it has all combinations. */
  readonly words: readonly number[];
  /** Length of the shortest word; Infinity for all combinations. */
  readonly resolution: number;
  /** −1 or 1 for each factor of each run, the first factor changing fastest. */
  readonly points: readonly (readonly (-1 | 1)[])[];
}

/** Most factors that a fraction is searched for. */
export const MOST_FACTORS = 8;

/**
 * The fraction with the longest words: highest resolution, then fewest of the shortest words, then of the next (least
 * aberration: Fries & Hunter, Technometrics 22 (1980) 601–608), found by trying all.
 * @param factors 1 to 8
 * @param runs a power of two above the number of factors (or equal to all combinations), at most 2^factors
 * @throws RangeError naming what is out of range
 * @example twoLevel(3, 4).words // [7]
 */
export function twoLevel(factors: number, runs: number): TwoLevel {
  if (!(Number.isInteger(factors) && factors >= 1 && factors <= MOST_FACTORS))
    throw new RangeError(`factors is ${factors}: give 1 to ${MOST_FACTORS}`);
  const base = Math.log2(runs);
  if (!Number.isInteger(base) || runs > 2 ** factors || runs <= Math.min(factors, 2 ** factors - 1)) {
    throw new RangeError(`runs is ${runs}: ${factors} factors at two levels take ${fractionRuns(factors).join(", ")}`);
  }
  const added = factors - base;
  const words = added === 0 ? [] : bestWords(base, added);
  return {
    factors,
    runs,
    words,
    resolution: words.length === 0 ? Infinity : Math.min(...words.map(order)),
    points: pointsOf(base, factors, words),
  };
}

/** Numbers of runs that factors at two levels can take, least first. @example fractionRuns(3) // [4, 8] */
export function fractionRuns(factors: number): number[] {
  return Array.from({ length: factors + 1 }, (_, power) => 2 ** power).filter(
    (runs) => runs > factors || runs === 2 ** factors,
  );
}

/** Number of factors in an effect. @example order(7) === 3 */
export function order(effect: number): number {
  let count = 0;
  for (let rest = effect; rest > 0; rest &= rest - 1) count++;
  return count;
}

/** The effects that cannot be told from one, itself left out. @example mixedWith(1, twoLevel(3, 4)) // [6] */
export function mixedWith(effect: number, { words }: Pick<TwoLevel, "words">): number[] {
  return words.map((word) => effect ^ word);
}

/** The sign of an effect in a run. @example signOf(3, [-1, 1, 1]) === -1 */
export function signOf(effect: number, point: readonly (-1 | 1)[]): -1 | 1 {
  return point.reduce<-1 | 1>((sign, level, factor) => ((effect >> factor) & 1 ? ((sign * level) as -1 | 1) : sign), 1);
}

export interface Blocked {
  /** Block of each run, from 0. */
  readonly blocks: readonly number[];
  /** Effects that cannot be told from the blocks, one of each set that the fraction mixes up anyway: the shortest. */
  readonly lost: readonly number[];
}

/**
 * Parts a plan into blocks of equal size so that what is lost is as high an order as can be: no single factor, and the
 * fewest joint effects of two, then of three.
 * @param count 2, 4 or 8, below the number of runs
 * @throws RangeError when no such parting keeps the single factors
 */
export function blocked(plan: TwoLevel, count: number): Blocked {
  const { runs, points, words } = plan;
  const deep = Math.log2(count);
  if (!(Number.isInteger(deep) && deep >= 1 && deep <= 3 && count < runs))
    throw new RangeError(
      `${runs} runs cannot be parted into ${count} blocks: give a number of blocks that is a power of two and below ${Math.min(16, runs)}`,
    );
  const shortest = (effect: number) =>
    [effect, ...mixedWith(effect, plan)].reduce((best, one) => (order(one) < order(best) ? one : best));
  // One effect of each set that the fraction mixes up.
  const constant = new Set<number>([0, ...words]);
  const seen = new Set(constant);
  const effects: number[] = [];
  for (let effect = 1; effect < 2 ** plan.factors; effect++) {
    if (seen.has(effect)) continue;
    effects.push(shortest(effect));
    for (const one of [effect, ...mixedWith(effect, plan)]) seen.add(one);
  }
  const usable = effects.filter((effect) => order(effect) > 1);
  let best:
    | { readonly makers: readonly number[]; readonly lost: readonly number[]; readonly cost: readonly number[] }
    | undefined;
  const choose = (makers: readonly number[], from: number) => {
    if (makers.length === deep) {
      const group = spanned(makers).slice(1);
      if (group.some((word) => constant.has(word))) return;
      const lost = group.map(shortest);
      const cost = [1, 2, 3, 4].map((size) => lost.filter((effect) => order(effect) === size).length);
      if (cost[0] === 0 && (!best || less(cost, best.cost))) best = { makers, lost, cost };
      return;
    }
    for (let i = from; i < usable.length; i++) choose([...makers, usable[i]], i + 1);
  };
  choose([], 0);
  if (!best)
    throw new RangeError(
      `${runs} runs of ${plan.factors} factors cannot be parted into ${count} blocks without losing a single factor's effect: take more runs or fewer blocks`,
    );
  const { makers, lost } = best;
  return {
    blocks: points.map((point) =>
      makers.reduce((block, maker, i) => block + (signOf(maker, point) > 0 ? 2 ** i : 0), 0),
    ),
    lost,
  };
}

/** Every product of the words, the empty one first. */
function spanned(words: readonly number[]): number[] {
  return words.reduce<number[]>((group, word) => [...group, ...group.map((one) => one ^ word)], [0]);
}

function less(a: readonly number[], b: readonly number[]): boolean {
  const at = a.findIndex((value, i) => value !== b[i]);
  return at >= 0 && a[at] < b[at];
}

/** The group of words of the best fraction: each added factor is made a product of base factors. */
function bestWords(base: number, added: number): number[] {
  const products = Array.from({ length: 2 ** base }, (_, mask) => mask).filter((mask) => order(mask) > 1);
  let best: { words: number[]; pattern: number[] } | undefined;
  const choose = (generators: readonly number[], from: number) => {
    if (generators.length === added) {
      const words = spanned(generators.map((mask, j) => mask | (1 << (base + j)))).slice(1);
      const pattern = Array.from(
        { length: base + added },
        (_, i) => words.filter((word) => order(word) === i + 1).length,
      );
      if (!best || less(pattern, best.pattern)) best = { words, pattern };
      return;
    }
    for (let i = from; i < products.length; i++) choose([...generators, products[i]], i + 1);
  };
  choose([], 0);
  return there(best, "a choice of products").words;
}

function pointsOf(base: number, factors: number, words: readonly number[]): (-1 | 1)[][] {
  // The word with one added factor only says which product that factor is.
  const makers = Array.from(
    { length: factors - base },
    (_, j) =>
      there(
        words.find((word) => word >> base === 1 << j),
        "a word for every added factor",
      ) &
      (2 ** base - 1),
  );
  return Array.from({ length: 2 ** base }, (_, run) => {
    const point = Array.from({ length: base }, (_unused, factor): -1 | 1 => ((run >> factor) & 1 ? 1 : -1));
    return [...point, ...makers.map((maker) => signOf(maker, point))];
  });
}
