/**
 * How a ball moves after the cushion, seen from above: a parabola while it slips, then straight while it rolls and
 * slows (see bank/cloth.ts), in inches and seconds, the nose of the banked rail at y = 0.
 */
import type { Point } from "../../bank/pathClearance";

/** Place in the list of numbers that a motion is. */
export const AT = 0;
export const WHEN = 1;
export const VX = 2;
export const VY = 3;
export const AX = 4;
export const AY = 5;
export const SLOWING = 6;

/**
 * What is not known of a motion: where along the rail and when it touched, its velocity and acceleration then, and how
 * it slows while it rolls; in, s, in/s, in/s².
 */
export type MotionParameters = readonly [
  at: number,
  when: number,
  vx: number,
  vy: number,
  ax: number,
  ay: number,
  slowing: number,
];

/** The motion with each of its numbers made anew. */
export function changedMotion(
  motion: MotionParameters,
  change: (value: number, place: number) => number,
): MotionParameters {
  const at = (place: 0 | 1 | 2 | 3 | 4 | 5 | 6) => change(motion[place], place);
  return [at(AT), at(WHEN), at(VX), at(VY), at(AX), at(AY), at(SLOWING)];
}

/**
 * Where the ball's centre is.
 * @param slipping seconds of slip after the cushion
 * @param nearest distance of the centre from the nose at the contact
 */
export function placeAt(motion: MotionParameters, slipping: number, nearest: number, time: number): Point {
  const since = time - motion[WHEN];
  const slip = Math.min(since, slipping);
  const x = motion[AT] + slip * (motion[VX] + 0.5 * slip * motion[AX]);
  const y = nearest + slip * (motion[VY] + 0.5 * slip * motion[AY]);
  if (since <= slipping) return { x, y };
  const vx = motion[VX] + slipping * motion[AX];
  const vy = motion[VY] + slipping * motion[AY];
  const speed = Math.hypot(vx, vy);
  if (!(speed > 0)) return { x, y };
  const rolling = since - slipping;
  const run = motion[SLOWING] > 0 ? Math.min(rolling, speed / motion[SLOWING]) : rolling;
  const share = run - (0.5 * motion[SLOWING] * run * run) / speed;
  return { x: x + vx * share, y: y + vy * share };
}

/** Velocity at a time. */
export function velocityAt(motion: MotionParameters, slipping: number, time: number): Point {
  const since = time - motion[WHEN];
  const slip = Math.min(since, slipping);
  const x = motion[VX] + slip * motion[AX];
  const y = motion[VY] + slip * motion[AY];
  const speed = Math.hypot(x, y);
  const left = since <= slipping || !(speed > 0) ? 1 : Math.max(0, 1 - (motion[SLOWING] * (since - slipping)) / speed);
  return { x: x * left, y: y * left };
}

/**
 * Largest distance of the path from its chord, from the contact to a last time: + short (bowed to where the ball goes
 * along the rail), − long. A path that is straight has 0.
 * @param forward 1 when the ball goes to larger x along the rail, −1 when to smaller
 */
export function bendOf(
  motion: MotionParameters,
  slipping: number,
  nearest: number,
  last: number,
  forward: 1 | -1,
): number {
  const from = { x: motion[AT], y: nearest };
  const to = placeAt(motion, slipping, nearest, last);
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (!(length > 0)) return 0;
  const cx = (to.x - from.x) / length;
  const cy = (to.y - from.y) / length;
  // The parabola is farthest where it runs along the chord; the straight part only comes back to it.
  const turning = motion[AX] * cy - motion[AY] * cx;
  const starting = motion[VX] * cy - motion[VY] * cx;
  const end = Math.min(slipping, last - motion[WHEN]);
  const when = turning === 0 ? end : Math.min(end, Math.max(0, -starting / turning));
  return forward * when * (starting + 0.5 * when * turning);
}
