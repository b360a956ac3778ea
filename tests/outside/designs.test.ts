/**
 * Plans of trials against published tables. Each value is quoted from memory of the source named beside it, and held by
 * what the plan is defined by: all fractions are tried, with their words counted in another way; R computes the error
 * of predictions from the plan's own rows.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { compositeDesign } from "../../src/statistics/design/compositeDesign";
import { blocked, order, signOf, twoLevel } from "../../src/statistics/design/twoLevel";
import { digits, startR, vector, type R } from "./r";

type Point = readonly number[];

/**
 * How many words of each length are constant in rows of −1 and 1, from how many pairs of rows differ in how many
 * places: MacWilliams' identity, as Xu & Wu, Ann. Statist. 29 (2001) 1066–1077, use it for plans. No word is looked at.
 */
function wordsByLength(rows: readonly Point[]): number[] {
  const factors = rows[0].length;
  const apart = new Array<number>(factors + 1).fill(0);
  for (const one of rows)
    for (const other of rows) apart[one.reduce((count, level, i) => count + (level === other[i] ? 0 : 1), 0)]++;
  return Array.from({ length: factors }, (_, i) => {
    const total = apart.reduce((sum, pairs, distance) => sum + pairs * krawtchouk(i + 1, distance, factors), 0);
    return total / rows.length ** 2;
  });
}

function krawtchouk(k: number, x: number, n: number): number {
  let sum = 0;
  for (let j = 0; j <= k; j++) sum += (-1) ** j * choose(x, j) * choose(n - x, k - j);
  return sum;
}

const choose = (n: number, k: number): number => (k < 0 || k > n ? 0 : k === 0 ? 1 : (choose(n - 1, k - 1) * n) / k);

/** All fractions: the first factors take every combination, each further one the product of some of them. */
function* fractions(factors: number, runs: number): Generator<Point[]> {
  const base = Math.log2(runs);
  const full = Array.from({ length: runs }, (_, run) =>
    Array.from({ length: base }, (_unused, i) => ((run >> i) & 1 ? 1 : -1)),
  );
  const products = Array.from({ length: runs }, (_, set) => set).filter((set) => order(set) > 1);
  function* added(count: number, from: number): Generator<number[]> {
    if (count === 0) yield [];
    else
      for (let i = from; i < products.length; i++)
        for (const rest of added(count - 1, i + 1)) yield [products[i], ...rest];
  }
  for (const sets of added(factors - base, 0))
    yield full.map((row) => [
      ...row,
      ...sets.map((set) => row.reduce<number>((sign, level, i) => ((set >> i) & 1 ? sign * level : sign), 1)),
    ]);
}

/** Whether the first has fewer words of the shortest length in which they differ. */
const fewer = (one: readonly number[], other: readonly number[]) => {
  const at = one.findIndex((count, i) => count !== other[i]);
  return at >= 0 && one[at] < other[at];
};

let R: R;
beforeAll(async () => void (R = await startR()));
afterAll(() => R.close());

