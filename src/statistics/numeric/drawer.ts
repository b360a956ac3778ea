/** Seeded drawing of whole numbers and of orders. */
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

/** Draws a whole number from 0 to below the limit. */
export type Draw = (limit: number) => number;

/** The same numbers for the same seed (xoroshiro128+). @param seed a whole number */
export function drawer(seed: number): Draw {
  const generator = xoroshiro128plus(seed);
  // The upper bits of a product: at 2³² values the bias for a few thousand rows is below 1e−6.
  return (limit) => Math.floor(((generator.next() >>> 0) / 4294967296) * limit);
}

/**
 * Puts what stands at the places into an order in which each is as likely as any other (Fisher and Yates; Durstenfeld,
 * Comm. ACM 7 (1964) 420).
 */
export function mix<T>(items: { [place: number]: T }, places: ArrayLike<number>, draw: Draw): void {
  for (let last = places.length - 1; last > 0; last--) {
    const [a, b] = [places[last], places[draw(last + 1)]];
    [items[a], items[b]] = [items[b], items[a]];
  }
}

/**
 * The items in a drawn order, see `mix`.
 * @example shuffled([1, 2, 3], (limit) => limit - 1) // [1, 2, 3]
 */
export function shuffled<T>(items: readonly T[], draw: Draw): T[] {
  const order = [...items];
  mix(order, [...order.keys()], draw);
  return order;
}

/** Numbers for drawing from distributions. */
export interface Random {
  /** Above 0 and below 1, in steps of 2⁻⁵³. */
  uniform(): number;
  normal(): number;
}

/** The same numbers for the same seed (xoroshiro128+). @param seed a whole number */
export function randomOf(seed: number): Random {
  const generator = xoroshiro128plus(seed);
  /** Above 0 and below 1, in steps of 2⁻⁵³. */
  const uniform = () => ((generator.next() >>> 5) * 67108864 + (generator.next() >>> 6) + 0.5) / 9007199254740992;
  let spare: number | undefined;
  // Box & Muller, Ann. Math. Statist. 29 (1958) 610–611; both of the pair are used.
  const normal = () => {
    if (spare !== undefined) {
      const value = spare;
      spare = undefined;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log(uniform()));
    const angle = 2 * Math.PI * uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  return { uniform, normal };
}
