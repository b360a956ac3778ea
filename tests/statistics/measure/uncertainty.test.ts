/** Combined uncertainties, rates and mixtures against what defines them. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mixtureLower, mixtureMoments, mixtureQuantile } from "../../../src/statistics/distributions/studentMixture";
import { proportion } from "../../../src/statistics/measure/proportion";
import {
  carefullyCombined,
  combinedUncertainty,
  expandedUncertainty,
  guardBand,
  probabilityAbove,
} from "../../../src/statistics/measure/uncertainty";

const standard = fc.double({ min: 0.01, max: 10, noNaN: true });
const df = fc.oneof(fc.integer({ min: 1, max: 60 }), fc.constant(Infinity));
const parts = fc.array(fc.record({ standard, df }), { minLength: 1, maxLength: 5 });

describe("parts of an uncertainty", () => {
  it("that rest on few readings have together the root of the squares of their own intervals at 0.95", () => {
    fc.assert(
      fc.property(parts, (all) => {
        const careful = carefullyCombined(all);
        expect(careful.standard).toBeCloseTo(Math.hypot(...all.map((one) => one.standard)), 12);
        const wide = Math.hypot(...all.map((one) => expandedUncertainty(one, 0.95)));
        // Fewer degrees of freedom than the fewest of a part are not asked for, nor more than count.
        expect(expandedUncertainty(careful, 0.95) / wide).toBeCloseTo(1, 9);
        expect(careful.df).toBeGreaterThanOrEqual(Math.min(...all.map((one) => one.df)) * (1 - 1e-9));
      }),
      { seed: 15, numRuns: 100 },
    );
  });

  it("have the degrees of freedom of Welch and Satterthwaite, between the fewest and the sum of all", () => {
    fc.assert(
      fc.property(parts, (all) => {
        const { df: together } = combinedUncertainty(all);
        const counts = all.map((one) => one.df);
        expect(together).toBeGreaterThanOrEqual(Math.min(...counts) * (1 - 1e-12));
        expect(together).toBeLessThanOrEqual(counts.reduce((sum, one) => sum + one, 0) * (1 + 1e-12));
      }),
      { seed: 16, numRuns: 200 },
    );
    // Two alike of 3 degrees each: (1 + 1)² / (1/3 + 1/3).
    expect(combinedUncertainty([1, 1].map((one) => ({ standard: one, df: 3 }))).df).toBeCloseTo(6, 12);
  });

  it("leave a limit passed as often as their guard band says, on either side", () => {
    fc.assert(
      fc.property(standard, df, fc.double({ min: 0.51, max: 0.999, noNaN: true }), (size, freedom, probability) => {
        const known = { standard: size, df: freedom };
        const guard = guardBand(known, probability);
        expect(probabilityAbove(1 + guard, known, 1)).toBeCloseTo(probability, 9);
        expect(probabilityAbove(1 - guard, known, 1)).toBeCloseTo(1 - probability, 9);
      }),
      { seed: 17, numRuns: 100 },
    );
    expect([2, 1, 0].map((estimate) => probabilityAbove(estimate, { standard: 0, df: 3 }, 1))).toEqual([1, 0, 0]);
  });
});

describe("a rate", () => {
  it("of very many tries is what the exact interval would be, where the two meet and mirrored", () => {
    // On both sides of 100,000 successes the law that is taken changes; the ends hardly do.
    const tries = 2e10;
    for (const successes of [0, 1, 5, 99_999, 100_000, 100_001, 5e5]) {
      const { rate, low, high } = proportion(successes, tries, 0.95);
      expect(rate).toBe(successes / tries);
      const mirror = proportion(tries - successes, tries, 0.95);
      expect(mirror.low).toBeCloseTo(1 - high, 14);
      expect(mirror.high).toBeCloseTo(1 - low, 14);
      // Half of so many tries can still be had exactly: the same counts, twice the rate, to the share of that rate.
      const exact = proportion(successes, 1e10, 0.95);
      expect(high * tries).toBeCloseTo(exact.high * 1e10, successes > 1e5 ? -2 : 0);
      expect(low * tries).toBeCloseTo(exact.low * 1e10, successes > 1e5 ? -2 : 0);
    }
    // All of 3: the rate at which that happens once in 40, 0.025^(1/3).
    expect(proportion(3, 3, 0.95)).toEqual({ rate: 1, low: expect.closeTo(0.025 ** (1 / 3), 12), high: 1 });
    expect(proportion(0, 3, 0.95)).toEqual({ rate: 0, low: 0, high: expect.closeTo(1 - 0.025 ** (1 / 3), 12) });
  });
});

describe("a mixture", () => {
  const part = fc.record({
    weight: fc.double({ min: 0.1, max: 3, noNaN: true }),
    centre: fc.double({ min: -2, max: 2, noNaN: true }),
    scale: fc.double({ min: 0.05, max: 1, noNaN: true }),
    df: fc.constantFrom(1, 2, 3, 8, 1e6),
  });
  it("has the share below its quantile, wherever its parts lie", () => {
    fc.assert(
      fc.property(
        fc.array(part, { minLength: 1, maxLength: 4 }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (all, share) => {
          expect(mixtureLower(all, mixtureQuantile(all, share))).toBeCloseTo(share, 9);
        },
      ),
      { seed: 18, numRuns: 200 },
    );
  });
  it("steps by a part that is exact: half of it at its place, none before", () => {
    const all = [
      { weight: 1, centre: 1, scale: 0, df: 5 },
      { weight: 3, centre: 1, scale: 2, df: 5 },
    ];
    expect(mixtureLower(all, 1)).toBe(0.5);
    expect(mixtureLower(all, 1 - 1e-9)).toBeCloseTo(3 / 8, 8);
    expect(mixtureLower(all, 1 + 1e-9)).toBeCloseTo(5 / 8, 8);
    expect(mixtureQuantile([all[0]!], 0.3)).toBe(1);
  });
  it("has the moments of Student's t: df/(df − 2) of the scale's square where there is such", () => {
    expect(mixtureMoments([{ weight: 2, centre: 3, scale: 2, df: 6 }])).toEqual({ mean: 3, sd: Math.sqrt(6) });
    expect(mixtureMoments([{ weight: 2, centre: 3, scale: 2, df: 2 }])).toEqual({ mean: 3, sd: 2 });
    const two = mixtureMoments([
      { weight: 1, centre: 0, scale: 0, df: 9 },
      { weight: 3, centre: 4, scale: 0, df: 9 },
    ]);
    expect(two.mean).toBe(3);
    expect(two.sd).toBeCloseTo(Math.sqrt(3), 14);
  });
});
