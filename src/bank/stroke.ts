/**
 * From the cue to the object ball: the stroke, and the collision of two balls with its throw.
 *
 * The collision: one impulse along the line of centres with restitution, and Coulomb friction across it, after Wallace
 * & Schroeder, Analysis of billiard ball collisions in two dimensions, Am. J. Phys. 56 (1988) 815–819, who measured
 * that the throw of cut shots follows it (cited from memory). The stroke: textbook mechanics with no further source,
 * one impulse along a level cue through the tip's place. Squirt and the cue's elevation are left out.
 */
import type { BallState } from "./ball";
import type { Conditions } from "./conditions";

/** A tip farther off centre than this share of the radius slips off the ball. Common practice, no source. */
export const MISCUE_LIMIT = 0.5;

/** Roll or side that a tip at the miscue limit gives: 5/2 · 1/2. */
export const MOST_SPIN_OF_A_STROKE = 1.25;

export interface Stroke {
  /** Speed of the cue in m/s just before it hits, and its mass in kg. */
  readonly cueSpeed: number;
  readonly cueMass: number;
  /** Tip's place on the ball in m from its centre: up, and to the shooter's right. */
  readonly up: number;
  readonly right: number;
  /** Restitution of tip on ball; 0.75 when left out, from memory, no source. */
  readonly tipRestitution?: number;
}

/**
 * Roll and side that a tip `up` above and `right` of the centre gives: 5/2 of the offset over the radius. Right gives
 * positive side (counter-clockwise from above).
 * @example spinOfTip(0.4, 0, 1).roll === 1
 */
export function spinOfTip(up: number, right: number, radius: number): { roll: number; side: number } {
  return { roll: (2.5 * up) / radius, side: (2.5 * right) / radius };
}

/**
 * Speed of the cue ball: V (1 + e) / (1 + m/M + 5/2 (offset/R)²), by momentum, spin and restitution at the tip.
 * @example speedOfStroke({ cueSpeed: 2, cueMass: 0.4, up: 0, right: 0, tipRestitution: 1 }, { ...DEFAULT_CONDITIONS, ballMass: 0.2 }) // 2.66666666667
 */
export function speedOfStroke(
  { cueSpeed, cueMass, up, right, tipRestitution = 0.75 }: Stroke,
  { ballMass, ballDiameter }: Conditions,
): number {
  const offset = (2 * Math.hypot(up, right)) / ballDiameter;
  return (cueSpeed * (1 + tipRestitution)) / (1 + ballMass / cueMass + 2.5 * offset * offset);
}

/** Friction and restitution between two balls. From memory, no source: 0.06 and 0.95 are usual for clean balls. */
export interface BallContact {
  readonly friction: number;
  readonly restitution: number;
}
export const DEFAULT_BALL_CONTACT: BallContact = { friction: 0.06, restitution: 0.95 };

/**
 * State of a resting object ball just after the cue ball hits it. The throw is friction's part across the line of
 * centres: the smaller of μ times the push and what ends the slip (1/7 of it for equal balls). A vertical velocity is
 * taken up by the bed.
 * @param lineAngle direction from the cue ball's centre to the object ball's, radians from +y, positive along +x
 */
export function objectBallAfter(
  cueBall: BallState,
  lineAngle: number,
  { ballDiameter }: Conditions,
  contact: BallContact = DEFAULT_BALL_CONTACT,
): BallState {
  const radius = ballDiameter / 2;
  const lineX = Math.sin(lineAngle);
  const lineY = Math.cos(lineAngle);
  const closing = cueBall.vx * lineX + cueBall.vy * lineY;
  if (!(closing > 0))
    throw new RangeError(`the cue ball does not move toward the object ball: it closes at ${closing} m/s`);
  const push = 0.5 * (1 + contact.restitution) * closing;
  // The cue ball's surface at the contact moves across by v·c + R ω × line, with c = (cos, −sin) to the right of the
  // line.
  const across = cueBall.vx * lineY - cueBall.vy * lineX - radius * cueBall.wz;
  const upward = radius * (cueBall.wx * lineY - cueBall.wy * lineX);
  const slip = Math.hypot(across, upward);
  const share = slip === 0 ? 0 : Math.min((contact.friction * push) / slip, 1 / 7);
  const sideways = share * across;
  const lift = share * upward;
  const spin = 2.5 / radius;
  return {
    vx: push * lineX + sideways * lineY,
    vy: push * lineY - sideways * lineX,
    vz: 0,
    wx: -spin * lift * lineY,
    wy: spin * lift * lineX,
    wz: spin * sideways,
  };
}

/**
 * How far friction turns the object ball off the line of centres, radians, positive along +x.
 * @example throwAngle({ vx: 0, vy: 2, vz: 0, wx: 0, wy: 0, wz: 0 }, 0, DEFAULT_CONDITIONS) === 0
 */
export function throwAngle(
  cueBall: BallState,
  lineAngle: number,
  conditions: Conditions,
  contact?: BallContact,
): number {
  const { vx, vy } = objectBallAfter(cueBall, lineAngle, conditions, contact);
  return Math.atan2(vx, vy) - lineAngle;
}
