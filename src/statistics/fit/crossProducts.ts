/**
 * Sums of products of long columns, exact to about 20 digits at the speed of plain doubles.
 *
 * Each column, less a centre, is cut into a head on a grid of 22 bits and a tail. Products of two heads have 44 bits,
 * so 256 of them add up in a double without any rounding; products with a tail are 2⁻²² as large, and so is their
 * rounding. This is the splitting of Ozaki, Ogita, Oishi & Rump ("Error-free transformations of matrix multiplication
 * by using fast routines of matrix multiplication and its applications", Numerical Algorithms 59 (2012) 95–118), cut
 * off after the first part. Blocks of 256 rows stay in the processor's cache; their sums are added in double-double.
 */
import type { Column, Pair } from "../numeric/doubleDouble";
import { there } from "../../there";
import { add } from "../numeric/doubleDouble";
import { BLOCK, plainSums } from "./blockSums";
import { columnRangeOf, type RangeMemory } from "./columnRange";
import { vectorSums } from "./vectorSums";

/** How a column is cut: value = centre + head + tail, head a multiple of the grid. */
export interface Cut {
  readonly centre: number;
  readonly grid: number;
}

export interface CrossProducts {
  /**
   * Makes sure that the products of these columns with each other are known. Those known from earlier are not formed
   * again.
   * @returns false when a column cannot be cut: it never changes, or lies too far from zero for its range
   */
  ensure(columns: readonly Column[]): boolean;
  /** Σ (a − centre of a)·(b − centre of b). */
  product(a: Column, b: Column): Pair;
  /** Σ (a − centre of a). */
  sum(a: Column): Pair;
  cut(a: Column): Cut;
  /** Bound of the length of the tails over the length of the column less its centre. */
  tail(a: Column): number;
}

const HEAD_BITS = 22;
/** Columns that are remembered beyond those asked for. */
const MOST = 64;
/** Blocks whose sums are added before the running sum is put in order. */
const BLOCKS = 256;
/**
 * Rounding of the sums, as a multiple of Σ |products with a tail|: 2 · 256 additions in a block, 256 of its sums, and
 * the products themselves. What the sums of heads lose between blocks is 2⁻⁵³ of their rounding, far below 2⁻⁸⁰ of the
 * whole.
 */
export const TAIL_ROUNDING = (2 * BLOCK + BLOCKS + 8) * 2 ** -53;

interface Known extends Cut {
  readonly column: Column;
  sum: Pair;
  hasTails: boolean;
  readonly products: Map<Known, Pair>;
}

/**
 * @param rows length of every column
 * @param centred true takes each column less about its mean
 * @param ranges of columns, as far as they are known
 */
export function crossProducts(rows: number, centred: boolean, ranges: RangeMemory = new WeakMap()): CrossProducts {
  // By the array of numbers: whoever wraps it anew asks about the same column.
  const known = new Map<Float64Array, Known>();
  const of = (column: Column) => {
    const found = known.get(column.high);
    if (!found) throw new Error("cross products asked for before they were formed");
    return found;
  };
  return {
    ensure(columns) {
      if (known.size > MOST)
        for (const { high } of [...known.values()].map(({ column }) => column))
          if (!columns.some((one) => one.high === high)) known.delete(high);
      const fresh: Known[] = [];
      const old: Known[] = [];
      for (const column of columns) {
        const before = known.get(column.high);
        if (before) {
          old.push(before);
          continue;
        }
        const cut = cutOf(column, centred, ranges);
        if (!cut) return false;
        fresh.push({ column, ...cut, sum: [0, 0], hasTails: false, products: new Map() });
      }
      form(rows, [...fresh, ...old], fresh.length);
      for (const one of fresh) known.set(one.column.high, one);
      return true;
    },
    product(a, b) {
      const [first, second] = [of(a), of(b)];
      const product = first.products.get(second) ?? second.products.get(first);
      if (!product) throw new Error("cross products asked for before they were formed");
      return product;
    },
    sum: (a) => of(a).sum,
    cut: of,
    tail(a) {
      const one = of(a);
      // A tail is at most half a grid step, and a low part at most as much again in the last digit.
      const [square] = there(one.products.get(one), "a column's product with itself");
      return one.hasTails ? (0.5000001 * one.grid * Math.sqrt(rows)) / Math.sqrt(square) : 0;
    },
  };
}

