/** A whole shot against all that stands, against exact distances. */
import { describe, expect, it } from "vitest";
import { mouthRoom, tableShape } from "../../src/bank/tableShape";
import { noses, pocketOpposite, wholeShot, type Finding, type WholeShotRequest } from "../../src/bank/wholeShot";

const INCH = 0.0254;
const R = 1.125 * INCH;
const inches = (x: number, y: number) => ({ x: x * INCH, y: y * INCH });
const plain: WholeShotRequest = {
  table: tableShape("long"),
  ballRadius: R,
  ways: [{ name: "coming", points: [inches(25, 20), inches(32, 1.125)] }],
  leaving: { name: "leaving", points: [inches(32, 1.125), inches(50, 50)] },
  standing: [],
};
const least = (request: Partial<WholeShotRequest>, kind: Finding["kind"]) =>
  wholeShot({ ...plain, ...request }).find((one) => one.kind === kind)!;

describe("the whole shot", () => {
  it("is clear on an empty table", () => {
    expect(wholeShot(plain).every(({ clearance }) => clearance > 0)).toBe(true);
  });

  it("finds a gate in the way of the approach, by the distance of its centre from that line", () => {
    // A gate a ball's diameter off the chord, square to it, as a straight layout puts it: χ from square the chord, α
    // the
    // approach; its centre is D cos(α + χ) from the approach, so D (1 − cos(α + χ)) is missing.
    const [alpha, chi] = [Math.atan2(7, 20 - 1.125), Math.atan2(18, 50 - 1.125)];
    const gate = { x: 32 * INCH - 2 * R * Math.cos(chi), y: R + 2 * R * Math.sin(chi), radius: R, name: "gate" };
    const found = least({ standing: [gate] }, "in the way");
    expect(found.what).toBe("coming");
    expect(found.clearance).toBeCloseTo(2 * R * (Math.cos(alpha + chi) - 1), 12);
  });

  it("passes over what is gone by then, but not over its place", () => {
    const guide = { ...inches(32, 0.5), radius: R, name: "guide", gone: "lifted" as const };
    expect(wholeShot({ ...plain, standing: [guide] }).some(({ kind }) => kind === "in the way")).toBe(false);
    expect(least({ standing: [guide] }, "inside a rail").clearance).toBeCloseTo(-0.625 * INCH, 12);
  });

  it("finds what stands in a pocket's mouth, in a rail, or in something else", () => {
    const ball = (x: number, y: number, name = "ball") => ({ ...inches(x, y), radius: R, name });
    expect(least({ standing: [ball(50, 49.5)] }, "in a mouth").clearance).toBeCloseTo(-0.625 * INCH, 12);
    // A corner's mouth stands at 45°: 4.5/2 in before the corner.
    const corner = least({ standing: [ball(98, 48)] }, "in a mouth");
    expect(corner.against).toBe("the far right corner pocket");
    expect(corner.clearance).toBeCloseTo((4 / Math.SQRT2 - 2.25 - 1.125) * INCH, 12);
    expect(least({ standing: [ball(10, 20), ball(11, 20, "other")] }, "overlap").clearance).toBeCloseTo(
      -1.25 * INCH,
      12,
    );
  });

  it("knows the six noses, and a ball that touches where there is none", () => {
    expect(noses(plain.table)).toHaveLength(6);
    const leaving = { name: "leaving", points: [inches(49, 1.125), inches(50, 50)] };
    expect(least({ leaving }, "no cushion").clearance).toBeCloseTo(-1.5 * INCH, 9);
  });

  it("opens a pocket's mouth for an angle: side pocket m cos θ, corner pocket m cos(θ − 45°)", () => {
    const side = pocketOpposite(plain.table, 50 * INCH)!;
    const corner = pocketOpposite(plain.table, 99 * INCH)!;
    for (const angle of [0, 0.2, 0.5, 0.8]) {
      const direction = { x: Math.sin(angle), y: Math.cos(angle) };
      expect(mouthRoom(side, inches(50, 50), direction, 0)).toBeCloseTo(2.5 * INCH * Math.cos(angle), 12);
      const cut = 4.5 / Math.SQRT2;
      const middle = inches(100 - cut / 2, 50 - cut / 2);
      expect(mouthRoom(corner, middle, direction, 0)).toBeCloseTo(2.25 * INCH * Math.cos(angle - Math.PI / 4), 12);
    }
    expect(
      least({ leaving: { name: "leaving", points: [inches(32, 1.125), inches(46, 50)] } }, "pocket").clearance,
    ).toBeLessThan(0);
  });

  it("has the room from a way to each nose that it must not touch, between its jaws and beyond them", () => {
    // A cue ball comes along a line 3 in off the left rail, and the way out ends 2 in before the rail opposite.
    const ways = [{ name: "coming", points: [inches(3, 30), inches(32, 1.125)] }];
    expect(least({ ways }, "rail")).toMatchObject({ what: "coming", against: "the left rail" });
    expect(least({ ways }, "rail").clearance).toBeCloseTo((3 - 1.125) * INCH, 12);
    const right = [{ name: "coming", points: [inches(98, 20), inches(60, 20)] }];
    expect(least({ ways: right }, "rail").clearance).toBeCloseTo((2 - 1.125) * INCH, 12);
    expect(least({ ways: right }, "rail").against).toBe("the right rail");
    const far = [{ name: "coming", points: [inches(20, 47), inches(30, 20)] }];
    expect(least({ ways: far }, "rail")).toMatchObject({ against: "the rail opposite" });
    expect(least({ ways: far }, "rail").clearance).toBeCloseTo((3 - 1.125) * INCH, 12);
    // In the side pocket's mouth the nearest of the nose is its end, 2.5 in aside and 1 in off.
    const mouth = [{ name: "coming", points: [inches(50, 49), inches(30, 20)] }];
    expect(least({ ways: mouth }, "rail").clearance).toBeCloseTo((Math.hypot(2.5, 1) - 1.125) * INCH, 12);
  });

  it("is the same with left and right exchanged", () => {
    const standing = [
      { ...inches(41, 24), radius: R, name: "obstacle" },
      { ...inches(29, 1.125), radius: R, name: "gate" },
      { ...inches(97, 47), radius: R, name: "ball" },
    ];
    const turned = ({ x, y }: { x: number; y: number }) => ({ x: 100 * INCH - x, y });
    const way = ({ name, points }: WholeShotRequest["leaving"]) => ({ name, points: points.map(turned) });
    const here = wholeShot({ ...plain, standing });
    const there = wholeShot({
      ...plain,
      ways: plain.ways.map(way),
      leaving: way(plain.leaving),
      standing: standing.map((one) => ({ ...one, ...turned(one) })),
    });
    const told = (found: readonly Finding[], mirror: (text: string) => string) =>
      found
        .map(({ kind, what, against, clearance }) => `${kind} ${what} ${mirror(against)} ${clearance.toFixed(9)}`)
        .sort();
    const exchanged = (text: string) => text.replace(/left|right/, (side) => (side === "left" ? "right" : "left"));
    expect(told(there, exchanged)).toEqual(told(here, (text) => text));
  });
});
