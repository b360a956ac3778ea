import { describe, expect, it } from "vitest";
import { ALIGNMENT, BEATS, UNCERTAINTY } from "../../src/functions/functions";
import { at, failure } from "./calls";

describe("UNCERTAINTY", () => {
  it("gives bend, standard uncertainty, degrees of freedom and expanded uncertainty in one row", () => {
    const [[bend, standard, df, expanded]] = UNCERTAINTY([[0.25], [null], ["5/16"], [0.25]], at(1 / 16));
    expect(bend).toBeCloseTo(1.125 - 0.8125 / 3, 12);
    expect(standard).toBeCloseTo(Math.sqrt(0.0625 ** 2 / 12 + 0.0625 ** 2 / 9), 12);
    expect(df).toBeGreaterThan(2);
    expect(expanded).toBeGreaterThan(1.96 * standard);
  });
  it("says that a single reading's uncertainty is taken as known", () => {
    const [[bend, standard, df, expanded]] = UNCERTAINTY(
      at(3),
      at(1),
      undefined,
      undefined,
      undefined,
      undefined,
      at("mm"),
    );
    expect([bend, df]).toEqual([25.575, "infinite"]);
    expect(expanded / standard).toBeCloseTo(1.959964, 6);
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
