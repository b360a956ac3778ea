/**
 * How far the balls of a layout may be off before the bend that it proves is wrong. Any one length unit.
 */
import type { LayoutRequest } from "./layout";
import type { Point } from "./pathClearance";

/**
 * The bend that grazing both gates and the obstacle takes, wherever they stand: ball radius and obstacle radius less
 * the distance of the obstacle's centre from the straight line of a ball that grazes the gates. Its size; the side is
 * that of the gates.
 * @param gates centres, at the cushion first
 * @param line a point near the centre line, which says on which side of the gates the ball passes
 * @example demandedBend([{ x: 2, y: 0 }, { x: 2, y: 10 }], { x: 2.5, y: 5 }, { x: 0, y: 5 }, 2, 4) // 0.5
 */
export function demandedBend(
  [first, second]: readonly [Point, Point],
  obstacle: Point,
  line: Point,
  ballDiameter: number,
  obstacleDiameter: number,
): number {
  const along = { x: second.x - first.x, y: second.y - first.y };
  const length = Math.hypot(along.x, along.y);
  const off = ({ x, y }: Point) => ((x - first.x) * along.y - (y - first.y) * along.x) / length;
  const side = off(line) < 0 ? -1 : 1;
  // The centre line lies one ball's diameter from the gates; toward them is toward the obstacle.
  const distance = ballDiameter - side * off(obstacle);
  return (ballDiameter + obstacleDiameter) / 2 - distance;
}

export interface Tolerance {
  readonly label: string;
  /**
   * How far off square to the straight line, and in the direction of each rail; Infinity along a rail that the line is
   * square to.
   */
  readonly square: number;
  readonly x: number;
  readonly y: number;
}

/** Where the gates stand along the path, as shares of it. */
export interface GateShares {
  readonly cushion: number;
  readonly pocket: number;
}

/**
 * For each ball, mark and the obstacle, alone: how far it may be off before the bend is wrong by `wrong`. A gate or
 * guide shifts the line at the marks by the share of the path that lies beyond it; marks and obstacle count in full.
 * Off along the line matters to the second order only.
 * @example layoutTolerances({ tableWidth: 50, departure: 20, arrival: 20, swing: 0.25, bend: 1, ballDiameter: 2, obstacleDiameter: 4 }, 0.03)[0].square === 0.04
 */
export function layoutTolerances(
  { tableWidth, departure, arrival, swing, ballDiameter }: LayoutRequest,
  wrong: number,
  gates: GateShares = { cushion: 0, pocket: 1 },
): Tolerance[] {
  const across = tableWidth - ballDiameter / 2;
  const sideways = arrival - departure;
  const length = Math.hypot(across, sideways);
  const tolerance = (label: string, share: number): Tolerance => {
    const square = wrong / share;
    const along = (part: number) => (part === 0 ? Infinity : (square * length) / Math.abs(part));
    return { label, square, x: along(across), y: along(sideways) };
  };
  const apart = gates.pocket - gates.cushion;
  const first = (gates.pocket - swing) / apart;
  const last = (swing - gates.cushion) / apart;
  return [
    tolerance("gate at the cushion", first),
    tolerance("gate at the pocket", last),
    tolerance("guide at the cushion", first),
    tolerance("guide at the pocket", last),
    tolerance("near mark", 1),
    tolerance("far mark", 1),
    tolerance("obstacle", 1),
  ];
}
