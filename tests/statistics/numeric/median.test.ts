/** The median against sorting. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { median } from "../../../src/statistics/numeric/median";

it("is what sorting puts in the middle, ties and all, and leaves the numbers as they are", () => {
  fc.assert(
    fc.property(
      fc.array(fc.oneof(fc.integer({ min: -3, max: 3 }), fc.double({ noNaN: true, min: -1e6, max: 1e6 })), {
        minLength: 1,
        maxLength: 60,
      }),
      (values) => {
        const sorted = [...values].sort((a, b) => a - b);
        const before = [...values];
        const half = sorted.length >> 1;
        expect(median(values)).toBeCloseTo(
          sorted.length % 2 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2,
          12,
        );
        expect(values).toEqual(before);
      },
    ),
  );
  expect(median([])).toBeNaN();
});
