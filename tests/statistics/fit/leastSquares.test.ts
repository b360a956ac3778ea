/**
 * The fast and the thorough way of least squares agree where the fast one answers, and it answers only where it may.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { exactColumn, multiplyColumns, type Column } from "../../../src/statistics/numeric/doubleDouble";
import { finish, leastSquares, quickly, thoroughly, type LeastSquares } from "../../../src/statistics/fit/leastSquares";
import { seededRandom } from "../../../scripts/samples/random";
import { digits } from "../../outside/r";

const ones = (rows: number): Column => exactColumn(new Float64Array(rows).fill(1));

function both(design: Column[], response: Column) {
  const fast = quickly(design, response, {});
  return {
    fast: fast && finish(fast, design, response, {}),
    slow: finish(thoroughly(design, response, {}), design, response, {}),
  };
}

/** Fewest digits to which everything that a fit can be asked agrees. */
function agreement(a: LeastSquares, b: LeastSquares): number {
  const errors = (fit: LeastSquares) => fit.inverseCross().map((row, j) => Math.sqrt(row[j]));
  const pairs = [
    ...a.coefficients.map(([value], j) => [value, b.coefficients[j][0]]),
    ...errors(a).map((value, j) => [value, errors(b)[j]]),
    [a.residualSquares, b.residualSquares],
  ];
  return Math.min(...pairs.map(([value, reference]) => digits(value, reference)));
}

interface Shape {
  readonly seed: number;
  readonly rows: number;
  readonly columns: number;
  readonly offset: number;
  readonly scale: number;
  readonly mixing: number;
  readonly noise: number;
}

/** Columns with an offset, a scale and parts in common; a dummy of a rare level last. */
function made({ seed, rows, columns, offset, scale, mixing, noise }: Shape): { design: Column[]; response: Column } {
  const random = seededRandom(seed);
  const common = Float64Array.from({ length: rows }, () => random.normal());
  const numbers = Array.from({ length: columns }, (_, j) =>
    common.map((value) => scale * 10 ** j * (offset + mixing * value + random.normal())),
  );
  const level = Float64Array.from({ length: rows }, (_, i) => (i % 17 === 3 ? 1 : 0));
  const response = common.map(
    (_, i) =>
      5 +
      level[i] +
      numbers.reduce((total, column, j) => total + ((j + 1) * column[i]) / (scale * 10 ** j), noise * random.normal()),
  );
  return { design: [ones(rows), ...numbers.map(exactColumn), exactColumn(level)], response: exactColumn(response) };
}

const shape: fc.Arbitrary<Shape> = fc.record({
  seed: fc.integer({ min: 1, max: 1e6 }),
  rows: fc.integer({ min: 100, max: 3000 }),
  columns: fc.integer({ min: 1, max: 6 }),
  offset: fc.constantFrom(0, 3, -2000, 1e5),
  scale: fc.constantFrom(1, 1e-6, 1e9),
  mixing: fc.constantFrom(0, 1, 3),
  noise: fc.constantFrom(0.01, 1, 30),
});

