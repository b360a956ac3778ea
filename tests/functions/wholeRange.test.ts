/**
 * Every worksheet function over the whole range of doubles: it ends, gives finite numbers, text or one of its own
 * errors with words, and never a NaN, a bare exception or a loop without end.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import * as functions from "../../src/functions/functions";
import metadata from "../../src/functions/functions.json";
import { SheetError } from "../../src/functions/sheetError";

/** Any double, those at the ends more often, and numbers as a person writes them. */
const number = fc.oneof(
  { weight: 3, arbitrary: fc.double({ noNaN: true, noDefaultInfinity: true }) },
  {
    weight: 2,
    arbitrary: fc.constantFrom(
      0,
      -0,
      5e-324,
      -5e-324,
      2.2e-308,
      1e-300,
      1e-160,
      1e-20,
      1e20,
      1e160,
      1e200,
      1e300,
      1e307,
      1e308,
      Number.MAX_VALUE,
      -Number.MAX_VALUE,
      2 ** 53,
      2 ** 31,
      1e15,
    ),
  },
  { weight: 3, arbitrary: fc.constantFrom(1, 2, 3, 0.5, 0.95, 10, 45, 100, 4, 2.25) },
  { weight: 2, arbitrary: fc.double({ min: -100, max: 100, noNaN: true }) },
);
const column = fc.array(
  number.map((value) => [value]),
  { minLength: 1, maxLength: 6 },
);
const table = fc
  .integer({ min: 1, max: 3 })
  .chain((width) => fc.array(fc.array(number, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 6 }));
const argument = fc.oneof(
  { weight: 6, arbitrary: number.map((value) => [[value]]) },
  { weight: 2, arbitrary: column },
  { weight: 1, arbitrary: table },
  { weight: 1, arbitrary: fc.constantFrom(null, [["mm"]], [["us"]], [["si"]], [["x"]], [[null]]) },
);

function faultOf(result: unknown): string | undefined {
  if (result instanceof SheetError) return result.message.includes("NaN") ? result.message : undefined;
  if (typeof result === "number") return Number.isFinite(result) ? undefined : `gives ${result}`;
  if (typeof result === "string") return /\bNaN\b|Infinity|undefined/.test(result) ? `says ${result}` : undefined;
  if (Array.isArray(result)) return result.map(faultOf).find((fault) => fault !== undefined);
  return result === null || typeof result === "boolean" ? undefined : `gives ${String(result)}`;
}

/** What is wrong with the answer to the arguments; undefined when nothing is. */
function faultIn(id: string, args: readonly unknown[]): string | undefined {
  try {
    return faultOf((functions as unknown as Record<string, (...given: unknown[]) => unknown>)[id](...args));
  } catch (problem) {
    return problem instanceof SheetError
      ? faultOf(problem)
      : `stops with ${problem instanceof Error ? problem.stack : String(problem)}`;
  }
}

describe.each(metadata.functions.map(({ id, parameters }) => ({ id, parameters })))("$id", ({ id, parameters }) => {
  const required = parameters.filter((parameter) => !("optional" in parameter && parameter.optional)).length;
  const args = fc.oneof(
    fc.tuple(...Array.from({ length: required }, () => argument)),
    fc.tuple(
      ...parameters.map((_, i) =>
        i < required
          ? argument
          : fc.oneof({ weight: 3, arbitrary: fc.constant(null) }, { weight: 2, arbitrary: argument }),
      ),
    ),
  );
  it("ends in finite numbers or in words", () => {
    fc.assert(
      fc.property(args, (given) => {
        expect(faultIn(id, given)).toBeUndefined();
      }),
      // The same arguments each time: a run that takes minutes would be one that found a loop.
      { numRuns: 100, seed: 20260108 },
    );
  });
});

describe("at the ends of the range", () => {
  const { FRACTION, MAKES, POWER, SPREAD, INCHES, BEND } = functions;
  it("powers of tests with endlessly many shots are 1, those of nothing the level", () => {
    for (const shots of [1e10, 1e20, 1e300, Number.MAX_VALUE]) expect(POWER([[1]], [[1]], [[shots]])).toEqual([[1]]);
    expect(POWER([[1]], [[1]], [[1e300]], [[0.05]], [[4]])).toEqual([[1]]);
    // A shift of 1e-10 · √(1e20 / 2) is 0.7071; Φ(0.7071 − 1.95996) + Φ(−0.7071 − 1.95996) is 0.109 (Φ from memory).
    expect(POWER([[1e-10]], [[1]], [[1e20]])[0][0]).toBeCloseTo(0.1089, 3);
    expect(POWER([[0]], [[1]], [[1e300]])[0][0]).toBeCloseTo(0.05, 9);
  });

  it("spreads keep their digits where squares are no doubles", () => {
    // Two values lie half their difference from the mean: the standard deviation is their difference over the root of
    // 2.
    for (const unit of [1e-308, 1e-200, 1, 1e200, 1e307]) {
      const table = SPREAD([[unit], [3 * unit]]);
      expect(table[1][1] / unit).toBeCloseTo(2, 12);
      expect(table[2][1] / unit).toBeCloseTo(Math.SQRT2, 12);
    }
  });

  it("rates of endlessly many tries are limits of the exact interval", () => {
    // One success: Poisson's limits for a count of 1 at 95 % are −ln 0.975 and 5.5716434 (value from memory).
    const [, [rate, low, high]] = MAKES([[1]], [[1e300]]);
    expect([rate * 1e300, low * 1e300, high * 1e300].map((value) => Number(value.toPrecision(7)))).toEqual([
      1, 0.02531781, 5.571643,
    ]);
    const [, near] = MAKES([[3]], [[1e10]]);
    const [, beyond] = MAKES([[3]], [[1.001e10]]);
    expect((beyond[1] * 1.001) / near[1]).toBeCloseTo(1, 6);
    expect((beyond[2] * 1.001) / near[2]).toBeCloseTo(1, 6);
    const [, half] = MAKES([[5e19]], [[1e20]]);
    expect(half[2] - half[0]).toBeGreaterThan(0);
    expect((half[2] - half[1]) * 1e10).toBeCloseTo(1.959964, 5);
  });

  it("fractions of huge lengths are whole", () => {
    expect(FRACTION([[1e308]])).toEqual([["1e+308"]]);
    expect(FRACTION([[-(2 ** 53)]])).toEqual([[String(-(2 ** 53))]]);
    expect(FRACTION([[1.999]])).toEqual([["2 (rounded up 0.001 to 1/16)"]]);
  });

  it("text that says more than a number can is refused", () => {
    for (const call of [() => INCHES([["1e999"]]), () => BEND([["1e999"]])]) expect(call).toThrow(/1e999|Infinity/);
  });
});
