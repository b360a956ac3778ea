/** Latin squares: every symbol once in each row and once in each column. */
import { shuffled, type Draw } from "../numeric/drawer";

/**
 * A square of symbols 0 to size − 1: the cyclic one with its rows, columns and symbols in drawn orders (Fisher & Yates,
 * Statistical Tables (1938), drew from a larger set; this one balances rows, columns and symbols as well).
 * @param size 2 or more
 * @example latinSquare(2, () => 0).length // 2
 */
export function latinSquare(size: number, draw: Draw): number[][] {
  if (!(Number.isInteger(size) && size >= 2)) throw new RangeError(`size is ${size}: a square has at least 2 rows`);
  const places = Array.from({ length: size }, (_, i) => i);
  const [rows, columns, symbols] = [shuffled(places, draw), shuffled(places, draw), shuffled(places, draw)];
  return rows.map((row) => columns.map((column) => symbols[(row + column) % size]));
}
