/**
 * The departure gate, a ball frozen to the banked rail: where it stands and how the leaving ball passes it.
 *
 * x along the rail in the direction of travel, the ball's centre at (0, R) when it touches. On the near side, where the
 * ball comes from, the gate must let the approach by: it is grazed when d cos α = D. The leaving ball is nearest to
 * such a gate where it starts, so it never touches it, but its line passes the gate's centre at d cos β and not at D.
 * On the far side the leaving ball grazes at d cos β = D.
 */
import { DEGREE } from "./units";

export const GATE_SIDES = ["near", "far"] as const;
export type GateSide = (typeof GATE_SIDES)[number];

export interface Gate {
  /** Along the rail, from the ball's centre at the cushion to the gate's centre. */
  readonly distance: number;
  /** How far beyond grazing the leaving ball's line passes the gate: negative when it starts inside the channel. */
  readonly beyondGrazing: number;
}

/**
 * @param approach angle at which the ball comes, degrees from square, 0 to below 90
 * @param departure angle at which it leaves, likewise
 * @param diameter of the ball, in any unit of length
 * @example departureGate(60, 60, "near", 2).distance // 4
 * @example departureGate(0, 60, "near", 2).beyondGrazing // -1
 * @example departureGate(30, 60, "far", 2) // { distance: 4, beyondGrazing: 0 }
 */
export function departureGate(approach: number, departure: number, side: GateSide, diameter: number): Gate {
  if (side === "far") return { distance: diameter / Math.cos(departure * DEGREE), beyondGrazing: 0 };
  const distance = diameter / Math.cos(approach * DEGREE);
  return { distance, beyondGrazing: distance * Math.cos(departure * DEGREE) - diameter };
}
