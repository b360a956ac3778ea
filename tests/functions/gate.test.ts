/** BANK.GATE: both sides from geometry written down apart, and what is refused. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { GATE } from "../../src/functions/functions";
import { at, failure } from "./calls";

const gate = (approach: number, departure: number, side: string, diameter: number): [number, number] =>
  GATE(at(approach), at(departure), at(side), at(diameter))[0] as [number, number];

/** Distance of a point from the line through the origin at an angle from square, away from the rail along +x. */
const fromLine = (x: number, y: number, degrees: number) => {
  const [dx, dy] = [Math.sin((degrees * Math.PI) / 180), Math.cos((degrees * Math.PI) / 180)];
  return Math.abs(x * dy - y * dx);
};

const angle = fc.double({ min: 0, max: 80, noNaN: true });

describe("GATE", () => {
  it("on the near side lets the approach graze it, and tells by how much the departing line passes wide", () => {
    fc.assert(
      fc.property(angle, angle, (approach, departure) => {
        const [distance, beyond] = gate(approach, departure, "near", 2.25);
        // The ball comes along a line that leans the other way: from −x.
        expect(fromLine(-distance, 0, -approach)).toBeCloseTo(2.25, 9);
        expect(fromLine(-distance, 0, departure) - 2.25).toBeCloseTo(beyond, 9);
        // Wide where it leaves nearer square than it came, inside the channel where it leaves flatter.
        if (approach > departure + 0.01) expect(beyond).toBeGreaterThan(0);
        else if (approach < departure - 0.01) expect(beyond).toBeLessThan(0);
        else expect(Math.abs(beyond)).toBeLessThan(0.01);
      }),
    );
  });

  it("on the far side is grazed by the departing ball", () => {
    fc.assert(
      fc.property(angle, angle, (approach, departure) => {
        const [distance, beyond] = gate(approach, departure, "far", 2.25);
        expect(fromLine(distance, 0, departure)).toBeCloseTo(2.25, 9);
        expect(beyond).toBe(0);
      }),
    );
  });

  it("takes the ball of the units", () => {
    expect(GATE(at(0), at(0), at("far"), undefined, at("mm"))[0][0]).toBeCloseTo(57.15, 12);
    expect(GATE(at(0), at(0), at("near"))[0][0]).toBe(2.25);
  });

  it("refuses what is no angle and no side", () => {
    expect(failure(() => GATE(at(90), at(20), at("near")))).toMatch(/approach is 90: .*0 to below 90/);
    expect(failure(() => GATE(at(20), at(-1), at("near")))).toMatch(/departure is -1/);
    expect(failure(() => GATE(at(20), at(20), at("left")))).toMatch(/side is "left": give "near"/);
    expect(failure(() => GATE(at(20), at(20), at(null)))).toMatch(/#N\/A side is blank/);
  });
});
