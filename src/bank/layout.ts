/**
 * Where the balls, marks and the obstacle of a bank stand, measured from two rails. May import: nothing. Any one length unit.
 *
 * x runs along the rail that is banked from, y square to it, both from the noses. The ball leaves with its centre one
 * radius off that rail and arrives with its centre on the nose line opposite. The gates stand on the side that the ball
 * bends away from, so the obstacle does too.
 */

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
 * and frozen to the gates, the near mark on the line, the far mark level with the gates, and the obstacle's centre, whose
 * edge stands R − bend from the near mark.
 * @example bankLayout({ tableWidth: 50, departure: 20, arrival: 20, swing: 0.5, bend: 1, ballDiameter: 2, obstacleDiameter: 4 })[6] // { label: "near mark", x: 20, y: 25.5 }
 */
export function bankLayout({ tableWidth, departure, arrival, swing, bend, ballDiameter, obstacleDiameter }: LayoutRequest): LaidOut[] {
  const radius = ballDiameter / 2;
  const across = tableWidth - radius;
  const sideways = arrival - departure;
  const length = Math.hypot(sideways, across);
  // A short bend curves toward the square, so the ball swings out to the long side and the gates stand on the square side.
  const travel = sideways < 0 ? -1 : 1;
  const short = bend < 0 ? -1 : 1;
  const off = { x: (-travel * short * across) / length, y: (travel * short * sideways) / length };
  const place = (label: string, share: number, distance: number): LaidOut => ({
    label,
    x: departure + share * sideways + distance * off.x,
    y: radius + share * across + distance * off.y,
  });
  const gap = radius - Math.abs(bend);
  return [
    place("departure", 0, 0),
    place("arrival", 1, 0),
    place("gate at the cushion", 0, ballDiameter),
    place("gate at the pocket", 1, ballDiameter),
    place("guide at the cushion", 0, 0),
    place("guide at the pocket", 1, 0),
    place("near mark", swing, 0),
    place("far mark", swing, ballDiameter),
    place("obstacle", swing, gap + obstacleDiameter / 2),
  ];
}
