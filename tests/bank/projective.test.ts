/** The projective map: what every such map keeps, and corners that no camera saw. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { tableMap, type Corners } from "../../src/bank/projective";

const near = (x: number, y: number) =>
  fc
    .tuple(fc.double({ min: -80, max: 80, noNaN: true }), fc.double({ min: -80, max: 80, noNaN: true }))
    .map(([dx, dy]) => ({
      x: x + dx,
      y: y + dy,
    }));
/** A picture of a table in which no corner is far from a rectangle's. */
const corners = fc.tuple(near(100, 700), near(1100, 700), near(1000, 200), near(200, 200));
const place = fc.record({
  x: fc.double({ min: 0, max: 100, noNaN: true }),
  y: fc.double({ min: 0, max: 50, noNaN: true }),
});

const mapOf = (around: Corners) => {
  const map = tableMap(around, 100, 50);
  if (!map) throw new Error("no map");
  return map;
};

describe("tableMap", () => {
  it("sends the corners to the corners, in their order", () => {
    fc.assert(
      fc.property(corners, (around) => {
        const map = mapOf(around);
        const found = around.map((corner) => map.toTable(corner));
        const wanted = [
          [0, 0],
          [100, 0],
          [100, 50],
          [0, 50],
        ];
        found.forEach(({ x, y }, i) => {
          expect(x).toBeCloseTo(wanted[i][0], 8);
          expect(y).toBeCloseTo(wanted[i][1], 8);
        });
      }),
    );
  });

  it("goes there and back", () => {
    fc.assert(
      fc.property(corners, place, (around, { x, y }) => {
        const map = mapOf(around);
        const back = map.toTable(map.toPicture({ x, y }));
        expect(back.x).toBeCloseTo(x, 7);
        expect(back.y).toBeCloseTo(y, 7);
      }),
    );
  });

  it("keeps lines straight and the cross-ratio of four places on a line", () => {
    fc.assert(
      fc.property(corners, place, place, (around, from, to) => {
        fc.pre(Math.hypot(to.x - from.x, to.y - from.y) > 5);
        const map = mapOf(around);
        const on = (share: number) => ({ x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) });
        const [a, b, c, d] = [0, 0.2, 0.7, 1].map((share) => map.toPicture(on(share)));
        const length = Math.hypot(d.x - a.x, d.y - a.y);
        const along = (p: { x: number; y: number }) => ((p.x - a.x) * (d.x - a.x) + (p.y - a.y) * (d.y - a.y)) / length;
        const aside = (p: { x: number; y: number }) => ((p.x - a.x) * (d.y - a.y) - (p.y - a.y) * (d.x - a.x)) / length;
        expect(Math.abs(aside(b))).toBeLessThan(1e-6);
        expect(Math.abs(aside(c))).toBeLessThan(1e-6);
        // (0.7 − 0)(1 − 0.2) / ((0.7 − 0.2)(1 − 0))
        expect((along(c) * (along(d) - along(b))) / ((along(c) - along(b)) * along(d))).toBeCloseTo(1.12, 6);
      }),
    );
  });

  it("knows no map for corners that cross or lie on a line", () => {
    const [a, b, c, d] = [
      { x: 0, y: 0 },
      { x: 9, y: 0 },
      { x: 8, y: 5 },
      { x: 1, y: 5 },
    ];
    expect(tableMap([a, c, b, d], 100, 50)).toBeUndefined();
    expect(tableMap([a, b, { x: 18, y: 0 }, d], 100, 50)).toBeUndefined();
    expect(tableMap([a, b, { x: 3, y: 1 }, d], 100, 50)).toBeUndefined();
  });
});
