/**
 * The least value of a function over a box, without slopes.
 *
 * Places spread over the whole box by Halton's sequence (Numer. Math. 2 (1960) 84–90), the same each time; then from
 * the best of them steps along each side that halve when none helps (Hooke & Jeeves, J. ACM 8 (1961) 212–229).
 */

export interface Side {
  readonly low: number;
  readonly high: number;
}

export interface BoxMinimum {
  readonly place: readonly number[];
  readonly value: number;
  /** Places that were looked at. */
  readonly tried: number;
}

export interface BoxSearch {
  /** Places of the first look. */
  readonly places: number;
  /** How many of them are climbed from. */
  readonly climbs: number;
  /** The last step of a climb, as a share of each side. */
  readonly lastStep: number;
  /** Whether a place of that value may be climbed from; any may when left out. */
  readonly worth?: (value: number) => boolean;
}

const FIRST_STEP = 0.1;
const PRIMES = [2, 3, 5, 7, 11, 13, 17, 19];

/**
 * The index's digits in a base, mirrored at the point: evenly spread between 0 and 1.
 * @example halton(3, 2) === 0.75
 */
export function halton(index: number, base: number): number {
  let value = 0;
  for (let share = 1 / base, rest = index; rest > 0; rest = Math.floor(rest / base), share /= base)
    value += share * (rest % base);
  return value;
}

/** Evenly spread places of a box of up to 8 sides. @example spreadPlaces([{ low: 0, high: 8 }], 2) // [[4], [2]] */
export function spreadPlaces(box: readonly Side[], count: number): number[][] {
  return Array.from({ length: count }, (_, i) =>
    box.map(({ low, high }, k) => low + (high - low) * halton(i + 1, PRIMES[k])),
  );
}

/**
 * @param box up to 8 sides
 * @example boxSearch([{ low: -1, high: 3 }], ([x]) => (x - 1) ** 2, { places: 8, climbs: 1, lastStep: 1e-6 }).place[0] // 1
 */
export function boxSearch(
  box: readonly Side[],
  cost: (place: readonly number[]) => number,
  { places, climbs, lastStep, worth = () => true }: BoxSearch,
): BoxMinimum {
  let tried = 0;
  const look = (place: readonly number[]) => {
    tried++;
    return { place, value: cost(place) };
  };
  const looks = spreadPlaces(box, box.length === 0 ? 1 : places).map(look);
  looks.sort((a, b) => a.value - b.value);
  const climb = (from: (typeof looks)[number]) => {
    let best = from;
    for (let share = FIRST_STEP; share > lastStep;) {
      const before = best.value;
      box.forEach(({ low, high }, k) => {
        for (const way of [1, -1]) {
          const next = Math.min(high, Math.max(low, best.place[k] + way * share * (high - low)));
          const there = next === best.place[k] ? best : look(best.place.map((at, j) => (j === k ? next : at)));
          if (there.value < best.value) best = there;
        }
      });
      if (!(best.value < before)) share /= 2;
    }
    return best;
  };
  const best = worth(looks[0].value)
    ? looks
        .slice(0, climbs)
        .map(climb)
        .reduce((least, one) => (one.value < least.value ? one : least))
    : looks[0];
  return { ...best, tried };
}
