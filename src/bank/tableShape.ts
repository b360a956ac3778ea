/**
 * The table as seen from above: playing surface, pockets with their jaws, and diamonds. SI.
 *
 * x runs along the rail that is banked from, from its left corner; y from that rail's nose into the table.
 */
import type { Point } from "./pathClearance";
import { INCH } from "./units";

export type Rail = "long" | "short";

export type TablePoint = Point;

export interface Round extends TablePoint {
  readonly radius: number;
}

/** What a tape says of a table: playing surface nose to nose, and the pockets' mouths between their jaws' tips. */
export interface TableSize {
  readonly length: number;
  readonly breadth: number;
  readonly cornerMouth: number;
  readonly sideMouth: number;
}

/**
 * A 9-ft table: 50 × 100 in nose to nose, corner mouth 4 1/2 in (specified 4 1/2 to 4 5/8), side mouth 5 in (5 to
 * 5 1/8). World Pool-Billiard Association equipment specifications, from memory.
 */
export const NINE_FOOT: TableSize = {
  length: 100 * INCH,
  breadth: 50 * INCH,
  cornerMouth: 4.5 * INCH,
  sideMouth: 5 * INCH,
};

export interface Pocket extends Round {
  readonly name: string;
  /** Tips of its two jaws, where the noses end. */
  readonly jaws: readonly [TablePoint, TablePoint];
}

export interface TableShape {
  /** Length of the rail that is banked from, and how far it is to the rail opposite, nose to nose. */
  readonly width: number;
  readonly depth: number;
  /** Width of the rails' tops in the drawing; no measurement. */
  readonly frame: number;
  readonly pockets: readonly Pocket[];
  readonly diamonds: readonly TablePoint[];
}

/** Diamonds divide the long rail into eight, and stand 3 11/16 in behind the nose (as above, from memory). */
const DIVISIONS = 8;
const BEHIND_NOSE = 3.6875 * INCH;

/**
 * The table with the rail that is banked from on top.
 * @example tableShape("long").width === 2 * tableShape("long").depth
 * @example tableShape("short").pockets.length === 6
 */
export function tableShape(rail: Rail, size: TableSize = NINE_FOOT): TableShape {
  const { length, breadth } = size;
  const [width, depth] = rail === "long" ? [length, breadth] : [breadth, length];
  const spacing = length / DIVISIONS;
  const steps = (along: number) =>
    Array.from({ length: Math.round(along / spacing) - 1 }, (_, i) => (i + 1) * spacing).filter(
      (at) => !(along === length && Math.abs(at - length / 2) < 1e-9),
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
  return { width, depth, frame: 5.5 * INCH, pockets: pocketsOf(rail, width, depth, size), diamonds };
}

/** A corner's mouth runs across the corner, a side's along the rail. */
function pocketsOf(rail: Rail, width: number, depth: number, { cornerMouth, sideMouth }: TableSize): Pocket[] {
  const cut = cornerMouth / Math.SQRT2;
  const corner = (x: number, y: number): Pocket => ({
    name: `${y === 0 ? "near" : "far"} ${x === 0 ? "left" : "right"} corner pocket`,
    x,
    y,
    radius: cornerMouth / 2,
    jaws: [
      { x: x === 0 ? cut : width - cut, y },
      { x, y: y === 0 ? cut : depth - cut },
    ],
  });
  const half = sideMouth / 2;
  const side = (at: number): Pocket => {
    const back = at === 0 ? -half / 2 : half / 2;
    return rail === "long"
      ? {
          name: `${at === 0 ? "near" : "far"} side pocket`,
          x: width / 2,
          y: at + back,
          radius: half,
          jaws: [
            { x: width / 2 - half, y: at },
            { x: width / 2 + half, y: at },
          ],
        }
      : {
          name: `${at === 0 ? "left" : "right"} side pocket`,
          x: at + back,
          y: depth / 2,
          radius: half,
          jaws: [
            { x: at, y: depth / 2 - half },
            { x: at, y: depth / 2 + half },
          ],
        };
  };
  return [
    ...[0, width].flatMap((x) => [corner(x, 0), corner(x, depth)]),
    ...[0, rail === "long" ? depth : width].map(side),
  ];
}

/**
 * How much of a pocket's mouth lies on both sides of a line, beyond a ball's radius: the smaller of the two; below 0
 * a ball on that line touches a jaw, or misses the mouth.
 * @param at a point of the line @param direction of travel, any length
 * @example mouthRoom(tableShape("long").pockets[5], { x: 50 * 0.0254, y: 0 }, { x: 0, y: 1 }, 0.0254) // 0.0381
 */
export function mouthRoom({ jaws }: Pocket, at: Point, direction: Point, ballRadius: number): number {
  const length = Math.hypot(direction.x, direction.y);
  const [first, second] = jaws.map(({ x, y }) => ((x - at.x) * direction.y - (y - at.y) * direction.x) / length);
  if (first === undefined || second === undefined) return NaN;
  return Math.min(Math.max(first, second), -Math.min(first, second)) - ballRadius;
}
