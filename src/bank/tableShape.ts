/**
 * The table as seen from above: playing surface, pockets and diamonds. SI.
 *
 * x runs along the rail that is banked from, from its left corner; y from that rail's nose into the table. Sizes are
 * those of a 9-ft table in the World Pool-Billiard Association equipment specifications, from memory: playing surface
 * 50 × 100 in nose to nose, corner mouth 4 1/2 in, side mouth 5 in, diamonds 3 11/16 in behind the nose, every 12 1/2
 * in.
 */
import { INCH } from "./units";

export type Rail = "long" | "short";

export interface TablePoint {
  readonly x: number;
  readonly y: number;
}

export interface Round extends TablePoint {
  readonly radius: number;
}

export interface TableShape {
  /** Length of the rail that is banked from, and how far it is to the rail opposite, nose to nose. */
  readonly width: number;
  readonly depth: number;
  /** Width of the rails' tops in the drawing; no measurement. */
  readonly frame: number;
  readonly pockets: readonly Round[];
  readonly diamonds: readonly TablePoint[];
}

const LENGTH = 100 * INCH;
const BREADTH = 50 * INCH;
const SPACING = 12.5 * INCH;
const BEHIND_NOSE = 3.6875 * INCH;
const CORNER_RADIUS = 2.25 * INCH;
const SIDE_RADIUS = 2.5 * INCH;

/**
 * The table with the rail that is banked from on top.
 * @example tableShape("long").width === 2 * tableShape("long").depth
 * @example tableShape("short").pockets.length === 6
 */
export function tableShape(rail: Rail): TableShape {
  const width = rail === "long" ? LENGTH : BREADTH;
  const depth = rail === "long" ? BREADTH : LENGTH;
  const corners = [0, width].flatMap((x) => [0, depth].map((y): Round => ({ x, y, radius: CORNER_RADIUS })));
  const sides: Round[] =
    rail === "long"
      ? [0, depth].map((y) => ({
          x: width / 2,
          y: y === 0 ? -SIDE_RADIUS / 2 : y + SIDE_RADIUS / 2,
          radius: SIDE_RADIUS,
        }))
      : [0, width].map((x) => ({
          x: x === 0 ? -SIDE_RADIUS / 2 : x + SIDE_RADIUS / 2,
          y: depth / 2,
          radius: SIDE_RADIUS,
        }));
  const steps = (along: number) =>
    Array.from({ length: Math.round(along / SPACING) - 1 }, (_, i) => (i + 1) * SPACING).filter(
      (at) => !(along === LENGTH && Math.abs(at - LENGTH / 2) < 1e-9),
    );
  const diamonds = [
    ...steps(width).flatMap((x) => [
      { x, y: -BEHIND_NOSE },
      { x, y: depth + BEHIND_NOSE },
    ]),
    ...steps(depth).flatMap((y) => [
      { x: -BEHIND_NOSE, y },
      { x: width + BEHIND_NOSE, y },
    ]),
  ];
  return { width, depth, frame: 5.5 * INCH, pockets: [...corners, ...sides], diamonds };
}
