/** Sizes and rules of the trade. */
import { describe, expect, it } from "vitest";
import { bendOfGap, clearanceAtMarks, requiredOffset, STANDARD_BALL_DIAMETER } from "../../src/bank/bend";

describe("equipment", () => {
  it("the standard ball is 2 1/4 in", () => {
    // World Pool-Billiard Association, equipment specifications: 2 1/4 in (57.15 mm). Value from memory.
    expect(STANDARD_BALL_DIAMETER.in).toBe(2.25);
    expect(STANDARD_BALL_DIAMETER.mm).toBeCloseTo(2.25 * 25.4, 12);
  });
});

describe("the bend rule", () => {
  // Common practice, no source: a gap of 1/8 in with a 2 1/4 in ball is a bend of 1 in; a gap of one radius is none.
  it("gap 1/8 in: bend 1 in", () => expect(bendOfGap(1 / 8, 2.25)).toBe(1));
  it("gap of one ball radius: bend 0", () => expect(bendOfGap(1.125, 2.25)).toBe(0));
  it("a bend of 1 in grazes the obstacle at the gap set for it", () =>
    expect(clearanceAtMarks(1, requiredOffset(1, 0, 2.25), 2.25)).toBe(0));
});
