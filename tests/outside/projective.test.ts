/**
 * The projective map against a published example: the matrix that OpenCV's getPerspectiveTransform (documented under
 * "Geometric Image Transformations") prints for four corners of a card seen at a slant and a square of 300, as it
 * stands in the comment of an open program's test of its own map. Nine digits are printed; over 300 units that is
 * 1e-6.
 */
import { describe, expect, it } from "vitest";
import { tableMap } from "../../src/bank/projective";

const SEEN = [
  { x: 33, y: 582 },
  { x: 151, y: 579 },
  { x: 145, y: 702 },
  { x: 25, y: 703 },
] as const;
const PRINTED = [
  [2.86405074, 0.189358727, -204.720453],
  [0.0710878995, 2.79612405, -1629.6901],
  [0.000160734029, 0.000173337133, 1],
] as const;

describe("tableMap", () => {
  it.each([...SEEN, { x: 90, y: 640 }, { x: 40, y: 690 }, { x: 120, y: 600 }])("agrees at %o", ({ x, y }) => {
    const map = tableMap([...SEEN], 300, 300)!;
    const [across, down, w] = PRINTED.map(([a, b, c]) => a * x + b * y + c);
    const found = map.toTable({ x, y });
    // −1629.6901 is printed as −1.62969010e+03 and c, the least exact entry, bounds the difference at 5e-6.
    expect(found.x).toBeCloseTo(across / w, 5);
    expect(found.y).toBeCloseTo(down / w, 5);
  });
});
