import { describe, expect, it } from "vitest";
import { repeatability } from "../../../src/statistics/measure/repeatability";

describe("repeatability", () => {
  const readings = [
    [0.5, 0.5625],
    [0.75, 0.75],
    [0.3125, 0.25],
    [1, 0.9375],
  ];
  it("of two readings is the root of half the mean squared difference", () => {
    const { sd, limit, df, shifts, share, between } = repeatability(readings, 0.95);
    expect(sd).toBeCloseTo(Math.sqrt((3 * 0.0625 ** 2) / 8), 14);
    expect(limit / sd).toBeCloseTo(2.772, 3);
    expect(df).toBe(4);
    expect(shifts[0].value).toBeCloseTo(-0.015625, 14);
    expect(share).toBeCloseTo(sd ** 2 / (sd ** 2 + between ** 2), 12);
  });
  it("moves with the unit and not with the level", () => {
    const one = repeatability(readings, 0.9);
    const other = repeatability(
      readings.map((pair) => pair.map((value) => 1e6 + 25.4 * value)),
      0.9,
    );
    // The level of 1e6 costs six or seven of the readings' sixteen digits.
    expect(other.sd / (25.4 * one.sd)).toBeCloseTo(1, 8);
    expect(other.share).toBeCloseTo(one.share ?? NaN, 7);
  });
  it("of readings that never differ is 0, with no test to give", () => {
    const { sd, share, shiftTest } = repeatability(
      [
        [1, 1],
        [2, 2],
      ],
      0.95,
    );
    expect([sd, share, shiftTest.p]).toEqual([0, 0, null]);
    expect(
      repeatability(
        [
          [1, 1],
          [1, 1],
        ],
        0.95,
      ).share,
    ).toBeNull();
  });
  it.each([
    [[[1, 2]], "at least 2 are needed"],
    [[[1], [2]], "measured once"],
    [[[1, 2], [1]], "not all measured equally often"],
    [
      [
        [1, 2],
        [1, NaN],
      ],
      "no finite number",
    ],
  ])("refuses %j", (bad, message) => expect(() => repeatability(bad, 0.95)).toThrow(message));
});
