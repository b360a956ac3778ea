/**
 * Repeatability and the intervals of a random shift's standard deviations, against a published example and formulas for
 * the balanced case.
 */
import { describe, expect, it } from "vitest";
import { chiSquareQuantile, fisherQuantile } from "../../src/statistics/distributions/distributions";
import { regress } from "../../src/statistics/fit/regression";
import { repeatability } from "../../src/statistics/measure/repeatability";
import { digits } from "./r";

// P. E. Shrout & J. L. Fleiss, Psychological Bulletin 86 (1979) 420–428, table 2: six targets, four judges, and what
// they print of it: mean squares 11.24 between and 6.26 within targets, F of judges 31.87, first correlation 0.17. The
// ratings as the R package psych 2.2.9 (Debian's r-cran-psych) carries them; its function for such correlations, run in
// R 4.2.2, gives 0.1657 and −0.1329 to 0.7226 for the first.
const judged = [
  [9, 2, 5, 8],
  [6, 1, 3, 2],
  [8, 4, 6, 8],
  [7, 1, 2, 6],
  [10, 5, 6, 9],
  [6, 2, 4, 7],
];

describe("repeatability", () => {
  const found = repeatability(judged, 0.95);
  it("is that of Shrout and Fleiss's example", () => {
    expect(found.sd ** 2).toBeCloseTo(6.26, 2);
    expect(4 * found.between ** 2 + found.sd ** 2).toBeCloseTo(11.24, 2);
    expect(1 - (found.share ?? NaN)).toBeCloseTo(0.1657, 4);
    expect(1 - (found.shareInterval?.low ?? NaN)).toBeCloseTo(0.7225601, 7);
    // The printed end lies below 0, where no share of a variance does.
    expect(found.shareInterval?.high).toBe(1);
    expect(found.shiftTest.value).toBeCloseTo(31.87, 2);
    expect([found.df, found.shiftTest.df1, found.shiftTest.df2]).toEqual([18, 3, 15]);
  });
});

describe("intervals of the spread between and within groups", () => {
  it("balanced: those of Williams, by hand from the mean squares", () => {
    const y = judged.flat();
    const groups = y.map((_, i) => Math.floor(i / 4));
    const fit = regress({
      response: y,
      drivers: [],
      errors: { kind: "random", by: { name: "target", groups, levels: ["a", "b", "c", "d", "e", "f"] } },
    });
    const ends = fit.spreadIntervals();
    const means = judged.map((one) => one.reduce((total, value) => total + value, 0) / 4);
    const centre = means.reduce((total, mean) => total + mean, 0) / 6;
    const between = 4 * means.reduce((total, mean) => total + (mean - centre) ** 2, 0);
    const within = judged.reduce(
      (total, one, i) => total + one.reduce((sum, value) => sum + (value - means[i]) ** 2, 0),
      0,
    );
    const F = between / 5 / (within / 18);
    const end = (probability: number) =>
      Math.sqrt(
        Math.max(0, between * (1 - fisherQuantile(probability, 5, 18) / F)) / 4 / chiSquareQuantile(probability, 5),
      );
    expect(ends?.between.low).toBe(0);
    // The ratio is halved to about 16 digits and enters by its root.
    expect(digits(ends?.between.high ?? NaN, end(0.025))).toBeGreaterThan(10);
    expect(digits(ends?.within.low ?? NaN, Math.sqrt(within / chiSquareQuantile(0.975, 18)))).toBeGreaterThan(11);
  });
});
