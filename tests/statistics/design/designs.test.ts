/** Plans of trials by their properties: balance, orthogonality, what is mixed up. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compositeDesign } from "../../../src/statistics/design/compositeDesign";
import { drawer, shuffled } from "../../../src/statistics/numeric/drawer";
import { latinSquare } from "../../../src/statistics/design/latinSquare";
import { blocked, fractionRuns, mixedWith, order, signOf, twoLevel } from "../../../src/statistics/design/twoLevel";

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
const plans = Array.from({ length: 8 }, (_, i) => i + 1).flatMap((factors) =>
  fractionRuns(factors).map((runs) => [factors, runs] as const),
);

describe("two levels", () => {
  it.each(plans)(
    "%i factors in %i runs: single effects balanced and square to each other, words constant",
    (factors, runs) => {
      const plan = twoLevel(factors, runs);
      expect(plan.points).toHaveLength(runs);
      expect(new Set(plan.points.map(String)).size).toBe(runs);
      for (let a = 0; a < factors; a++) {
        expect(sum(plan.points.map((point) => point[a]))).toBe(0);
        for (let b = 0; b < a; b++)
          expect(sum(plan.points.map((point) => point[a] * point[b]))).toBe(plan.resolution === 2 ? NaN : 0);
      }
      for (const word of plan.words) expect(new Set(plan.points.map((point) => signOf(word, point))).size).toBe(1);
      for (const other of mixedWith(1, plan))
        expect(Math.abs(sum(plan.points.map((point) => signOf(1, point) * signOf(other, point))))).toBe(runs);
    },
  );

  it("says what is out of range", () => {
    expect(() => twoLevel(9, 16)).toThrow("factors is 9");
    expect(() => twoLevel(4, 4)).toThrow("runs is 4: 4 factors at two levels take 8, 16");
    expect(() => twoLevel(3, 6)).toThrow("runs is 6");
  });

  it.each([
    [3, 8, 2],
    [3, 8, 4],
    [4, 16, 2],
    [4, 16, 4],
    [4, 16, 8],
    [5, 16, 2],
    [6, 16, 2],
    [7, 16, 2],
    [8, 64, 4],
  ])(
    "%i factors in %i runs, %i blocks: equal blocks, single effects kept, lost effects constant in each",
    (factors, runs, count) => {
      const plan = twoLevel(factors, runs);
      const { blocks, lost } = blocked(plan, count);
      for (let block = 0; block < count; block++) {
        const inside = plan.points.filter((_, run) => blocks[run] === block);
        expect(inside).toHaveLength(runs / count);
        for (let factor = 0; factor < factors; factor++) expect(sum(inside.map((point) => point[factor]))).toBe(0);
        for (const effect of lost) expect(new Set(inside.map((point) => signOf(effect, point))).size).toBe(1);
      }
      expect(lost).toHaveLength(count - 1);
      expect(Math.min(...lost.map(order))).toBeGreaterThan(1);
    },
  );

  it("refuses blocks that would cost a single factor", () => {
    expect(() => blocked(twoLevel(7, 8), 2)).toThrow("without losing a single factor's effect");
    expect(() => blocked(twoLevel(3, 8), 3)).toThrow("3 blocks");
  });
});

describe("composite", () => {
  it.each([2, 3, 4, 5, 6, 7, 8])(
    "%i factors, turning: the error of a prediction depends on the distance alone",
    (factors) => {
      const { points } = compositeDesign(factors, "turning", [0, 3]);
      // Box & Hunter (1957): Σx⁴ = 3 Σx²y², and all odd moments vanish.
      expect(sum(points.map((point) => point[0] ** 4))).toBeCloseTo(
        3 * sum(points.map((point) => point[0] ** 2 * point[1] ** 2)),
        9,
      );
      expect(sum(points.map((point) => point[0] ** 2 * point[1]))).toBe(0);
    },
  );

  it.each([2, 3, 4, 5, 6])("%i factors, blocks: squares are as frequent in each block as its runs", (factors) => {
    const { points, blocks } = compositeDesign(factors, "blocks", [3, 2]);
    const share = (block: number) =>
      sum(points.filter((_, run) => blocks[run] === block).map((point) => point[0] ** 2)) /
      blocks.filter((one) => one === block).length;
    expect(share(0)).toBeCloseTo(share(1), 12);
  });

  it("keeps to three levels on the face", () =>
    expect(new Set(compositeDesign(3, "face", [2, 2]).points.flat())).toEqual(new Set([-1, 0, 1])));
  it("says what is out of range", () => {
    expect(() => compositeDesign(1, "face", [1, 1])).toThrow("takes 2 to 8");
    expect(() => compositeDesign(2, "face", [-1, 1])).toThrow("centres is -1");
  });
});

describe("order and squares", () => {
  it("every symbol once in each row and column, the same for the same seed", () =>
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 9 }), fc.integer(), (size, seed) => {
        const square = latinSquare(size, drawer(seed));
        expect(latinSquare(size, drawer(seed))).toEqual(square);
        for (const line of [...square, ...square[0].map((_, c) => square.map((row) => row[c]))])
          expect([...line].sort((a, b) => a - b)).toEqual(Array.from({ length: size }, (_, i) => i));
      }),
    ));

  it("each order of three comes about equally often", () => {
    const draw = drawer(11);
    const count = new Map<string, number>();
    const draws = 6000;
    for (let i = 0; i < draws; i++) {
      const key = shuffled(["a", "b", "c"], draw).join("");
      count.set(key, (count.get(key) ?? 0) + 1);
    }
    expect(count.size).toBe(6);
    // 1000 expected each; five standard deviations of a count are 145. The seed is fixed, so this cannot flicker.
    for (const n of count.values()) expect(Math.abs(n - draws / 6)).toBeLessThan(145);
  });
});