describe("the fast way", () => {
  it("agrees with the thorough one to 13 digits wherever it answers", () => {
    let answered = 0;
    fc.assert(
      fc.property(shape, (one) => {
        const { design, response } = made(one);
        const { fast, slow } = both(design, response);
        if (!fast) return;
        answered++;
        expect(agreement(fast, slow)).toBeGreaterThanOrEqual(13);
      }),
      { numRuns: 60 },
    );
    expect(answered).toBeGreaterThan(10);
  });

  it("answers on well-conditioned designs", () => {
    const gentle = fc
      .sample(shape, { numRuns: 60, seed: 7 })
      .map((one) => ({ ...one, mixing: Math.min(one.mixing, 1), noise: 1, rows: one.rows + 300 }));
    // All but the few where a coefficient happens to be tiny beside what the rounding of the others could move it by.
    expect(gentle.filter((one) => both(made(one).design, made(one).response).fast).length).toBeGreaterThanOrEqual(54);
  });

  it("gives residuals, leverages, directions and combinations as the thorough one does", () => {
    const { design, response } = made({
      seed: 3,
      rows: 1500,
      columns: 4,
      offset: -2000,
      scale: 1,
      mixing: 1,
      noise: 0.1,
    });
    const { fast, slow } = both(design, response);
    const size = Math.sqrt(slow.residualSquares / slow.rows);
    fast!.residuals.forEach((value, i) => expect(Math.abs(value - slow.residuals[i])).toBeLessThan(1e-15 * size * 4));
    // Directions and leverages are in doubles: 1e-16 times a condition of about 10.
    const leverages = slow.leverages();
    fast!.leverages().forEach((value, i) => expect(digits(value, leverages[i])).toBeGreaterThan(12.5));
    const directions = slow.directions();
    fast!
      .directions()
      .forEach((direction, j) =>
        direction.forEach((value, i) => expect(Math.abs(value - directions[j][i])).toBeLessThan(1e-14)),
      );
    fast!.sequentialSquares.forEach((value, j) =>
      expect(digits(value, slow.sequentialSquares[j])).toBeGreaterThanOrEqual(13),
    );
    const weights = design.map((_, j) => [j === 0 ? 1 : -2000.5 * 10 ** (j - 1), 0] as const);
    const [a, b] = [fast!.combine(weights, true)!, slow.combine(weights, true)!];
    expect(digits(a.value, b.value)).toBeGreaterThanOrEqual(12.5); // the parts cancel to a tenth of the largest
    expect(digits(a.errorFactor, b.errorFactor)).toBeGreaterThanOrEqual(13);
    a.along.forEach((value, j) => expect(Math.abs(value - b.along[j])).toBeLessThan(1e-13 * a.errorFactor));
  });

  it("serves fits without a constant, and columns with low parts", () => {
    const random = seededRandom(11);
    const x = exactColumn(Float64Array.from({ length: 900 }, () => 0.5 + random.normal()));
    const square = multiplyColumns(x, x);
    const response = exactColumn(x.high.map((value, i) => 2 * value - square.high[i] + random.normal()));
    for (const design of [
      [x, square],
      [ones(900), x, square],
    ]) {
      const { fast, slow } = both(design, response);
      expect(agreement(fast!, slow)).toBeGreaterThanOrEqual(13);
    }
  });

  it.each<[string, (rows: number) => { design: Column[]; response: Column }]>([
    ["a column twice", (rows) => alter(rows, (design) => [...design, design[1]])],
    [
      "a sum of columns",
      (rows) =>
        alter(rows, (design) => [...design, exactColumn(design[1].high.map((value, i) => value + design[2].high[i]))]),
    ],
    ["a second constant", (rows) => alter(rows, (design) => [...design, exactColumn(new Float64Array(rows).fill(7))])],
    ["a column of zeros", (rows) => alter(rows, (design) => [...design, exactColumn(new Float64Array(rows))])],
    [
      "nearly the same column",
      (rows) =>
        alter(rows, (design) => [...design, exactColumn(design[1].high.map((value, i) => value + 1e-7 * Math.sin(i)))]),
    ],
    [
      "a large offset on a tiny range",
      (rows) => alter(rows, (design) => [...design, exactColumn(design[1].high.map((value) => 1e12 + value))]),
    ],
    [
      "high powers far from zero",
      (rows) => {
        const x = exactColumn(Float64Array.from({ length: rows }, (_, i) => 100 + (i % 50) / 10));
        const powers = [x];
        for (let k = 1; k < 6; k++) powers.push(multiplyColumns(powers[k - 1], x));
        return {
          design: [ones(rows), ...powers],
          response: exactColumn(x.high.map((value, i) => value + Math.sin(i))),
        };
      },
    ],
    [
      "no residual",
      (rows) => {
        const x = Float64Array.from({ length: rows }, (_, i) => i);
        return { design: [ones(rows), exactColumn(x)], response: exactColumn(x.map((value) => 3 + 2 * value)) };
      },
    ],
    [
      "more columns than rows",
      () => ({
        design: [ones(3), ...[1, 2, 3].map((k) => exactColumn([k, k * k, 1]))],
        response: exactColumn([1, 2, 4]),
      }),
    ],
  ])("leaves %s to the thorough one", (_, make) => {
    const { design, response } = make(400);
    expect(quickly(design, response, {})).toBeUndefined();
    expect(leastSquares(design, response).rows).toBe(response.high.length);
  });

  function alter(rows: number, change: (design: Column[]) => Column[]) {
    const { design, response } = made({ seed: 5, rows, columns: 3, offset: 0, scale: 1, mixing: 1, noise: 1 });
    return { design: change(design), response };
  }
});

describe("extending a fit", () => {
  it("gives what a fit from scratch gives, to 13 digits, the fast way and the thorough way", () => {
    fc.assert(
      fc.property(shape, fc.integer({ min: 1, max: 3 }), (one, cut) => {
        const { design, response } = made(one);
        const scratch = leastSquares(design, response);
        const part = Math.min(cut, design.length - 1);
        expect(
          agreement(leastSquares(design.slice(0, part), response).extend(design.slice(part)), scratch),
        ).toBeGreaterThanOrEqual(13);
      }),
      { numRuns: 40, seed: 8 },
    );
  });

  it("from the fast way into the thorough one and on, with a dependent column between", () => {
    const { design, response } = made({ seed: 21, rows: 8000, columns: 5, offset: 0, scale: 1, mixing: 1, noise: 1 });
    const twice = design[2];
    const extended = leastSquares(design.slice(0, 4), response).extend([twice]).extend(design.slice(4));
    const scratch = leastSquares([...design.slice(0, 4), twice, ...design.slice(4)], response);
    expect(extended.dependent).toEqual(scratch.dependent);
    expect(extended.dependent.map(({ column }) => column)).toEqual([4]);
    expect(agreement(extended, scratch)).toBeGreaterThanOrEqual(13);
  });
});
