/** Layouts whose departure gate lets the ball come, against exact geometry worked out here. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ARRANGEMENTS, gatedLayout, type GatedRequest } from "../../src/bank/gatedLayout";
import { departureGate } from "../../src/bank/gate";
import { bankLayout } from "../../src/bank/layout";
import { demandedBend } from "../../src/bank/layoutTolerance";

const DEGREE = Math.PI / 180;
const D = 2.25;
const R = D / 2;

const request = fc.record({
  departure: fc.double({ min: 30, max: 40, noNaN: true }),
  arrival: fc.double({ min: 41, max: 62, noNaN: true }),
  swing: fc.double({ min: 0.25, max: 0.75, noNaN: true }),
  bend: fc.double({ min: -1, max: 1, noNaN: true }).filter((bend) => Math.abs(bend) > 0.01),
  approach: fc.double({ min: 0.05, max: 0.9, noNaN: true }),
  arrangement: fc.constantFrom(...ARRANGEMENTS),
  mirrored: fc.boolean(),
});

const made = ({
  mirrored,
  departure,
  arrival,
  ...rest
}: { mirrored: boolean; departure: number; arrival: number } & Pick<
  GatedRequest,
  "swing" | "bend" | "approach" | "arrangement"
>): GatedRequest => ({
  tableWidth: 50,
  railLength: 100,
  departure: mirrored ? 100 - departure : departure,
  arrival: mirrored ? 100 - arrival : arrival,
  ballDiameter: D,
  obstacleDiameter: 2,
  ...rest,
});

const placesOf = (asked: GatedRequest) => {
  const laid = gatedLayout(asked);
  return { laid, at: (label: string) => laid.places.find((one) => one.label === label)! };
};

interface XY {
  readonly x: number;
  readonly y: number;
}
const away = (a: XY, b: XY) => Math.hypot(a.x - b.x, a.y - b.y);
/** Distance of a point from the line through two others. */
const fromLine = (p: XY, a: XY, b: XY) =>
  Math.abs((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) / Math.hypot(b.x - a.x, b.y - a.y);

describe("a layout with an approach", () => {
  it("lets the ball come: the gate is a ball's diameter from the approach, wherever it stands for that", () => {
    fc.assert(
      fc.property(request, (part) => {
        const asked = made(part);
        if (asked.arrangement === "far") return;
        const { at } = placesOf(asked);
        const touch = at("departure");
        const travel = asked.arrival < asked.departure ? -1 : 1;
        const before = {
          x: touch.x - travel * Math.sin(asked.approach) * 60,
          y: touch.y + Math.cos(asked.approach) * 60,
        };
        expect(fromLine(at("gate at the cushion"), touch, before)).toBeCloseTo(D, 9);
      }),
    );
  });

  it("asks for the wanted bend of the path, whatever the gate: a ball that grazes the obstacle is that far off its chord", () => {
    fc.assert(
      fc.property(request, (part) => {
        const asked = made(part);
        const { at, laid } = placesOf(asked);
        const [start, end, obstacle] = [at("departure"), at("arrival"), at("obstacle")];
        // Square to the chord, centre to centre, R + obstacle's radius less the bend.
        expect(fromLine(obstacle, start, end)).toBeCloseTo(R + 1 - Math.abs(asked.bend), 9);
        expect(laid.setBend - laid.correction).toBeCloseTo(Math.abs(asked.bend), 9);
        expect(away(at("near mark"), obstacle)).toBeCloseTo(Math.abs(laid.gap + 1), 9);
        expect(away(at("near mark"), at("far mark"))).toBeCloseTo(D, 9);
      }),
    );
  });

  it("sets what both gates and the obstacle ask for, where the gates stand on the obstacle's side", () => {
    fc.assert(
      fc.property(request, (part) => {
        const asked = made({
          ...part,
          arrangement: part.bend < 0 ? "far" : part.arrangement === "far" ? "near" : part.arrangement,
        });
        const { at, laid } = placesOf(asked);
        const set = demandedBend(
          [at("gate at the cushion"), at("gate at the pocket")],
          at("obstacle"),
          at("near mark"),
          D,
          2,
        );
        expect(set).toBeCloseTo(laid.setBend, 9);
      }),
    );
  });

  it("agrees with the gate's own formula, and with the first order of the correction", () => {
    for (const [approach, chordEnd] of [
      [20, 50],
      [35, 50],
      [20, 60],
    ] as const) {
      const asked = made({
        mirrored: false,
        departure: 32,
        arrival: chordEnd,
        swing: 0.4,
        bend: 0.5,
        approach: approach * DEGREE,
        arrangement: "near",
      });
      const { laid } = placesOf(asked);
      const chord = Math.atan2(chordEnd - 32, 50 - R);
      const gate = departureGate(approach, chord / DEGREE, "near", D);
      expect(-laid.gateAlong).toBeCloseTo(gate.distance, 12);
      // The channel turns by s₁ over the path's length, which moves it at the gate by that times d sin χ.
      const turned = (gate.distance * Math.sin(chord)) / Math.hypot(chordEnd - 32, 50 - R);
      expect(Math.abs(laid.beyondGrazing - gate.beyondGrazing)).toBeLessThan(
        1.2 * turned * Math.abs(gate.beyondGrazing) + 1e-9,
      );
      expect(laid.correction).toBeCloseTo(0.6 * gate.beyondGrazing, 1);
      expect(Math.sign(laid.correction)).toBe(Math.sign(gate.beyondGrazing));
    }
  });

  it("is the plain layout where the gate grazes both, slid along its line", () => {
    const asked = made({
      mirrored: false,
      departure: 32,
      arrival: 50,
      swing: 0.4,
      bend: 0.5,
      approach: 0.3,
      arrangement: "inside",
    });
    const plain = bankLayout(asked);
    const { at, laid } = placesOf(asked);
    expect(laid.correction).toBeCloseTo(0, 12);
    for (const label of ["near mark", "far mark", "obstacle"]) {
      const other = plain.find((one) => one.label === label)!;
      expect(away(at(label), other)).toBeLessThan(1e-9);
    }
  });

  it("keeps gates and guides on the table and out of a corner's mouth", () => {
    fc.assert(
      fc.property(request, fc.double({ min: 60, max: 100, noNaN: true }), (part, arrival) => {
        const asked = { ...made({ ...part, mirrored: false, arrival }), cornerMouth: 4.5 };
        const { at } = placesOf(asked);
        for (const label of ["gate at the pocket", "guide at the pocket", "guide at the cushion"]) {
          const { x, y } = at(label);
          expect(Math.min(x, 100 - x, y, 50 - y)).toBeGreaterThan(R - 1e-9);
        }
        for (const label of ["gate at the pocket", "guide at the pocket"]) {
          const { x, y } = at(label);
          // The mouth's line, x/√2 + y/√2 from the corner, stands 4.5/2 in before it.
          expect((100 - x + (50 - y)) / Math.SQRT2).toBeGreaterThan(2.25 + R - 1e-9);
        }
      }),
    );
  });

  it("freezes guides to their gates, on the channel that touches both, and says how far the ball's chord clears the gate", () => {
    fc.assert(
      fc.property(request, fc.double({ min: 0, max: 0.5, noNaN: true }), (part, room) => {
        const asked = { ...made({ ...part, arrangement: part.bend < 0 ? "far" : "near" }), room };
        const { at, laid } = placesOf(asked);
        const [gate, pocket] = [at("gate at the cushion"), at("gate at the pocket")];
        // The channel runs a ball's diameter beside the line of the gates, on which the far mark stands.
        expect(fromLine(at("far mark"), gate, pocket)).toBeCloseTo(0, 9);
        expect(fromLine(at("near mark"), gate, pocket)).toBeCloseTo(D, 9);
        for (const [guide, frozen] of [
          [at("guide at the cushion"), gate],
          [at("guide at the pocket"), pocket],
        ] as const) {
          expect(fromLine(guide, gate, pocket)).toBeCloseTo(D, 9);
          // Or held back by the rail that the one would stand in, or by the one opposite.
          const room = Math.min(guide.y - R, 50 - R - guide.y);
          expect(Math.min(Math.abs(away(guide, frozen) - D), Math.abs(room))).toBeLessThan(1e-9);
        }
        expect(laid.beyondGrazing).toBeCloseTo(fromLine(at("departure"), gate, pocket) - D, 9);
        expect(laid.setBend).toBeCloseTo(R - laid.gap, 12);
        expect(Math.abs(gate.x - at("departure").x)).toBeCloseTo(Math.abs(laid.gateAlong), 9);
        expect(gate.y - at("departure").y).toBeCloseTo(laid.gateOff, 9);
      }),
    );
  });

  it("leaves the room asked for between approach and gate, or between gate and a ball that leaves longer than its chord", () => {
    fc.assert(
      fc.property(request, fc.double({ min: 0.01, max: 0.5, noNaN: true }), (part, room) => {
        for (const arrangement of ["near", "inside"] as const) {
          const asked = { ...made({ ...part, arrangement }), room };
          const { at } = placesOf(asked);
          const touch = at("departure");
          const travel = asked.arrival < asked.departure ? -1 : 1;
          const before = { x: touch.x - travel * Math.sin(asked.approach), y: touch.y + Math.cos(asked.approach) };
          expect(fromLine(at("gate at the cushion"), touch, before)).toBeCloseTo(D + room, 9);
        }
        const chord = Math.atan2(part.arrival - part.departure, 50 - R);
        const long = {
          ...made({ ...part, bend: Math.abs(part.bend), arrangement: "far" }),
          room,
          leaving: chord + 0.1,
        };
        const { at, laid } = placesOf(long);
        const travel = long.arrival < long.departure ? -1 : 1;
        const after = { x: at("departure").x + travel * Math.tan(chord + 0.1), y: at("departure").y + 1 };
        expect(fromLine(at("gate at the cushion"), at("departure"), after)).toBeCloseTo(D + room, 9);
        // The channel is the ball's own chord then.
        expect(laid.correction).toBeCloseTo(0, 9);
      }),
    );
  });

  it("is the same in any unit of length, and mirrored where the shot is", () => {
    fc.assert(
      fc.property(request, (part) => {
        const asked = { ...made(part), room: 0.1, cornerMouth: 4.5 };
        const { railLength = NaN } = asked;
        const scaled = (size: number): GatedRequest => ({
          ...asked,
          tableWidth: asked.tableWidth * size,
          railLength: railLength * size,
          departure: asked.departure * size,
          arrival: asked.arrival * size,
          bend: asked.bend * size,
          ballDiameter: D * size,
          obstacleDiameter: asked.obstacleDiameter * size,
          room: asked.room * size,
          cornerMouth: asked.cornerMouth * size,
        });
        const here = gatedLayout(asked);
        const large = gatedLayout(scaled(25.4));
        const other = gatedLayout({ ...asked, departure: 100 - asked.departure, arrival: 100 - asked.arrival });
        here.places.forEach(({ label, x, y }, i) => {
          expect(large.places[i]).toEqual({ label, x: expect.closeTo(25.4 * x, 8), y: expect.closeTo(25.4 * y, 8) });
          expect(other.places[i]).toEqual({ label, x: expect.closeTo(100 - x, 9), y: expect.closeTo(y, 9) });
        });
        for (const key of ["gap", "setBend", "correction", "beyondGrazing", "gateAlong", "gateOff"] as const) {
          expect(large[key]).toBeCloseTo(25.4 * here[key], 8);
          expect(other[key]).toBeCloseTo(here[key], 9);
        }
      }),
    );
  });
});
