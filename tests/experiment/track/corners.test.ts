/** What clicked corners make of a bend, against fitting the whole track anew with each corner moved. */
import { describe, expect, it } from "vitest";
import { tableMap, type Corners } from "../../../src/bank/projective";
import { picturedTable } from "../../../src/experiment/track/picturedTable";
import { trackedShot } from "../../../src/experiment/track/trackedShot";
import { randomOf } from "../../../src/statistics/numeric/drawer";

const CORNERS: Corners = [
  { x: 120, y: 640 },
  { x: 1180, y: 600 },
  { x: 980, y: 180 },
  { x: 300, y: 200 },
];
const RADIUS = 1.125;

/** Slips for 0.3 s, then rolls straight; as seen in the picture, scattering by 0.4 pixels. */
function film() {
  const random = randomOf(11);
  const map = tableMap(CORNERS, 100, 50)!;
  return Array.from({ length: 90 }, (_, frame) => {
    const time = frame / 120;
    const since = time - 0.1;
    const [slip, rolled] = [Math.min(since, 0.3), Math.max(0, since - 0.3)];
    const place =
      since < 0
        ? { x: 40 + 35 * since, y: RADIUS - 80 * since }
        : { x: 40 + 38 * slip - 35 * slip ** 2 + rolled * 17, y: RADIUS + 70 * slip - 15 * slip ** 2 + rolled * 61 };
    const { x, y } = map.toPicture(place);
    return { time, seen: { x: x + 0.4 * random.normal(), y: y + 0.4 * random.normal() } };
  });
}

describe("the corners' part", () => {
  const points = film();
  const bendWith = (corners: Corners) =>
    trackedShot(points, { table: picturedTable(corners, 100, 50, 0)!, nearest: RADIUS, confidence: 0.95 });

  it("is what fits with each corner moved come to", () => {
    const error = 2;
    const table = picturedTable(CORNERS, 100, 50, error)!;
    const { cornersPart, standardError, bend } = trackedShot(points, { table, nearest: RADIUS, confidence: 0.95 });
    let squares = 0;
    for (const place of [0, 1, 2, 3])
      for (const way of ["x", "y"] as const) {
        const [back, on] = [-error, error].map((by) => {
          const moved = CORNERS.map((at, i) => (i === place ? { ...at, [way]: at[way] + by } : at));
          return bendWith(moved as unknown as Corners).bend;
        });
        squares += ((on - back) / 2) ** 2;
      }
    // The fit weighs the points a little differently in each map; a tenth is far below what a click is known to.
    expect(cornersPart / Math.sqrt(squares)).toBeGreaterThan(0.9);
    expect(cornersPart / Math.sqrt(squares)).toBeLessThan(1.1);
    const exact = bendWith(CORNERS);
    expect(exact.cornersPart).toBe(0);
    expect(standardError).toBeCloseTo(Math.hypot(exact.standardError, cornersPart), 3);
    expect(bend).toBeCloseTo(exact.bend, 3);
  });

  it("cannot be told where a corner may stand on the other side of another", () => {
    expect(picturedTable(CORNERS, 100, 50, 400)).toBeUndefined();
  });
});
