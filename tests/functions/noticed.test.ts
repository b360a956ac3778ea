/** Signs, units and proportions that a mistake would change without anybody seeing it elsewhere. */
import { assert, property, double } from "fast-check";
import { describe, expect, it } from "vitest";
import { tableShape } from "../../src/bank/tableShape";
import { ALIGNMENT, BEND } from "../../src/functions/functions";
import { at } from "./calls";

const column = (...values: number[]) => values.map((value) => [value]);

describe("BANK.ALIGNMENT", () => {
  it("measures from a line that slopes and passes beside the origin", () => {
    // The line from (1, 2) to (9, 8) has the direction (0.8, 0.6); (5, 5.5) lies 0.5 above it, 0.4 square to it.
    expect(ALIGNMENT(column(1, 5, 9), column(2, 5.5, 8))).toBeCloseTo(0.4, 12);
    expect(ALIGNMENT(column(1, 5, 9), column(2, 4.5, 8))).toBeCloseTo(0.4, 12);
    // The same three balls where the line falls.
    expect(ALIGNMENT(column(1, 5, 9), column(8, 5.5, 2))).toBeCloseTo(0.4, 12);
  });

  it("is the same wherever the table is looked at from", () => {
    const place = double({ min: -100, max: 100, noNaN: true });
    const angle = double({ min: 0, max: 2 * Math.PI, noNaN: true });
    assert(
      property(place, place, angle, (dx, dy, turn) => {
        const balls = [
          [0, 0],
          [5, 0.06],
          [10, 0],
        ].map(([x, y]) => [dx + x * Math.cos(turn) - y * Math.sin(turn), dy + x * Math.sin(turn) + y * Math.cos(turn)]);
        // Places up to 100 carry about 1e-14 of rounding.
        expect(ALIGNMENT(column(...balls.map(([x]) => x)), column(...balls.map(([, y]) => y)))).toBeCloseTo(0.06, 10);
      }),
      { seed: 7, numRuns: 200 },
    );
  });
});

describe("a reading in inches where the call is in millimetres", () => {
  it("is refused unless it says what it is", () => {
    expect(() => BEND(at("1 1/8"), undefined, at("mm"))).toThrow(/reading in inches where units is mm/);
    expect(() => BEND(at("1 1/8 in"), undefined, at("mm"))).toThrow(/reading in inches where units is mm/);
    expect(BEND(at("3 mm"), undefined, at("mm"))).toEqual([[expect.closeTo(25.575, 12)]]);
    expect(BEND(at("0.3 cm"), undefined, at("mm"))).toEqual([[expect.closeTo(25.575, 12)]]);
  });
});

describe("the table", () => {
  const INCH = 0.0254;
  // World Pool-Billiard Association equipment specifications: 50 × 100 in nose to nose; value from memory.
  it.each([
    ["long", 100, 50],
    ["short", 50, 100],
  ] as const)(
    "from its %s rail has the sizes of a 9-ft table, its pockets at its corners and sides",
    (rail, width, depth) => {
      const table = tableShape(rail);
      expect([table.width / INCH, table.depth / INCH]).toEqual([expect.closeTo(width, 9), expect.closeTo(depth, 9)]);
      const near = (x: number, y: number) =>
        table.pockets.filter((one) => Math.hypot(one.x / INCH - x, one.y / INCH - y) < 2).length;
      for (const [x, y] of [
        [0, 0],
        [width, 0],
        [0, depth],
        [width, depth],
      ])
        expect(near(x, y)).toBe(1);
      for (const end of [0, 1]) expect(rail === "long" ? near(50, end * 50) : near(end * 50, 50)).toBe(1);
      // Seven diamonds would stand on a long rail; a side pocket takes the place of the middle one.
      expect(table.diamonds).toHaveLength(2 * 6 + 2 * 3);
    },
  );
});
