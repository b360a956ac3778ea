/** Which rows of many are alike, without making a key of each. */

/** What rows are compared by. */
export interface Compared {
  /** A whole number that is the same for rows that are alike. */
  hash(row: number): number;
  same(row: number, other: number): boolean;
}

/**
 * For each row the first that is alike in all that is compared: itself where none before it is.
 * @example firstAlike(3, [numbersCompared([5, 7, 5])]) // Uint32Array [0, 1, 0]
 */
export function firstAlike(rows: number, compared: readonly Compared[]): Uint32Array {
  const hashes = new Uint32Array(rows);
  for (const one of compared)
    for (let row = 0; row < rows; row++) hashes[row] = Math.imul(hashes[row] ^ one.hash(row), 0x9e3779b1);
  // At most half of the slots are taken, or the search for a free one is long.
  const slots = new Uint32Array(2 ** Math.ceil(Math.log2(2 * rows + 1)));
  const mask = slots.length - 1;
  const first = new Uint32Array(rows);
  for (let row = 0; row < rows; row++) {
    const hash = hashes[row];
    for (let slot = (hash ^ (hash >>> 15)) & mask; ; slot = (slot + 1) & mask) {
      const known = slots[slot];
      if (known > 0 && !(hashes[known - 1] === hash && compared.every((one) => one.same(row, known - 1)))) continue;
      if (known === 0) slots[slot] = row + 1;
      first[row] = known === 0 ? row : known - 1;
      break;
    }
  }
  return first;
}

/** Numbers as they are, -0 being 0. */
export function numbersCompared(values: ArrayLike<number>): Compared {
  return { hash: (row) => hashOfNumber(values[row]), same: (row, other) => values[row] === values[other] };
}

const number = new Float64Array(1);
const halves = new Uint32Array(number.buffer);

/** A whole number that is the same for equal numbers. */
export function hashOfNumber(value: number): number {
  number[0] = value + 0;
  return halves[0] ^ Math.imul(halves[1], 0x85ebca6b);
}
