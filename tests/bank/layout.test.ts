import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bankLayout } from "../../src/bank/layout";
import { LAYOUT } from "../../src/functions/functions";

const request = fc.record({
  tableWidth: fc.double({ min: 30, max: 60, noNaN: true }),
  departure: fc.double({ min: 5, max: 95, noNaN: true }),
  arrival: fc.double({ min: 0, max: 100, noNaN: true }),
  swing: fc.double({ min: 0.1, max: 0.9, noNaN: true }),
  bend: fc.double({ min: -1.1, max: 1.1, noNaN: true }),
  ballDiameter: fc.constant(2.25),
  obstacleDiameter: fc.double({ min: 0.5, max: 6, noNaN: true }),
});

describe("a layout", () => {
  it("keeps the rules of the marks, whatever the shot", () => {
    fc.assert(
      fc.property(request, (asked) => {
        const at = Object.fromEntries(bankLayout(asked).map((place) => [place.label, place]));
        // From a ball's radius off the one rail to the nose line opposite, and the near mark at its share of the way.
        const radius = asked.ballDiameter / 2;
        expect(at["departure"]).toMatchObject({
          x: expect.closeTo(asked.departure, 10),
          y: expect.closeTo(radius, 10),
        });
        expect(at["arrival"]).toMatchObject({
          x: expect.closeTo(asked.arrival, 10),
          y: expect.closeTo(asked.tableWidth, 10),
        });
        expect(at["near mark"]?.y).toBeCloseTo(radius + asked.swing * (asked.tableWidth - radius), 10);
        expect(at["guide at the cushion"]).toMatchObject({ x: at["departure"]?.x, y: at["departure"]?.y });
        expect(at["guide at the pocket"]).toMatchObject({ x: at["arrival"]?.x, y: at["arrival"]?.y });
        const apart = (a: string, b: string) => Math.hypot(at[a].x - at[b].x, at[a].y - at[b].y);
        expect(apart("near mark", "far mark")).toBeCloseTo(2.25, 10);
        expect(apart("gate at the cushion", "guide at the cushion")).toBeCloseTo(2.25, 10);
        expect(apart("gate at the pocket", "guide at the pocket")).toBeCloseTo(2.25, 10);
        // The obstacle's edge is R − |bend| from the near mark: a straight bank grazes it at bend 0.
        expect(
          Math.abs(
            apart("obstacle", "near mark") - Math.abs(1.125 - Math.abs(asked.bend) + asked.obstacleDiameter / 2),
          ),
        ).toBeLessThan(1e-10);
        // Gates and far mark are in line, and that line runs beside the centre line.
        const cross = (a: string, b: string, c: string) =>
          (at[b].x - at[a].x) * (at[c].y - at[a].y) - (at[b].y - at[a].y) * (at[c].x - at[a].x);
        expect(Math.abs(cross("gate at the cushion", "gate at the pocket", "far mark"))).toBeLessThan(1e-8);
        expect(Math.abs(cross("departure", "arrival", "near mark"))).toBeLessThan(1e-8);
      }),
    );
  });

  it("puts the gates on the square side for a short bend and on the long side for a long one", () => {
    const gate = (bend: number, arrival: number) =>
      bankLayout({
        tableWidth: 50,
        departure: 20,
        arrival,
        swing: 0.5,
        bend,
        ballDiameter: 2.25,
        obstacleDiameter: 2,
      })[2].x;
    expect(gate(0.5, 40)).toBeLessThan(20);
    expect(gate(-0.5, 40)).toBeGreaterThan(20);
    expect(gate(0.5, 5)).toBeGreaterThan(20);
  });

  it("spills label, x, y, and names wrong arguments", () => {
    const at = (cell: unknown) => [[cell]];
    const table = LAYOUT(at(50), at(20), at(40), at(0.5), at(1));
    expect(table[0]).toEqual(["label", "x", "y"]);
    expect(table.length).toBe(10);
    expect(() => LAYOUT(at(50), at(20), at(40), at(1.5), at(1))).toThrow(
      "swing is 1.5: give a share of the path between 0 and 1",
    );
    expect(() => LAYOUT(at(-1), at(20), at(40), at(0.5), at(1))).toThrow("tableWidth is -1");
    expect(() => LAYOUT(at(50), at(20), at(40), at(0.5), at(5))).toThrow("bend is 5");
    expect(() => LAYOUT(at(50), at(null), at(40), at(0.5), at(1))).toThrow("departure is blank");
  });
});
