/**
 * A shot computed from where it is set: at the cushion, from the object ball's spot, or from the cue's stroke. SI.
 */
import { motionOf, stateOf, type BallState, type Motion } from "../../bank/ball";
import type { Conditions } from "../../bank/conditions";
import { approachToRail, bankFromCushion, bankOf, type Approach, type Bank } from "../../bank/shot";
import { strokeHit, type CuePart, type StrokeHit } from "../../bank/strokeShot";
import { tableShape, type TablePoint } from "../../bank/tableShape";
import { motionOfShot, type AtCushion, type SettingName, type ShotSettings } from "./shotSettings";

/**
 * Relative tolerance of the impact for what is drawn or searched: 1e-8 is far below a pixel and costs half of 1e-10.
 */
const QUICK = { tolerance: 1e-8 } as const;

/** Mass of the cue, kg: 19 oz. Common practice, no source. */
export const CUE_MASS = 0.54;

export type ShotPart = Pick<ShotSettings, SettingName | "origin">;

export interface ComputedShot {
  /** From the cushion on, with the touch at x = 0; undefined when the ball never reaches the cushion. */
  readonly bank: Bank | undefined;
  /** From the spot to the cushion; undefined for a shot set at the cushion, and when the ball never gets there. */
  readonly approach: Approach | undefined;
  /** The object ball as it leaves its spot; undefined for a shot set at the cushion, and when nothing hits it. */
  readonly leaving: BallState | undefined;
  /** What the cue ball does; undefined without a stroke, and when the cue ball never reaches the object ball. */
  readonly hit: StrokeHit | undefined;
}

/** Bend's bank for a motion at the cushion. */
export function bankAtCushion(motion: Pick<ShotSettings, AtCushion>, conditions: Conditions): Bank {
  return bankOf(motionOfShot(motion), motion.across, conditions, QUICK);
}

export function computeShot(shot: ShotPart, conditions: Conditions): ComputedShot {
  if (shot.origin === "cushion")
    return { bank: bankAtCushion(shot, conditions), approach: undefined, leaving: undefined, hit: undefined };
  const radius = conditions.ballDiameter / 2;
  const hit = shot.origin === "stroke" ? strokeHit(cuePart(shot, radius), conditions) : undefined;
  const leaving = shot.origin === "stroke" ? hit?.objectBall : stateOf(motionOfShot(shot), "in", radius);
  const approach = leaving && leaving.vy > 0 ? approachToRail(leaving, shot.spotDistance, conditions) : undefined;
  const bank = approach && bankFromCushion(approach.atCushion, shot.across, conditions, QUICK);
  return { bank, approach, leaving, hit };
}

/** The cue ball is put so that it meets the object ball on the wanted line of centres. */
export function cuePart({ cueSpeed, tipUp, tipRight, angle, cut, cueRun }: ShotPart, radius: number): CuePart {
  const aim = angle - cut;
  return {
    stroke: { cueSpeed, cueMass: CUE_MASS, up: tipUp * radius, right: tipRight * radius },
    cueBall: {
      x: -2 * radius * Math.sin(angle) - cueRun * Math.sin(aim),
      y: -2 * radius * Math.cos(angle) - cueRun * Math.cos(aim),
    },
    aim,
  };
}

/** Signed bend, NaN when the ball never reaches the line. */
export function bendOfShot(shot: ShotPart, conditions: Conditions): number {
  return computeShot(shot, conditions).bank?.path?.bend ?? NaN;
}

/** The motion at the cushion; undefined when the ball never gets there. */
export function motionAtCushion({ bank }: ComputedShot, { ballDiameter }: Conditions): Motion | undefined {
  return bank && motionOf(bank.atCushion, ballDiameter / 2);
}

/** Where the balls stand before the shot, on the table (see tableShape.ts). */
export interface BallStarts {
  readonly spot: TablePoint | undefined;
  readonly cueBall: TablePoint | undefined;
}

/** A ball that never reaches the cushion is taken to go straight, so that its spot has a place. */
export function ballStarts(shot: ShotPart, { approach, leaving }: ComputedShot, radius: number): BallStarts {
  if (shot.origin === "cushion") return { spot: undefined, cueBall: undefined };
  const aside =
    approach?.touchX ??
    shot.spotDistance * Math.tan(leaving && leaving.vy > 0 ? Math.atan2(leaving.vx, leaving.vy) : shot.angle);
  const spot = { x: shot.along - aside, y: radius + shot.spotDistance };
  if (shot.origin === "spot") return { spot, cueBall: undefined };
  const { cueBall } = cuePart(shot, radius);
  return { spot, cueBall: { x: spot.x + cueBall.x, y: spot.y - cueBall.y } };
}

/** How far a ball in that place would reach beyond the rails; 0 on the table. */
export function offTable(
  place: TablePoint | undefined,
  { rail, table }: Pick<ShotSettings, "rail" | "table">,
  radius: number,
): number {
  if (!place) return 0;
  const { width, depth } = tableShape(rail, table);
  return Math.max(0, radius - place.x, place.x - (width - radius), radius - place.y, place.y - (depth - radius));
}
