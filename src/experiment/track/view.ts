/** How the table is shown in what was measured. */
import type { Point } from "../../bank/pathClearance";
import type { ProjectiveMap } from "../../bank/projective";
import type { View } from "./fitMotion";

/** What was measured is inches on the table. */
export const SAME: View = { show: (place) => place, magnified: () => ({ x: { x: 1, y: 0 }, y: { x: 0, y: 1 } }) };
/** A step on the table by which the picture's own is found, in. */
const STEP = 1e-4;

/** What was measured is pixels of a picture. */
export function viewThrough(map: ProjectiveMap): View {
  const show = (place: Point) => map.toPicture(place);
  const stepFrom = (place: Point, dx: number, dy: number) => {
    const [before, after] = [show({ x: place.x - dx, y: place.y - dy }), show({ x: place.x + dx, y: place.y + dy })];
    return { x: (after.x - before.x) / (2 * STEP), y: (after.y - before.y) / (2 * STEP) };
  };
  return { show, magnified: (place) => ({ x: stepFrom(place, STEP, 0), y: stepFrom(place, 0, STEP) }) };
}
