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
  const columns = [...directions, residuals].map((values) => columnWithin(values, groups, counts));
  const cross = crossWithinGroups(columns, groups);
  const crossWithin = cross.slice(0, size).map((row) => row.slice(0, size));
  const pullWithin = cross[size].slice(0, size);
  const squaresWithin = cross[size][size];
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
    directionSums: columns.slice(0, size).map(({ sums }) => sums),
    residualSums: columns[size].sums,
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

/** A column about its groups' means. */
interface Within {
  readonly values: Float64Array;
  /** Of its rows in each group. */
  readonly sums: Float64Array;
  readonly means: Float64Array;
  /**
   * Σ of products with another column, each less its groups' means, as far as they were asked for; absent for short
   * columns, whose products are made anew sooner than found.
   */
  readonly cross?: WeakMap<Float64Array, number>;
}

/** By the groups of the rows: most directions of a changed question are those of the one before. */
const known = new WeakMap<ArrayLike<number>, WeakMap<Float64Array, Within>>();
/** Columns of so many rows are remembered. */
const LONG = 5000;

function columnWithin(values: Float64Array, groups: ArrayLike<number>, counts: Float64Array): Within {
  if (values.length < LONG) return about(values, groups, counts);
  const ofGroups = known.get(groups) ?? new WeakMap<Float64Array, Within>();
  known.set(groups, ofGroups);
  const found = ofGroups.get(values) ?? {
    ...about(values, groups, counts),
    cross: new WeakMap<Float64Array, number>(),
  };
  ofGroups.set(values, found);
  return found;
}

function about(values: Float64Array, groups: ArrayLike<number>, counts: Float64Array): Within {
  const sums = new Float64Array(counts.length);
  for (let row = 0; row < values.length; row++) sums[groups[row]] += values[row];
  return { values, sums, means: sums.map((sum, g) => sum / counts[g]) };
}

/** Rows that are taken together, so that their deviations stay near and no column of them is kept. */
const BLOCK = 512;

/** Cross products of columns less their groups' means. */
function crossWithinGroups(columns: readonly Within[], groups: ArrayLike<number>): number[][] {
  const cross = zeroMatrix(columns.length);
  const fresh: (readonly [number, number])[] = [];
  columns.forEach((a, i) => {
    for (let j = 0; j <= i; j++) {
      const before = a.cross?.get(columns[j].values);
      if (before === undefined) fresh.push([i, j]);
      else cross[i][j] = cross[j][i] = before;
    }
  });
  const totals = freshProducts(columns, groups, fresh);
  fresh.forEach(([i, j], k) => {
    cross[i][j] = cross[j][i] = totals[k];
    columns[i].cross?.set(columns[j].values, totals[k]);
    columns[j].cross?.set(columns[i].values, totals[k]);
  });
  return cross;
}

/** Σ of products of these pairs of columns, each less its groups' means. */
function freshProducts(
  columns: readonly Within[],
  groups: ArrayLike<number>,
  pairs: readonly (readonly [number, number])[],
): Float64Array {
  const totals = new Float64Array(pairs.length);
  if (pairs.length === 0) return totals;
  const blocks = columns.map(() => new Float64Array(Math.min(BLOCK, groups.length)));
  for (let start = 0; start < groups.length; start += BLOCK) {
    const count = Math.min(BLOCK, groups.length - start);
    columns.forEach(({ values, means }, j) => deviations(values, groups, means, start, count, blocks[j]));
    for (let k = 0; k < pairs.length; k++) totals[k] += dotted(blocks[pairs[k][0]], blocks[pairs[k][1]], count);
  }
  return totals;
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
