/**
 * How a ball moves after the cushion, seen from above: a parabola while it slips, then straight while it rolls and
 * slows (see bank/cloth.ts), in inches and seconds, the nose of the banked rail at y = 0.
 *
 * The parabola is written about a time of the track and not about the contact: for one end of the slip it is then
 * linear in its numbers, and the contact follows from it as the place where the centre is a radius from the nose.
 */
import type { Point } from "../../bank/pathClearance";

/** x₀, x₁, x₂, y₀, y₁, y₂ of x₀ + x₁s + x₂s² and the same of y, s seconds after the origin; slowing while rolling. */
export type MotionNumbers = readonly [number, number, number, number, number, number, number];

export interface TrackMotion {
  /** In s. */
  readonly origin: number;
  /** When the slip ends, s; Infinity for a slip that outlasts the track. */
  readonly slipEnd: number;
  /** In in, in/s, in/s². */
  readonly numbers: MotionNumbers;
}

export interface Contact {
  /** Of the ball's centre along the banked rail, in. */
  readonly at: number;
  /** In s. */
  readonly when: number;
}

/** The motion with each of its numbers made anew. */
export function changedMotion(motion: TrackMotion, change: (value: number, place: number) => number): TrackMotion {
  const [a, b, c, d, e, f, g] = motion.numbers;
  return {
    ...motion,
    numbers: [change(a, 0), change(b, 1), change(c, 2), change(d, 3), change(e, 4), change(f, 5), change(g, 6)],
  };
}

/** Velocity at the end of a slip that lasts so long after the origin. */
function rollingStart([, x1, x2, , y1, y2]: MotionNumbers, slip: number) {
  const vx = x1 + 2 * x2 * slip;
  const vy = y1 + 2 * y2 * slip;
  return { vx, vy, speed: Math.hypot(vx, vy) };
}

/** Where the ball's centre is, by the time: what does not change with the time is worked out once. */
export function courseOf({ origin, slipEnd, numbers }: TrackMotion): (time: number) => Point {
  const [x0, x1, x2, y0, y1, y2, slowing] = numbers;
  const longest = slipEnd - origin;
  const { vx, vy, speed } = rollingStart(numbers, longest < Infinity ? longest : 0);
  const rest = slowing > 0 ? speed / slowing : Infinity;
  const slowed = speed > 0 ? (0.5 * slowing) / speed : 0;
  return (time) => {
    const slip = Math.min(time - origin, longest);
    const run = Math.min(Math.max(0, time - slipEnd), rest);
    const share = run - slowed * run * run;
    return { x: x0 + slip * (x1 + slip * x2) + vx * share, y: y0 + slip * (y1 + slip * y2) + vy * share };
  };
}

/** Velocity at a time. */
export function velocityAt({ origin, slipEnd, numbers }: TrackMotion, time: number): Point {
  const { vx, vy, speed } = rollingStart(numbers, Math.min(time, slipEnd) - origin);
  const left = time <= slipEnd || !(speed > 0) ? 1 : Math.max(0, 1 - (numbers[6] * (time - slipEnd)) / speed);
  return { x: vx * left, y: vy * left };
}

/**
 * Where and when the ball touched: back from the origin to where its centre was as near to the nose as at a contact; to
 * where it was nearest when the parabola never was so near.
 */
export function contactOf({ origin, numbers }: TrackMotion, nearest: number): Contact {
  const [x0, x1, x2, y0, y1, y2] = numbers;
  const open = y1 * y1 - 4 * y2 * (y0 - nearest);
  const back = open >= 0 ? (-2 * (y0 - nearest)) / (y1 + Math.sqrt(open)) : -y1 / (2 * y2);
  const since = Number.isFinite(back) ? back : 0;
  return { at: x0 + since * (x1 + since * x2), when: origin + since };
}

/**
 * Largest distance of the path from its chord, from the contact to a last time: + short (bowed to where the ball goes
 * along the rail), − long. A path that is straight has 0.
 * @param forward 1 when the ball goes to larger x along the rail, −1 when to smaller
 */
export function bendOf(motion: TrackMotion, nearest: number, last: number, forward: 1 | -1): number {
  const { slipEnd, numbers } = motion;
  const { when } = contactOf(motion, nearest);
  const placeAt = courseOf(motion);
  const from = placeAt(when);
  const to = placeAt(last);
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (!(length > 0)) return 0;
  const cx = (to.x - from.x) / length;
  const cy = (to.y - from.y) / length;
  // The parabola is farthest where it runs along the chord; the straight part only comes back to it.
  const start = velocityAt(motion, Math.min(when, slipEnd));
  const turning = 2 * (numbers[2] * cy - numbers[5] * cx);
  const starting = start.x * cy - start.y * cx;
  const end = Math.max(0, Math.min(slipEnd, last) - when);
  const after = turning === 0 ? end : Math.min(end, Math.max(0, -starting / turning));
  return forward * after * (starting + 0.5 * after * turning);
}
