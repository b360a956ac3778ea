import { describe, expect, it } from "vitest";
import { ALIGNMENT, BEATS, UNCERTAINTY } from "../../src/functions/functions";
import { at, failure } from "./calls";

describe("UNCERTAINTY", () => {
  it("gives bend, standard uncertainty, degrees of freedom and expanded uncertainty in one row", () => {
    const [[bend, standard, df, expanded]] = UNCERTAINTY([[0.25], [null], ["5/16"], [0.25]], at(1 / 16));
    expect(bend).toBeCloseTo(1.125 - 0.8125 / 3, 12);
    // s²/n, in which rounding already is where the readings scatter by half a division or more, as these do.
    expect(standard).toBeCloseTo(Math.sqrt(0.0625 ** 2 / 9), 6);
    expect(df).toBeGreaterThan(2);
    expect(expanded).toBeGreaterThan(1.96 * standard);
  });
  const inMillimetres = (readings: unknown[][], scatter?: unknown[][], degrees?: unknown[][]) =>
    UNCERTAINTY(readings, at(1), undefined, undefined, undefined, undefined, at("mm"), scatter, degrees);
  it("claims nothing from a single reading whose scatter is not known", () => {
    const [[bend, standard, df, expanded]] = inMillimetres(at(3));
    expect([bend, standard, df]).toEqual([25.575, "at least 0.289", "scatter not known"]);
    expect(expanded).toContain("read the gap again, or give scatter");
    expect(failure(() => BEATS(at(bend), at(standard), at(25), at(df)))).toContain("a single reading does not show");
    expect(failure(() => BEATS(at(bend), at(0.3), at(25), at(df)))).toContain(
      'degreesOfFreedom is "scatter not known"',
    );
  });
  it("takes the scatter that is known from earlier readings, rounding among them", () => {
    const [[, standard, df, expanded]] = inMillimetres(at(3), at(1));
    // What was seen, 1, holds σ² + d²/12 where σ is that large; one reading has both.
    expect(standard).toBeCloseTo(1, 6);
    expect(df).toBe("infinite");
    expect(expanded / standard).toBeCloseTo(1.959964, 6);
    const few = inMillimetres(at(3), at(1), at(4))[0];
    expect(few[1]).toBe(standard);
    expect(few[3]).toBeGreaterThan(2.5 * standard);
    expect(few[3]).toBeLessThan(2.776446 * standard);
    // Pooled with what two readings show: (4 · 1² + 1 · 0.5) / 5.
    const pooled = inMillimetres([[3], [4]], at(1), at(4))[0];
    expect(pooled[1]).toBeCloseTo(Math.sqrt(0.9 / 2), 6);
  });
  it("does not take two equal readings for certain", () => {
    const [[, standard, df, expanded]] = inMillimetres([[3], [3]]);
    expect(df).toBeLessThan(2);
    expect(standard).toBeGreaterThan(1 / Math.sqrt(12));
    expect(expanded).toBeGreaterThan(1.4);
    expect(BEATS(at(25.575), at(standard), at(25), at(df))[0][0]).toBeLessThan(0.9);
  });
  it("repeated readings lower it", () => {
    const of = (count: number) =>
      UNCERTAINTY(
        Array.from({ length: count }, (_, i) => [0.25 + (i % 2) / 16]),
        at(0),
      )[0][1];
    expect(of(16)).toBeLessThan(of(4));
  });
});

describe("BEATS and ALIGNMENT", () => {
  it("lift, and take what UNCERTAINTY gives as degrees of freedom", () => {
    expect(BEATS([[1], [0.9]], at(0.05), at(0.95))).toEqual([
      [expect.closeTo(0.841345, 6)],
      [expect.closeTo(0.158655, 6)],
    ]);
    expect(BEATS(at(1), at(0.05), at(0.95), at("infinite"))).toEqual(BEATS(at(1), at(0.05), at(0.95)));
    expect(BEATS(at(1), at(0), at(0.95))).toEqual([[1]]);
  });
  it("measures from the outer two, in whatever order the balls are listed", () => {
    expect(ALIGNMENT([[5], [0], [10]], [[0.06], [0], [0]])[0][0]).toBeCloseTo(0.06, 12);
    expect(ALIGNMENT([[0, 5, 10]], [[0, 0, 0]])).toEqual([[0]]);
  });
});

describe("wrong input", () => {
  it.each([
    [() => UNCERTAINTY(at(null), at(1 / 16)), "readings has 0 usable values"],
    [() => UNCERTAINTY(at("x"), at(1 / 16)), 'readings, row 1, is "x"'],
    [() => UNCERTAINTY(at(0.25), at(null)), "rulerDivision is blank"],
    [() => UNCERTAINTY(at(0.25), at(-1)), "rulerDivision is -1: give 0 in or more"],
    [() => UNCERTAINTY(at(0.25), at(0.1), at(-1)), "markError is -1"],
    [
      () => UNCERTAINTY(at(0.25), at(0.1), undefined, undefined, undefined, undefined, undefined, at(-1)),
      "scatter is -1",
    ],
    [
      () => UNCERTAINTY(at(0.25), at(0.1), undefined, undefined, undefined, undefined, undefined, at(1), at(0)),
      "scatterDegrees is 0",
    ],
    [() => UNCERTAINTY(at(46030), at(0.1)), "turned into a date"],
    [() => BEATS(at(1), at(-1), at(1)), "standardUncertainty is -1"],
    [() => BEATS(at(1), at(1), at(1), at(0)), "degreesOfFreedom is 0: give a number above 0"],
    [() => BEATS(at(1), at(null), at(1)), "standardUncertainty is blank"],
    [() => ALIGNMENT([[1], [2]], [[1], [2]]), "x has 2 usable values: give at least 3"],
    [() => ALIGNMENT([[1], [2]], [[1], [2], [3]]), "x is 2 × 1 and y is 3 × 1"],
    [() => ALIGNMENT([[1], [2], [null]], [[1], [2], [3]]), "x, entry 3, is blank"],
  ] as const)("%#: %s", (call, message) => {
    expect(failure(call)).toContain(message);
  });
});
