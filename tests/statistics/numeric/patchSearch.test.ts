/** A patch found again: between pixels, in other light, at the border; the middle of something round. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { centreOfSymmetry, cutPatch, findPatch, type GreyPicture } from "../../../src/statistics/numeric/patchSearch";

/** A round hill with a ring, smooth enough for its middle to be known between pixels. */
function pictureOf(x: number, y: number, { gain = 1, level = 0, tilt = 0 } = {}): GreyPicture {
  const [width, height] = [90, 70];
  const values = Float32Array.from({ length: width * height }, (_, i) => {
    const [column, row] = [i % width, Math.floor(i / width)];
    const off = Math.hypot(column - x, row - y);
    return level + gain * (120 * Math.exp(-((off / 4) ** 2)) - 50 * Math.exp(-(((off - 7) / 2) ** 2))) + tilt * column;
  });
  return { width, height, values };
}
const part = fc.double({ min: -0.5, max: 0.5, noNaN: true });
const whole = fc.integer({ min: -8, max: 8 });

describe("findPatch", () => {
  it("finds the place between pixels, whatever the light", () => {
    fc.assert(
      fc.property(part, part, whole, whole, fc.double({ min: 0.3, max: 3, noNaN: true }), (fx, fy, dx, dy, gain) => {
        const patch = cutPatch(pictureOf(40, 30), 40, 30, 9)!;
        const found = findPatch(pictureOf(40 + dx + fx, 30 + dy + fy, { gain, level: 40 }), patch, 40, 30, 12)!;
        expect(found.atBorder).toBe(false);
        expect(found.score).toBeGreaterThan(0.95);
        // The parabola through three values of a bell is off by a few hundredths of a pixel.
        expect(Math.abs(found.x - (40 + dx + fx))).toBeLessThan(0.08);
        expect(Math.abs(found.y - (30 + dy + fy))).toBeLessThan(0.08);
      }),
    );
  });

  it("finds a patch where it was cut with a score of 1, and of −1 in its negative", () => {
    const patch = cutPatch(pictureOf(40, 30), 40, 30, 9)!;
    const found = findPatch(pictureOf(40, 30), patch, 40, 30, 6)!;
    expect(found.score).toBeCloseTo(1, 12);
    expect([Math.round(found.x), Math.round(found.y)]).toEqual([40, 30]);
    const negative = findPatch(pictureOf(40, 30, { gain: -1, level: 200 }), patch, 40, 30, 0)!;
    expect(negative.score).toBeCloseTo(-1, 6);
  });

  it("says when the best place is at the border of what was searched", () => {
    const patch = cutPatch(pictureOf(40, 30), 40, 30, 9)!;
    expect(findPatch(pictureOf(50, 30), patch, 40, 30, 8)!.atBorder).toBe(true);
  });

  it("knows no place of a patch that is of one grey, and cuts none at the edge", () => {
    const flat = { width: 90, height: 70, values: new Float32Array(90 * 70).fill(80) };
    expect(findPatch(pictureOf(40, 30), cutPatch(flat, 40, 30, 5)!, 40, 30, 5)).toBeUndefined();
    expect(findPatch(flat, cutPatch(pictureOf(40, 30), 40, 30, 5)!, 40, 30, 5)!.score).toBe(0);
    expect(cutPatch(flat, 3, 30, 5)).toBeUndefined();
  });
});

describe("centreOfSymmetry", () => {
  it("finds the middle of something round near the place", () => {
    fc.assert(
      fc.property(part, part, fc.integer({ min: -3, max: 3 }), fc.integer({ min: -3, max: 3 }), (fx, fy, dx, dy) => {
        const found = centreOfSymmetry(pictureOf(40 + fx, 30 + fy), 40 + dx, 30 + dy, 9, 5)!;
        // Between two pixels a turn by half about either of them does not quite fit.
        expect(found.score).toBeGreaterThan(0.85);
        expect(Math.abs(found.x - 40 - fx)).toBeLessThan(0.1);
        expect(Math.abs(found.y - 30 - fy)).toBeLessThan(0.1);
      }),
    );
  });
});
