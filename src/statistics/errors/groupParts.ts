/** A fit split into what happens within groups of rows and what happens between them. */
import { fisherUpper } from "../distributions/distributions";
import type { Grouping, Scatter } from "./errorModel";
import { memo } from "../numeric/memo";
import { eigen, inner, zeroMatrix } from "../numeric/symmetric";

/** Sums and cross products by group, along the orthonormal directions of the fit. */
export interface GroupParts {
  /** Rows per group. */
  readonly counts: Float64Array;
  /** Groups with rows. */
  readonly present: readonly number[];
  readonly directionSums: readonly Float64Array[];
  readonly residualSums: Float64Array;
  /** Cross products of the directions, and with the residuals, about the groups' means. */
  readonly crossWithin: number[][];
  readonly pullWithin: readonly number[];
  readonly squaresWithin: number;
  /** What the rows within groups say of the directions that change there; 0 along the others. */
  readonly solvedWithin: readonly number[];
  /** Squares within groups that the drivers cannot take up: the scatter of single rows. */
  readonly leftWithin: number;
  /** Combinations of the coefficients that only change from group to group: orthonormal vectors. */
  readonly still: readonly (readonly number[])[];
}

const parts = memo<GroupParts>(2);

export function splitByGroup(scatter: Scatter, by: Grouping): GroupParts {
  return parts(scatter.directions, [scatter.residuals, by.groups], () => split(scatter, by));
}

function split({ directions, residuals }: Scatter, { groups, levels }: Grouping): GroupParts {
  const size = directions.length;
  const counts = new Float64Array(levels.length);
  for (let row = 0; row < residuals.length; row++) counts[groups[row]]++;
  const sums = (values: Float64Array) => {
    const total = new Float64Array(levels.length);
    for (let row = 0; row < values.length; row++) total[groups[row]] += values[row];
    return total;
  };
  const directionSums = directions.map(sums);
  const residualSums = sums(residuals);
  const { crossWithin, pullWithin, squaresWithin } = aboutMeans([...directions, residuals], groups, [
    ...directionSums.map((one) => one.map((sum, g) => sum / counts[g])),
    residualSums.map((sum, g) => sum / counts[g]),
  ]);
  const { values, vectors } = eigen(crossWithin);
  const solvedWithin = new Array<number>(size).fill(0);
  values.forEach((value, j) => {
    if (value < BETWEEN_ALONE) return;
    const share = inner(vectors[j], pullWithin) / value;
    vectors[j].forEach((part, k) => (solvedWithin[k] += share * part));
  });
  return {
    counts,
    present: levels.flatMap((_, g) => (counts[g] > 0 ? [g] : [])),
    directionSums,
    residualSums,
    crossWithin,
    pullWithin,
    squaresWithin,
    solvedWithin,
    leftWithin: Math.max(0, squaresWithin - inner(solvedWithin, pullWithin)),
    still: vectors.filter((_, j) => values[j] < BETWEEN_ALONE),
  };
}

/** Whether the rows within groups leave a combination open. */
export function onlyBetween({ still }: GroupParts, along: readonly number[]): boolean {
  const size = inner(along, along);
  return still.some((vector) => inner(vector, along) ** 2 > 1e-16 * size);
}

/** Rows that are taken together, so that their deviations stay near and no column of them is kept. */
const BLOCK = 512;

/** Cross products of columns less their groups' means; the last column's apart. */
function aboutMeans(
  columns: readonly Float64Array[],
  groups: ArrayLike<number>,
  means: readonly Float64Array[],
): Pick<GroupParts, "crossWithin" | "pullWithin" | "squaresWithin"> {
  const cross = zeroMatrix(columns.length);
  const blocks = columns.map(() => new Float64Array(Math.min(BLOCK, groups.length)));
  for (let start = 0; start < groups.length; start += BLOCK) {
    const count = Math.min(BLOCK, groups.length - start);
    columns.forEach((values, j) => deviations(values, groups, means[j], start, count, blocks[j]));
    for (let i = 0; i < blocks.length; i++)
      for (let j = 0; j <= i; j++) cross[i][j] += dotted(blocks[i], blocks[j], count);
  }
  const last = columns.length - 1;
  return {
    crossWithin: cross
      .slice(0, last)
      .map((_, i) => cross.slice(0, last).map((__, j) => cross[Math.max(i, j)][Math.min(i, j)])),
    pullWithin: cross[last].slice(0, last),
    squaresWithin: cross[last][last],
  };
}

function deviations(
  values: Float64Array,
  groups: ArrayLike<number>,
  means: Float64Array,
  start: number,
  count: number,
  block: Float64Array,
): void {
  for (let i = 0; i < count; i++) block[i] = values[start + i] - means[groups[start + i]];
}

/** As inner, for the first numbers of blocks alone: two sums, so that additions need not wait for each other. */
function dotted(a: Float64Array, b: Float64Array, count: number): number {
  let total = 0;
  let others = 0;
  for (let i = 1; i < count; i += 2) {
    total += a[i] * b[i];
    others += a[i - 1] * b[i - 1];
  }
  if (count % 2) total += a[count - 1] * b[count - 1];
  return total + others;
}

/** Share of a unit direction's squares within groups below which it is rounding. */
const BETWEEN_ALONE = 1e-12;

/**
 * Do groups differ by more than the scatter within them explains, given the drivers? The exact F test of the groups as
 * further categories, without forming a column for each.
 * @returns p null when no rows are left to judge by
 */
export function groupsDiffer(
  scatter: Scatter,
  by: Grouping,
): { readonly value: number | null; readonly df1: number; readonly df2: number; readonly p: number | null } {
  const { present, leftWithin: left, still } = splitByGroup(scatter, by);
  const size = scatter.directions.length;
  const all = inner(scatter.residuals, scatter.residuals);
  const df2 = scatter.residuals.length - present.length - (size - still.length);
  const df1 = scatter.df - df2;
  if (df1 <= 0 || df2 <= 0 || !(left > 0)) return { value: null, df1, df2, p: null };
  const value = (all - left) / df1 / (left / df2);
  return { value, df1, df2, p: fisherUpper(value, df1, df2) };
}
