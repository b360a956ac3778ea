/**
 * A picture of the table and the table itself: the projective map that four corners fix.
 *
 * Closed form from a unit square to any quadrangle, after P. S. Heckbert, Fundamentals of Texture Mapping and Image
 * Warping (master's thesis, University of California, Berkeley, 1989), section 2.2.3.
 */
import type { Point } from "./pathClearance";

/** Nine entries of a 3 × 3 matrix, row by row. */
type Nine = readonly [number, number, number, number, number, number, number, number, number];

export interface ProjectiveMap {
  /** From the picture to the table. */
  toTable(pixel: Point): Point;
  /** From the table to the picture. */
  toPicture(place: Point): Point;
}

/** Four corners in the order in which one walks around. */
export type Corners = readonly [Point, Point, Point, Point];

/**
 * The map of a table of `length` along the banked rail and `width` away from it.
 * @param corners in the picture: the banked rail's left and right end, then the right and left end of the rail opposite
 * @returns undefined when the corners do not stand around a quadrangle without a dent, so that no camera saw them so
 * @example tableMap([{ x: 0, y: 0 }, { x: 200, y: 0 }, { x: 200, y: 100 }, { x: 0, y: 100 }], 100, 50).toTable({ x: 100, y: 50 }) // { x: 50, y: 25 }
 */
export function tableMap(corners: Corners, length: number, width: number): ProjectiveMap | undefined {
  if (!isConvex(corners)) return undefined;
  const toPixels = squareToQuadrangle(corners);
  const toSquare = adjugate(toPixels);
  return {
    toTable: (pixel) => {
      const { x, y } = apply(toSquare, pixel);
      return { x: x * length, y: y * width };
    },
    toPicture: ({ x, y }) => apply(toPixels, { x: x / length, y: y / width }),
  };
}

/** The corners (0, 0), (1, 0), (1, 1), (0, 1) go to the four points. */
function squareToQuadrangle([a, b, c, d]: Corners): Nine {
  const sumX = a.x - b.x + c.x - d.x;
  const sumY = a.y - b.y + c.y - d.y;
  const [dx1, dy1] = [b.x - c.x, b.y - c.y];
  const [dx2, dy2] = [d.x - c.x, d.y - c.y];
  const area = dx1 * dy2 - dx2 * dy1;
  const g = (sumX * dy2 - dx2 * sumY) / area;
  const h = (dx1 * sumY - sumX * dy1) / area;
  return [b.x - a.x + g * b.x, d.x - a.x + h * d.x, a.x, b.y - a.y + g * b.y, d.y - a.y + h * d.y, a.y, g, h, 1];
}

/** The inverse up to a factor, which a projective map does not notice. */
function adjugate([a, b, c, d, e, f, g, h, i]: Nine): Nine {
  return [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ];
}

function apply([a, b, c, d, e, f, g, h, i]: Nine, { x, y }: Point): Point {
  const w = g * x + h * y + i;
  return { x: (a * x + b * y + c) / w, y: (d * x + e * y + f) / w };
}

/** Whether all four turns go the same way. */
function isConvex([a, b, c, d]: Corners): boolean {
  const turn = (p: Point, q: Point, r: Point) => (q.x - p.x) * (r.y - q.y) - (q.y - p.y) * (r.x - q.x);
  const turns = [turn(a, b, c), turn(b, c, d), turn(c, d, a), turn(d, a, b)];
  return turns.every((value) => value > 0) || turns.every((value) => value < 0);
}
