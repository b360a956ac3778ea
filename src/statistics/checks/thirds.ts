/** Rows cut into thirds by a number, for what is told of groups. */

/** Fewer rows than this tell nothing of a group's spread. */
const LEAST_ROWS = 3;

export interface Thirds {
  /** Group of each row, from the lowest values up. */
  readonly groups: readonly number[];
  /** The least and the greatest value of each group. */
  readonly ends: readonly (readonly [low: number, high: number])[];
}

/**
 * Groups of as nearly equal counts as can be with equal values together: three, or two when most rows hold one of two
 * values.
 * @returns why there are no such groups, when the values leave fewer than two or one of fewer than three rows
 * @example thirds([1, 1, 1, 2, 2, 2, 5, 6, 6]) // { groups: [0, 0, 0, 1, 1, 1, 2, 2, 2], ends: [[1, 1], [2, 2], [5, 6]] }
 */
export function thirds(values: ArrayLike<number>): Thirds | { readonly why: string } {
  const sorted = Float64Array.from(values).sort();
  const rows = sorted.length;
  if (rows === 0 || sorted[0] === sorted[rows - 1]) return { why: "it never changes" };
  const isCut = (below: number) => below > 0 && below < rows && sorted[below] > sorted[below - 1];
  // A cut lies between two different values; the count of rows below it says where. The lower of two that are as near.
  const nearest = (wanted: number) => {
    let [down, up] = [Math.floor(wanted), Math.ceil(wanted)];
    while (down > 0 && !isCut(down)) down--;
    while (up < rows && !isCut(up)) up++;
    return up >= rows || (down > 0 && wanted - down <= up - wanted) ? down : up;
  };
  const begins = [...new Set([0, nearest(rows / 3), nearest((2 * rows) / 3)])];
  const ends = begins.map((begin, g): [number, number] => [sorted[begin], sorted[(begins[g + 1] ?? rows) - 1]]);
  const least = Math.min(...begins.map((begin, g) => (begins[g + 1] ?? rows) - begin));
  if (least < LEAST_ROWS) {
    return {
      why: `its ${rows} ${rows === 1 ? "row" : "rows"} cut into ${begins.length} parts ${least === 1 ? "leave a single row" : `leave only ${least} rows`} in one of them, and ${LEAST_ROWS} are needed`,
    };
  }
  return { groups: Array.from(values, (value) => ends.findIndex(([, high]) => value <= high)), ends };
}
