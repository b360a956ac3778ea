import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseInches, rulerFraction } from "../../src/bank/ruler";

describe("parseInches", () => {
  it.each([
    ["1 1/8", 1.125],
    ["1-1/8", 1.125],
    ["1⅛", 1.125],
    ["1 ⅛", 1.125],
    ["⅞", 0.875],
    ['3/16"', 0.1875],
    ["9/16 in", 0.5625],
    ["9/16 in.", 0.5625],
    ["1 1/8 inches", 1.125],
    ["1⁄8", 0.125],
    ["-1/8", -0.125],
    ["−1 1/8", -1.125],
    ["9/8", 1.125],
    [".5", 0.5],
    ["2", 2],
    ["1.125 ″", 1.125],
    ["25.4 mm", 1],
    ["2.54cm", 1],
    ["1 1/8 (rounded down 0.005 to 1/16)", 1.125],
  ])("%s", (text, inches) => expect(parseInches(text)).toBeCloseTo(inches as number, 14));

  it.each(["", "abc", "1/0", "1 9/8", "1/8/2", "1,5", "one eighth", "1 1 1/8", "--1", "<b>1</b>", "1/8 mph"])(
    "says why it cannot read %j",
    (text) => {
      expect(parseInches(text)).toEqual({ why: expect.stringMatching(/^(is|has) /) });
    },
  );
});

describe("rulerFraction", () => {
  it.each([
    [1.125, 16, "1 1/8"],
    [0.5, 8, "1/2"],
    [2, 16, "2"],
    [0, 16, "0"],
    [-0.25, 4, "-1/4"],
    [1.13, 16, "1 1/8 (rounded down 0.005 to 1/16)"],
    [0.999, 16, "1 (rounded up 0.001 to 1/16)"],
    [-1.13, 16, "-1 1/8 (rounded up 0.005 to 1/16)"],
    [0.01, 16, "0 (rounded down 0.01 to 1/16)"],
    [-0.01, 16, "0 (rounded up 0.01 to 1/16)"],
  ])("%f to 1/%i", (value, denominator, text) => expect(rulerFraction(value, denominator)).toBe(text));

  it("goes out and comes back: any division of any ruler is read as written", () => {
    fc.assert(
      fc.property(fc.integer({ min: -5000, max: 5000 }), fc.integer({ min: 1, max: 64 }), (divisions, denominator) => {
        // The quotient is rounded once on each side.
        expect(parseInches(rulerFraction(divisions / denominator, denominator))).toBeCloseTo(
          divisions / denominator,
          12,
        );
      }),
    );
  });

  it("is never off by more than half a division", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -50, max: 50, noNaN: true }),
        fc.integer({ min: 1, max: 64 }),
        (value, denominator) => {
          expect(Math.abs((parseInches(rulerFraction(value, denominator)) as number) - value)).toBeLessThanOrEqual(
            0.5 / denominator + 1e-12,
          );
        },
      ),
    );
  });
});
