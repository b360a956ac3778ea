/**
 * Where the balls, marks and the obstacle of a bank stand, measured from two rails. Any one length unit.
 *
 * x runs along the rail that is banked from, y square to it, both from the noses. The ball leaves with its centre one
 * radius off that rail and arrives with its centre on the nose line opposite. The gates stand on the side that the ball
 * bends away from, so the obstacle does too.
 */
import type { Point } from "./pathClearance";

/**
 * Places beside a straight chord: `share` of the way along it and `distance` off it, measured square to it.
 * @param chord from its beginning to its end
 * @param side 1 for the side toward +x, −1 for the other
 * @example besideChord({ x: 0, y: 1 }, { x: 0, y: 10 }, 1)(0.5, 2) // { x: 2, y: 6 }
 */
export function besideChord(
  from: Point,
  { x: sideways, y: across }: Point,
  side: 1 | -1,
): (share: number, distance: number) => Point {
  const length = Math.hypot(sideways, across);
  const off = { x: (side * across) / length, y: (-side * sideways) / length };
  return (share, distance) => ({
    x: from.x + share * sideways + distance * off.x,
    y: from.y + share * across + distance * off.y,
  });
}

/**
 * How far from the chord the far mark and the obstacle's centre stand, with the obstacle's edge `gap` from the near
 * mark.
 */
export function offChord(
  gap: number,
  ballDiameter: number,
  obstacleDiameter: number,
): { readonly farMark: number; readonly obstacle: number } {
  return { farMark: ballDiameter, obstacle: gap + obstacleDiameter / 2 };
}

export interface LayoutRequest {
  /** Distance between the two rails, nose to nose. */
  readonly tableWidth: number;
  /** Where the ball's centre leaves, along the rail that is banked from. */
  readonly departure: number;
  /** Where the ball's centre arrives, along the rail opposite. */
  readonly arrival: number;
  /** Where the swing is widest, as a share of the path, 0 to 1. */
  readonly swing: number;
  /** Wanted bend, + short (toward the square), − long. */
  readonly bend: number;
  readonly ballDiameter: number;
  readonly obstacleDiameter: number;
}

export interface LaidOut {
  readonly label: string;
  readonly x: number;
  readonly y: number;
}

/**
 * The places of a layout: departure and arrival, the two gates one ball diameter off the centre line, the guides on it
 * and frozen to the gates, the near mark on the line, the far mark level with the gates, and the obstacle's centre,
 * whose edge stands R − bend from the near mark.
 * @example bankLayout({ tableWidth: 50, departure: 20, arrival: 20, swing: 0.5, bend: 1, ballDiameter: 2, obstacleDiameter: 4 })[6] // { label: "near mark", x: 20, y: 25.5 }
 */
export function bankLayout({
  tableWidth,
  departure,
  arrival,
  swing,
  bend,
  ballDiameter,
  obstacleDiameter,
}: LayoutRequest): LaidOut[] {
  const radius = ballDiameter / 2;
  const across = tableWidth - radius;
  // A short bend curves toward the square, so the ball swings out to the long side and the gates stand on the square
  // side.
  const travel = arrival < departure ? -1 : 1;
  const short = bend < 0 ? -1 : 1;
  const beside = besideChord(
    { x: departure, y: radius },
    { x: arrival - departure, y: across },
    travel * short > 0 ? -1 : 1,
  );
  const off = offChord(radius - Math.abs(bend), ballDiameter, obstacleDiameter);
  const place = (label: string, share: number, distance: number): LaidOut => ({ label, ...beside(share, distance) });
  return [
    place("departure", 0, 0),
    place("arrival", 1, 0),
    place("gate at the cushion", 0, ballDiameter),
    place("gate at the pocket", 1, ballDiameter),
    place("guide at the cushion", 0, 0),
    place("guide at the pocket", 1, 0),
    place("near mark", swing, 0),
    place("far mark", swing, off.farMark),
    place("obstacle", swing, off.obstacle),
  ];
}
