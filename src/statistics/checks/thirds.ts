/** Rows cut into thirds by a number, for what is told of groups. */
import { extent } from "../numeric/extent";
import { select } from "../numeric/median";

/** Fewer rows than this tell nothing of a group's spread. */
const LEAST_ROWS = 3;

export interface Thirds {
  /** Group of each row, from the lowest values up. */
  readonly groups: Uint8Array;
  /** The least and the greatest value of each group. */
  readonly ends: readonly (readonly [low: number, high: number])[];
}

/**
 * Groups of as nearly equal counts as can be with equal values together: three, or two when most rows hold one of two
 * values.
 * @returns why there are no such groups, when the values leave fewer than two or one of fewer than three rows
 * @example thirds([1, 1, 1, 2, 2, 2, 5, 6, 6]).ends // [[1, 1], [2, 2], [5, 6]]
 */
export function thirds(values: ArrayLike<number>): Thirds | { readonly why: string } {
  const rows = values.length;
  const { low, high } = extent(values);
  if (!(low < high)) return { why: "it never changes" };
  // The selections share one copy: each leaves the same values in another order.
  const copy = Float64Array.from(values);
  const begins = [...new Set([0, cutNear(copy, rows / 3), cutNear(copy, (2 * rows) / 3)])];
  const least = Math.min(...begins.map((begin, g) => (begins[g + 1] ?? rows) - begin));
  if (least < LEAST_ROWS) {
    return {
      why: `its ${rows} ${rows === 1 ? "row" : "rows"} cut into ${begins.length} parts ${least === 1 ? "leave a single row" : `leave only ${least} rows`} in one of them, and ${LEAST_ROWS} are needed`,
    };
  }
  // The least value of each group but the first: what would stand at its beginning if the rows were sorted.
  return grouped(values, [-Infinity, ...begins.slice(1).map((begin) => select(copy, begin))]);
}

/**
 * How many rows lie below the cut nearest to a place among the sorted rows; the lower of two that are as near. A cut
 * lies between two different values. Found by selection, since sorting a long log takes several times as long.
 */
function cutNear(values: Float64Array, wanted: number): number {
  const rows = values.length;
  const [floor, ceiling] = [Math.floor(wanted), Math.ceil(wanted)];
  const down = below(values, select(values, floor)).less;
  const { less, notMore } = ceiling < rows ? below(values, select(values, ceiling)) : { less: rows, notMore: rows };
  const up = less === ceiling ? ceiling : notMore;
  return up >= rows || (down > 0 && wanted - down <= up - wanted) ? down : up;
}

/** How many of the values are less than a number, and how many are not more. */
function below(values: Float64Array, number: number): { readonly less: number; readonly notMore: number } {
  let less = 0;
  let notMore = 0;
  for (let row = 0; row < values.length; row++) {
    less += values[row] < number ? 1 : 0;
    notMore += values[row] <= number ? 1 : 0;
  }
  return { less, notMore };
}

/** @param begins least value of each group, ascending */
function grouped(values: ArrayLike<number>, begins: readonly number[]): Thirds {
  const groups = new Uint8Array(values.length);
  const ends = begins.map((): [number, number] => [Infinity, -Infinity]);
  for (let row = 0; row < values.length; row++) {
    const value = values[row];
    let group = begins.length - 1;
    while (value < begins[group]) group--;
    groups[row] = group;
    const end = ends[group];
    if (value < end[0]) end[0] = value;
    if (value > end[1]) end[1] = value;
  }
  return { groups, ends };
}
