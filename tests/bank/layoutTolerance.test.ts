/** How exactly a layout must stand, against the geometry itself. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bankLayout, type LayoutRequest } from "../../src/bank/layout";
import { demandedBend, layoutTolerances } from "../../src/bank/layoutTolerance";

const layouts = fc.record({
  tableWidth: fc.double({ min: 40, max: 100, noNaN: true }),
  departure: fc.double({ min: 5, max: 90, noNaN: true }),
  arrival: fc.double({ min: 5, max: 90, noNaN: true }),
  swing: fc.double({ min: 0.1, max: 0.9, noNaN: true }),
  bend: fc.double({ min: -1.1, max: 1.1, noNaN: true }),
  ballDiameter: fc.constant(2.25),
  obstacleDiameter: fc.double({ min: 1, max: 5, noNaN: true }),
});

function demanded(request: LayoutRequest, moved?: { label: string; by: { x: number; y: number } }): number {
  const places = new Map(
    bankLayout(request).map(({ label, x, y }) => [
      label,
      moved?.label === label ? { x: x + moved.by.x, y: y + moved.by.y } : { x, y },
    ]),
  );
  return demandedBend(
    [places.get("gate at the cushion")!, places.get("gate at the pocket")!],
    places.get("obstacle")!,
    places.get("near mark")!,
    request.ballDiameter,
    request.obstacleDiameter,
  );
}

describe("the bend that a layout demands", () => {
  it("is the one it was made for, whichever way it bends", () =>
    fc.assert(
      fc.property(layouts, (request) => {
        expect(demanded(request)).toBeCloseTo(Math.abs(request.bend), 10);
      }),
    ));
});

describe("tolerances", () => {
  it("of gates and obstacle: off by so much, the bend is wrong by so much, to first order", () => {
    let checked = 0;
    fc.assert(
      fc.property(
        layouts,
        fc.constantFrom("gate at the cushion", "gate at the pocket", "obstacle"),
        fc.constantFrom("x", "y"),
        (request, label, axis) => {
          const wrong = 1e-5;
          const tolerance = layoutTolerances(request, wrong).find((one) => one.label === label)![axis as "x" | "y"];
          if (!(tolerance < 0.01)) return; // nearly along the line, where the second order takes over
          checked++;
          const by = { x: axis === "x" ? tolerance : 0, y: axis === "y" ? tolerance : 0 };
          // What is left is of second order: (tolerance / length)² of the size of the layout.
          expect(Math.abs(Math.abs(demanded(request, { label, by }) - demanded(request)) - wrong)).toBeLessThan(
            1e-3 * wrong + tolerance ** 2,
          );
        },
      ),
    );
    expect(checked).toBeGreaterThan(10);
  });

  it("names an example: a mark counts in full, a gate by what lies beyond it", () => {
    const found = layoutTolerances(
      { tableWidth: 50, departure: 20, arrival: 20, swing: 0.25, bend: 1, ballDiameter: 2, obstacleDiameter: 4 },
      1 / 32,
    );
    expect(found.map(({ label, square }) => [label, square * 32])).toEqual([
      ["gate at the cushion", 4 / 3],
      ["gate at the pocket", 4],
      ["guide at the cushion", 4 / 3],
      ["guide at the pocket", 4],
      ["near mark", 1],
      ["far mark", 1],
      ["obstacle", 1],
    ]);
    expect(found.every(({ y }) => y === Infinity)).toBe(true);
  });
});
