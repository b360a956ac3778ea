/** Loadings whose products come nearest to correlations, against the definition. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dunnett, nearestLoadings } from "../../../src/statistics/distributions/dunnett";

/** What least squares make small: the sum over all pairs. */
function off(correlations: readonly (readonly number[])[], loadings: readonly number[]): number {
  let sum = 0;
  correlations.forEach((row, i) => {
    for (let j = 0; j < i; j++) sum += (row[j]! - loadings[i]! * loadings[j]!) ** 2;
  });
  return sum;
}
const filled = (count: number, correlation: (i: number, j: number) => number) =>
  Array.from({ length: count }, (_, i) => Array.from({ length: count }, (__, j) => (i === j ? 1 : correlation(i, j))));

describe("nearest loadings", () => {
  const loading = fc.double({ min: 0.05, max: 0.95, noNaN: true });

  it("are those that the correlations are products of, of any sign", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(loading, fc.boolean()), { minLength: 3, maxLength: 6 }), (signed) => {
        const given = signed.map(([size, isNegative]) => (isNegative ? -size : size));
        const products = filled(given.length, (i, j) => given[i]! * given[j]!);
        const found = nearestLoadings(products);
        // Rounds end when nothing moves by 1e-15; they close in slowly where loadings are small.
        expect(off(products, found)).toBeLessThan(1e-12);
      }),
      { seed: 3, numRuns: 60 },
    );
  });

  it("are the nearest of all around them, and stay where a distribution has them", () => {
    const correlation = fc.double({ min: -0.3, max: 0.95, noNaN: true });
    const nudge = fc.double({ min: -1e-3, max: 1e-3, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(correlation, { minLength: 6, maxLength: 6 }),
        fc.array(nudge, { minLength: 4, maxLength: 4 }),
        (six, nudges) => {
          const correlations = filled(4, (i, j) => six[(Math.max(i, j) * (Math.max(i, j) - 1)) / 2 + Math.min(i, j)]!);
          const found = nearestLoadings(correlations);
          const beside = found.map((one, i) => Math.min(0.9999, Math.max(-0.9999, one + nudges[i]!)));
          expect(off(correlations, found)).toBeLessThanOrEqual(off(correlations, beside) + 1e-12);
          expect(dunnett(found).upper(0, 5)).toBe(1);
        },
      ),
      { seed: 4, numRuns: 60 },
    );
  });

  it("end below 1 where one comparison would need more, whatever its sign", () => {
    // λ₁λ₂ = λ₁λ₃ = 0.9 and λ₂λ₃ = 0.5 would need λ₁² = 1.62.
    for (const sign of [1, -1]) {
      const correlations = filled(3, (i, j) => (i + j === 3 ? 0.5 : 0.9 * sign));
      const found = nearestLoadings(correlations);
      expect(Math.max(...found.map(Math.abs))).toBeLessThan(1);
      expect(found[0]! * found[1]! * sign).toBeGreaterThan(0.7);
      expect(dunnett(found).quantile(0.95, 10)).toBeGreaterThan(2);
    }
    expect(
      nearestLoadings([
        [1, 1],
        [1, 1],
      ]).every((one) => one < 1),
    ).toBe(true);
    expect(
      nearestLoadings([
        [1, -0.25],
        [-0.25, 1],
      ]),
    ).toEqual([0.5, -0.5]);
    expect(nearestLoadings([[1]])).toEqual([0]);
  });
});
