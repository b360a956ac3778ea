/**
 * A ball on the cloth: it slips on a parabola (Coriolis 1835), then rolls straight, then rests; side spin decays by
 * itself. Closed form throughout.
 *
 * The slip of the contact point is u = v + ω × (−R ẑ). While |u| > 0 the ball is slowed by μ_s g against û, û does not
 * turn, and |u| falls by 7/2 μ_s g. A vertical velocity is passed over.
 */
import { GRAVITY, type BallState } from "./ball";
import type { Conditions } from "./conditions";
import { earliestRoot } from "./earliestRoot";

export type Phase = "slip" | "roll" | "rest";

/** A run over the cloth from one place and state; times in s from its start, Infinity for what never happens. */
export interface ClothRun {
  readonly x: number;
  readonly y: number;
  readonly start: BallState;
  readonly radius: number;
  /** Acceleration while slipping. */
  readonly ax: number;
  readonly ay: number;
  /** When slip ends; where, and how the ball moves then. */
  readonly slipEnd: number;
  readonly rollX: number;
  readonly rollY: number;
  readonly rollVx: number;
  readonly rollVy: number;
  /** Deceleration while rolling, and when the ball rests. */
  readonly slowing: number;
  readonly rest: number;
  /** When the side spin is gone. */
  readonly sideEnd: number;
}

/** Slip this small beside the speeds it is the difference of is rounding. */
const ROUNDING = 4e-16;

/** The whole run in closed form, from (x, y) in m. Friction may be 0: then that phase has no end. */
export function runOnCloth(start: BallState, conditions: Conditions, x = 0, y = 0): ClothRun {
  const radius = conditions.ballDiameter / 2;
  const { vx, vy, wx, wy, wz } = start;
  let ux = vx - radius * wy;
  let uy = vy + radius * wx;
  let slip = Math.hypot(ux, uy);
  if (slip <= ROUNDING * (Math.abs(vx) + Math.abs(vy) + radius * (Math.abs(wx) + Math.abs(wy)))) ux = uy = slip = 0;
  const braking = conditions.slipFriction * GRAVITY;
  const slipEnd = slip === 0 ? 0 : (2 * slip) / (7 * braking);
  const ax = slip === 0 ? 0 : (-braking * ux) / slip;
  const ay = slip === 0 ? 0 : (-braking * uy) / slip;
  const rollVx = vx - (2 / 7) * ux;
  const rollVy = vy - (2 / 7) * uy;
  const slowing = conditions.rollFriction * GRAVITY;
  const rollSpeed = Math.hypot(rollVx, rollVy);
  const ends = slipEnd < Infinity;
  return {
    x,
    y,
    start,
    radius,
    ax,
    ay,
    slipEnd,
    rollX: ends ? x + (vx - ux / 7) * slipEnd : NaN,
    rollY: ends ? y + (vy - uy / 7) * slipEnd : NaN,
    rollVx,
    rollVy,
    slowing,
    rest: rollSpeed === 0 ? slipEnd : slipEnd + rollSpeed / slowing,
    sideEnd: wz === 0 ? 0 : (2 * radius * Math.abs(wz)) / (5 * conditions.sideFriction * GRAVITY),
  };
}

export function phaseAt(run: ClothRun, t: number): Phase {
  return t < run.slipEnd ? "slip" : t < run.rest ? "roll" : "rest";
}

/**
 * Share of the velocity at the start of rolling that is left, and the seconds at that full velocity that went as far.
 */
function rolled(run: ClothRun, t: number): { left: number; seconds: number } {
  const since = Math.min(t, run.rest) - run.slipEnd;
  if (run.rest === Infinity) return { left: 1, seconds: since };
  const rolling = run.rest - run.slipEnd;
  return rolling === 0
    ? { left: 0, seconds: 0 }
    : { left: 1 - since / rolling, seconds: since * (1 - since / (2 * rolling)) };
}

/** Centre of the ball in m at t ≥ 0. */
export function positionAt(run: ClothRun, t: number): { x: number; y: number } {
  if (t <= run.slipEnd) {
    return { x: run.x + t * (run.start.vx + 0.5 * run.ax * t), y: run.y + t * (run.start.vy + 0.5 * run.ay * t) };
  }
  const { seconds } = rolled(run, t);
  return { x: run.rollX + run.rollVx * seconds, y: run.rollY + run.rollVy * seconds };
}

/** Velocity and spin at t ≥ 0. */
export function stateAt(run: ClothRun, t: number): BallState {
  const { start, radius } = run;
  const wz = t >= run.sideEnd ? 0 : start.wz * (1 - t / run.sideEnd);
  if (t < run.slipEnd) {
    const spinUp = (2.5 / radius) * t;
    return {
      vx: start.vx + run.ax * t,
      vy: start.vy + run.ay * t,
      vz: 0,
      wx: start.wx + spinUp * run.ay,
      wy: start.wy - spinUp * run.ax,
      wz,
    };
  }
  const { left } = rolled(run, t);
  const vx = run.rollVx * left;
  const vy = run.rollVy * left;
  return { vx, vy, vz: 0, wx: -vy / radius, wy: vx / radius, wz };
}

/**
 * First time t > 0 at which the centre is on the line y = `line`; Infinity when it never is.
 * @example timeAtLine(runOnCloth({ vx: 0, vy: 2, vz: 0, wx: 0, wy: 0, wz: 0 }, { ...DEFAULT_CONDITIONS, slipFriction: 0 }), 3) // 1.5
 */
export function timeAtLine(run: ClothRun, line: number): number {
  const slipping = earliestRoot(0.5 * run.ay, run.start.vy, run.y - line);
  if (slipping <= run.slipEnd * (1 + 1e-14)) return slipping;
  const speed = Math.hypot(run.rollVx, run.rollVy);
  if (run.slipEnd === Infinity || speed === 0) return Infinity;
  const rolling = earliestRoot((-0.5 * run.slowing * run.rollVy) / speed, run.rollVy, run.rollY - line);
  return rolling <= (run.rest - run.slipEnd) * (1 + 1e-7) ? run.slipEnd + rolling : Infinity;
}