describe("fractions", () => {
  // Resolutions: Box, Hunter & Hunter, Statistics for Experimenters (1978), table 12.15, which NIST/SEMATECH,
  // e-Handbook of Statistical Methods, section 5.3.3.4.7 repeats. Words by length: Chen, Sun & Wu, Int. Statist. Rev.
  // 61 (1993) 131–145, tables of least aberration. Values from memory, held by trying all.
  it.each([
    [3, 4, 3, { 3: 1 }],
    [4, 8, 4, { 4: 1 }],
    [5, 8, 3, { 3: 2, 4: 1 }],
    [6, 8, 3, { 3: 4, 4: 3 }],
    [7, 8, 3, { 3: 7, 4: 7, 7: 1 }],
    [5, 16, 5, { 5: 1 }],
    [6, 16, 4, { 4: 3 }],
    [7, 16, 4, { 4: 7 }],
    [8, 16, 4, { 4: 14, 8: 1 }],
    [6, 32, 6, { 6: 1 }],
    [7, 32, 4, { 4: 1, 5: 2 }],
    [8, 32, 4, { 4: 3, 5: 4 }],
    [7, 64, 7, { 7: 1 }],
    [8, 64, 5, { 5: 2, 6: 1 }],
  ] as const)("of %i factors in %i runs have resolution %i and words %o", (factors, runs, resolution, lengths) => {
    const plan = twoLevel(factors, runs);
    expect(plan.resolution).toBe(resolution);
    const found: Record<number, number> = {};
    for (const word of plan.words) found[order(word)] = (found[order(word)] ?? 0) + 1;
    expect(found).toEqual(lengths);
    const counts = wordsByLength(plan.points);
    expect(counts).toEqual(counts.map((_, i) => found[i + 1] ?? 0));
    for (const rows of fractions(factors, runs)) expect(fewer(wordsByLength(rows), counts)).toBe(false);
  });

  // Box, Hunter & Hunter (1978), section 12.3: D = ABC, so that AB and CD, AC and BD, AD and BC go together. From
  // memory.
  it("of four factors in eight runs mix up the three pairs of joint effects", () => {
    const plan = twoLevel(4, 8);
    const mask = (letters: string) => [...letters].reduce((sum, letter) => sum + 2 ** (letter.charCodeAt(0) - 65), 0);
    for (const [a, b] of [
      ["AB", "CD"],
      ["AC", "BD"],
      ["AD", "BC"],
    ])
      for (const point of plan.points)
        expect(signOf(mask(a), point) * signOf(mask(b), point)).toBe(signOf(mask("ABCD"), plan.points[0]));
  });

  // Box, Hunter & Hunter (1978), chapter 10, on blocking: 2³ in two blocks loses ABC alone; in four blocks
  // three joint effects of two. Common practice; from memory.
  it("lose the highest joint effects to blocks", () => {
    expect(blocked(twoLevel(3, 8), 2).lost).toEqual([7]);
    expect(blocked(twoLevel(3, 8), 4).lost.map(order)).toEqual([2, 2, 2]);
    expect(blocked(twoLevel(4, 16), 2).lost).toEqual([15]);
    expect(blocked(twoLevel(4, 16), 4).lost.map(order).sort()).toEqual([2, 3, 3]);
  });
});

const matrix = (points: readonly Point[], factors: number) =>
  `matrix(${vector(points.flat())}, ncol = ${factors}, byrow = TRUE)`;

describe("composite plans", () => {
  // NIST/SEMATECH e-Handbook, section 5.3.3.6.1, table 3.23: star distances that make a plan turnable. From memory,
  // held by the definition: predictions at one distance from the centre are equally sure in every direction.
  it.each([
    [2, 1.414],
    [3, 1.682],
    [4, 2.0],
    [5, 2.0],
    [6, 2.378],
  ])("%i factors: the star reaches %d", async (factors, reach) => {
    // From five factors on the table has the half fraction as the cube, as here.
    const plan = compositeDesign(factors, "turning", [2, 1]);
    expect(plan.reach).toBeCloseTo(reach, 3);
    const [first, ...others] = await R.numbers(`{
      rows <- ${matrix(plan.points, factors)}
      full <- function(x) cbind(1, x, x^2, do.call(cbind, combn(${factors}, 2, function(i) x[, i[1]] * x[, i[2]], FALSE)))
      set.seed(7)
      at <- matrix(rnorm(12 * ${factors}), 12)
      at <- 1.3 * at / sqrt(rowSums(at^2))
      rowSums(full(at) %*% solve(crossprod(full(rows))) * full(at))
    }`);
    for (const other of others) expect(digits(other, first)).toBeGreaterThan(11);
  });

  // Box & Hunter, Ann. Math. Statist. 28 (1957) 195–241, table of plans in blocks: k = 2 with 3 + 3 centres reaches
  // 1.414; k = 3 with 4 + 2 centres (the cube in two blocks of 4 + 2) reaches 1.633; k = 4 with 4 + 2 reaches 2.000.
  // From memory, held by the definition: what is added to every reading of a block changes no effect.
  it.each([
    [2, [3, 3], 1.4142],
    [3, [4, 2], 1.633],
    [4, [4, 2], 2.0],
  ] as const)("%i factors in blocks with centres %j: the star reaches %d", async (factors, centres, reach) => {
    const plan = compositeDesign(factors, "blocks", centres);
    expect(plan.reach).toBeCloseTo(reach, 3);
    const changed = await R.numbers(`{
      rows <- ${matrix(plan.points, factors)}
      block <- ${vector(plan.blocks)}
      pairs <- do.call(cbind, combn(${factors}, 2, function(i) rows[, i[1]] * rows[, i[2]], FALSE))
      lm.fit(cbind(1, rows, rows^2, pairs), block)$coefficients[-1]
    }`);
    for (const one of changed) expect(Math.abs(one)).toBeLessThan(1e-14);
  });
});
