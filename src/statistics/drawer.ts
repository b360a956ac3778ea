/** Seeded drawing of whole numbers and of orders. May import: pure-rand. */
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
 * The items in an order in which each is as likely as any other (Fisher and Yates; Durstenfeld, Comm. ACM 7 (1964) 420).
 * @example shuffled([1, 2, 3], (limit) => limit - 1) // [1, 2, 3]
 */
export function shuffled<T>(items: readonly T[], draw: Draw): T[] {
  const order = [...items];
  for (let last = order.length - 1; last > 0; last--) {
    const other = draw(last + 1);
    [order[last], order[other]] = [order[other], order[last]];
  }
  return order;
}
