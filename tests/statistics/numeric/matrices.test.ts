/** Small symmetric matrices, against what defines their eigenvalues, inverses and determinants. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  eigen,
  inner,
  invertDefinite,
  mapEigenvalues,
  timesVector,
  traceOfProduct,
} from "../../../src/statistics/numeric/symmetric";

const entry = fc.double({ min: -1, max: 1, noNaN: true });
/** Symmetric, of entries near a power of ten. */
const symmetric = fc
  .tuple(
    fc.integer({ min: 1, max: 6 }),
    fc.array(entry, { minLength: 21, maxLength: 21 }),
    fc.integer({ min: -120, max: 120 }),
  )
  .map(([n, entries, power]) => {
    const at = (i: number, j: number) => entries[(Math.max(i, j) * (Math.max(i, j) + 1)) / 2 + Math.min(i, j)]!;
    return {
      power,
      matrix: Array.from({ length: n }, (_, i) => Array.from({ length: n }, (__, j) => at(i, j) * 10 ** power)),
    };
  });
const runs = { seed: 12, numRuns: 80 };

describe("eigenvalues", () => {
  it("stretch their vectors, which are orthonormal, whatever the size of the entries", () => {
    fc.assert(
      fc.property(symmetric, ({ matrix, power }) => {
        const { values, vectors } = eigen(matrix);
        values.forEach((value, j) => {
          timesVector(matrix, vectors[j]!).forEach((one, i) =>
            expect(Math.abs(one - value * vectors[j]![i]!)).toBeLessThan(1e-13 * 10 ** power),
          );
          vectors.forEach((vector, k) => expect(inner(vectors[j]!, vector)).toBeCloseTo(j === k ? 1 : 0, 13));
        });
        const cubes = mapEigenvalues({ values, vectors }, (value) => (value / 10 ** power) ** 3);
        const scaled = matrix.map((row) => row.map((one) => one / 10 ** power));
        const squared = scaled.map((row) => timesVector(scaled, row));
        scaled.forEach((row, i) =>
          row.forEach((_, j) => expect(cubes[i]![j]).toBeCloseTo(inner(squared[i]!, scaled[j]!), 11)),
        );
      }),
      runs,
    );
  });

  it("of one that is diagonal are its diagonal", () => {
    expect(
      eigen([
        [3, 0],
        [0, -1],
      ]),
    ).toEqual({
      values: [3, -1],
      vectors: [
        [1, 0],
        [0, 1],
      ],
    });
    expect(eigen([]).values).toEqual([]);
  });
});

describe("a positive definite matrix", () => {
  it("times its inverse is 1, and its determinant is that of its triangle squared", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5 }), fc.array(entry, { minLength: 15, maxLength: 15 }), (n, entries) => {
        const triangle = Array.from({ length: n }, (_, i) =>
          Array.from({ length: n }, (__, j) => (j < i ? entries[(i * (i - 1)) / 2 + j]! : j === i ? 0.5 + i : 0)),
        );
        // Rows on scales that differ by 10⁶, as drivers in other units have them.
        const scale = (i: number) => (i % 2 === 0 ? 1e3 : 1e-3);
        const matrix = triangle.map((row, i) => triangle.map((other, j) => inner(row, other) * scale(i) * scale(j)));
        const { inverse, logDeterminant } = invertDefinite(matrix)!;
        matrix.forEach((row, i) =>
          inverse.forEach((_, j) => {
            const one = row.reduce((sum, value, k) => sum + value * inverse[k]![j]!, 0);
            expect((one * scale(j)) / scale(i)).toBeCloseTo(i === j ? 1 : 0, 9);
          }),
        );
        const log = triangle.reduce((sum, row, i) => sum + 2 * Math.log(row[i]! * scale(i)), 0);
        expect(logDeterminant).toBeCloseTo(log, 10);
        expect(traceOfProduct(matrix, inverse)).toBeCloseTo(n, 7);
      }),
      runs,
    );
  });

  it("has none where it is singular, or negative somewhere", () => {
    expect(
      invertDefinite([
        [1, 1],
        [1, 1],
      ]),
    ).toBeUndefined();
    expect(
      invertDefinite([
        [1, 2],
        [2, 1],
      ]),
    ).toBeUndefined();
    expect(invertDefinite([[0]])).toBeUndefined();
    expect(invertDefinite([[4]])).toEqual({ inverse: [[0.25]], logDeterminant: Math.log(4) });
  });
});