/** Centre near the mean and grid for the farthest value from it. */
function cutOf({ high }: Column, centred: boolean, ranges: RangeMemory): Cut | undefined {
  const { low: least, high: most, total } = columnRangeOf(high, ranges);
  const mean = centred ? total / high.length : 0;
  const farthest = Math.max(most - mean, mean - least);
  if (!(farthest > 2 ** -300 && farthest < 2 ** 300)) return undefined;
  // A little to spare, so that neither the centre's own rounding nor a low part leads out of the 22 bits.
  const grid = 2 ** (Math.ceil(Math.log2(farthest * (1 + 2 ** -18))) - HEAD_BITS);
  if (Math.max(most, -least) > 2 ** 50 * grid) return undefined;
  return { centre: Math.round(mean / grid) * grid, grid };
}

/** Adding and taking away this number rounds to the grid. */
export function rounder(grid: number): number {
  return 1.5 * 2 ** 52 * grid;
}

/**
 * Cuts rows from `start` on into heads (less the centre) and tails, filled up with zeros. Two columns share one array,
 * [head, head, tail, tail] row by row, because the sums then have two arrays to keep track of and not eight.
 * @returns the sums of heads and of tails
 */
function cutBlock(
  { high, low }: Column,
  { centre, grid }: Cut,
  start: number,
  end: number,
  side: number,
  packed: Float64Array,
): Pair {
  const round = rounder(grid);
  const count = end - start;
  let heads = 0;
  let tails = 0;
  for (let i = 0; i < count; i++) {
    const value = high[start + i];
    const rounded = value + round - round;
    const head = rounded - centre;
    const tail = value - rounded;
    packed[4 * i + side] = head;
    packed[4 * i + side + 2] = tail;
    heads += head;
    tails += tail;
  }
  if (low) {
    for (let i = 0; i < count; i++) {
      packed[4 * i + side + 2] += low[start + i];
      tails += low[start + i];
    }
  }
  for (let i = count; i < BLOCK; i++) packed[4 * i + side] = packed[4 * i + side + 2] = 0;
  return [heads, tails];
}

/**
 * Forms the products of the first `fresh` columns with each other and with all further ones, and the fresh ones' sums.
 */
function form(rows: number, columns: readonly Known[], fresh: number): void {
  const pairs = columns.flatMap((a, i) =>
    columns
      .slice(i)
      .flatMap((b, j) => (i < fresh || !(a.products.has(b) || b.products.has(a)) ? [[i, i + j] as const] : [])),
  );
  if (pairs.length === 0) return;
  const count = columns.length + (columns.length % 2);
  const { packed, out, sums } = vectorSums(BLOCK, count / 2) ?? plainSums(count / 2);
  const tiles: [number, number][] = [];
  for (let i = 0; i < count; i += 2) {
    for (let j = i; j < count; j += 2)
      if (pairs.some(([a, b]) => a >> 1 === i >> 1 && b >> 1 === j >> 1)) tiles.push([i, j]);
  }
  const high = new Float64Array(tiles.length * 4);
  const low = new Float64Array(tiles.length * 4);
  for (let start = 0, blocks = 1; start < rows; start += BLOCK, blocks++) {
    const end = Math.min(rows, start + BLOCK);
    for (let i = 0; i < columns.length; i++) {
      const [heads, tails] = cutBlock(columns[i].column, columns[i], start, end, i % 2, packed[i >> 1]);
      if (i >= fresh) continue;
      columns[i].sum = add(columns[i].sum, add([heads, 0], [tails, 0]));
      columns[i].hasTails ||= hasTails(packed[i >> 1], i % 2);
    }
    tiles.forEach(([i, j], t) => {
      sums(i >> 1, j >> 1);
      addBlock(out, high, low, 4 * t);
    });
    if (blocks % BLOCKS === 0) {
      for (let k = 0; k < high.length; k++) {
        const both = high[k] + low[k];
        low[k] -= both - high[k];
        high[k] = both;
      }
    }
  }
  tiles.forEach(([i, j], t) => {
    for (const [k, a, b] of [
      [0, i, j],
      [1, i, j + 1],
      [2, i + 1, j],
      [3, i + 1, j + 1],
    ]) {
      if (a > b || b >= columns.length) continue;
      if (a >= fresh && (columns[a].products.has(columns[b]) || columns[b].products.has(columns[a]))) continue;
      columns[a].products.set(columns[b], add([high[4 * t + k], 0], [low[4 * t + k], 0]));
    }
  });
}

/** Adds a block's four sums to the running ones, each of which keeps its rounding beside it. */
function addBlock(block: Float64Array, high: Float64Array, low: Float64Array, place: number): void {
  for (let k = 0; k < 4; k++) {
    const before = high[place + k];
    const both = before + block[k];
    const part = both - before;
    low[place + k] += before - (both - part) + (block[k] - part) + block[4 + k];
    high[place + k] = both;
  }
}

function hasTails(packed: Float64Array, side: number): boolean {
  for (let i = side + 2; i < packed.length; i += 4) if (packed[i] !== 0) return true;
  return false;
}
