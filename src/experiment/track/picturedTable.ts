/** A table in a picture by its four corners, and what is not known of it because corners are clicked by hand. */
import type { Point } from "../../bank/pathClearance";
import { tableMap, type Corners, type ProjectiveMap } from "../../bank/projective";

/**
 * Standard uncertainty of a clicked corner along the picture and down it, in pixels, where nobody says another: a hand
 * finds a pixel or two. No source; two rounds of clicks on one's own film tell it.
 */
export const USUAL_CORNER_ERROR = 1.5;

export interface PicturedTable {
  readonly map: ProjectiveMap;
  /** In pixels. */
  readonly cornerError: number;
  /** The map with one coordinate of one corner moved by its uncertainty, back and on: eight pairs. */
  readonly moved: readonly (readonly [back: ProjectiveMap, on: ProjectiveMap])[];
}

/**
 * @param length along the banked rail and `width` away from it, in in
 * @param cornerError standard uncertainty of a corner along the picture and down it, pixels
 * @returns undefined when the corners do not stand around a quadrangle, or may not, with that uncertainty
 */
export function picturedTable(
  corners: Corners,
  length: number,
  width: number,
  cornerError: number,
): PicturedTable | undefined {
  const map = tableMap(corners, length, width);
  if (!map) return undefined;
  const moved: (readonly [ProjectiveMap, ProjectiveMap])[] = [];
  for (const place of cornerError > 0 ? corners.keys() : [])
    for (const way of ["x", "y"] as const) {
      const [back, on] = [-cornerError, cornerError].map((by) =>
        tableMap(withMoved(corners, place, way, by), length, width),
      );
      if (!back || !on) return undefined;
      moved.push([back, on]);
    }
  return { map, cornerError, moved };
}

function withMoved([a, b, c, d]: Corners, place: number, way: "x" | "y", by: number): Corners {
  const at = (corner: Point, its: number) => (its === place ? { ...corner, [way]: corner[way] + by } : corner);
  return [at(a, 0), at(b, 1), at(c, 2), at(d, 3)];
}
