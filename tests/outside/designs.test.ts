/** Plans of trials against published tables. Each value is quoted from memory of the source named beside it. */
import { describe, expect, it } from "vitest";
import { compositeDesign } from "../../src/statistics/design/compositeDesign";
import { blocked, order, signOf, twoLevel } from "../../src/statistics/design/twoLevel";

describe("fractions", () => {
  // Resolutions: Box, Hunter & Hunter, Statistics for Experimenters (1978), table 12.15, which NIST/SEMATECH,
  // e-Handbook of Statistical Methods, section 5.3.3.4.7 repeats. Words by length: Chen, Sun & Wu, Int. Statist. Rev.
  // 61 (1993) 131–145, tables of least aberration. Values from memory.
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

describe("composite plans", () => {
  // NIST/SEMATECH e-Handbook, section 5.3.3.6.1, table 3.23: star distances that make a plan turnable. From memory.
  it.each([
    [2, 1.414],
    [3, 1.682],
    [4, 2.0],
    [5, 2.0],
    [6, 2.378],
  ])("%i factors: the star reaches %d", (factors, reach) => {
    // From five factors on the table has the half fraction as the cube, as here.
    expect(compositeDesign(factors, "turning", [0, 0]).reach).toBeCloseTo(reach, 3);
  });

  // Box & Hunter, Ann. Math. Statist. 28 (1957) 195–241, table of plans in blocks: k = 2 with 3 + 3 centres reaches
  // 1.414; k = 3 with 4 + 2 centres (the cube in two blocks of 4 + 2) reaches 1.633; k = 4 with 4 + 2 reaches 2.000.
  // From memory.
  it.each([
    [2, [3, 3], 1.4142],
    [3, [4, 2], 1.633],
    [4, [4, 2], 2.0],
  ] as const)("%i factors in blocks with centres %j: the star reaches %d", (factors, centres, reach) => {
    expect(compositeDesign(factors, "blocks", centres).reach).toBeCloseTo(reach, 3);
  });
});
