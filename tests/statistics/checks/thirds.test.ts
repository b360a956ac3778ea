/** Rows cut into thirds: equal counts, equal values together, and refusals. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { thirds } from "../../../src/statistics/checks/thirds";

describe("thirds", () => {
  it("have equal counts where all values differ, whatever the order of the rows", () => {
    expect(thirds([9, 2, 5, 1, 8, 4, 7, 3, 6])).toEqual({
      groups: Uint8Array.of(2, 0, 1, 0, 2, 1, 2, 0, 1),
      ends: [
        [1, 3],
        [4, 6],
        [7, 9],
      ],
    });
  });
  it("keep equal values together", () => {
    expect(thirds([1, 1, 1, 1, 1, 2, 3, 3, 3, 4, 4, 4])).toMatchObject({
      ends: [
        [1, 1],
        [2, 3],
        [4, 4],
      ],
    });
    expect(thirds([-0, 0, 0, 1, 1, 1])).toMatchObject({ groups: Uint8Array.of(0, 0, 0, 1, 1, 1) });
  });
  it("are two groups where there are two values", () => {
    expect(thirds([6, 9, 6, 9, 6, 9])).toEqual({
      groups: Uint8Array.of(0, 1, 0, 1, 0, 1),
      ends: [
        [6, 6],
        [9, 9],
      ],
    });
  });
  it.each([
    [[5, 5, 5, 5], "it never changes"],
    [[1, 2, 3, 4, 5, 6, 7, 8], "its 8 rows cut into 3 parts leave only 2 rows in one of them, and 3 are needed"],
    [[1, 2, 2, 2, 2, 2, 2, 2], "its 8 rows cut into 2 parts leave a single row in one of them, and 3 are needed"],
    [[], "it never changes"],
  ])("%j: %s", (values, why) => expect(thirds(values)).toEqual({ why }));
  it("never part equal values, never leave a row out, and go up", () => {
    let parted = 0;
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -4, max: 9 }), { minLength: 1, maxLength: 60 }), (values) => {
        const found = thirds(values);
        if ("why" in found) return;
        parted++;
        values.forEach((value, row) => {
          const [low, high] = found.ends[found.groups[row]];
          expect(value >= low && value <= high).toBe(true);
        });
        for (let part = 1; part < found.ends.length; part++)
          expect(found.ends[part][0]).toBeGreaterThan(found.ends[part - 1][1]);
        found.ends.forEach((_, part) =>
          expect(found.groups.filter((group) => group === part).length).toBeGreaterThanOrEqual(3),
        );
      }),
    );
    expect(parted).toBeGreaterThan(10);
  });
});
