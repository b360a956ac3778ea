/**
 * The bank shot from the cue on: stroke, the cue ball's run, the collision with its throw, and the object ball's bank.
 *
 * The object ball rests at (0, −distance). A level cue gives no swerve, so the cue ball runs straight, and where it
 * hits follows from the triangle of the two centres.
 */
import { stateOf, type BallState } from "./ball";
import { runOnCloth, stateAt, timeAtLine } from "./cloth";
import type { Conditions } from "./conditions";
import type { Integration } from "./impact/noseImpulse";
import { wholeBankOf, type Shot, type WholeBank } from "./shot";
import { objectBallAfter, speedOfStroke, spinOfTip, type BallContact, type Stroke } from "./stroke";

export interface StrokeShot extends Omit<Shot, "motion"> {
  readonly stroke: Stroke;
  /** Centre of the cue ball from that of the object ball, m; y < 0 is away from the rail. */
  readonly cueBall: { readonly x: number; readonly y: number };
  /** Direction of the stroke from +y, radians, positive along +x. */
  readonly aim: number;
  readonly contact?: BallContact;
}

/** The part of the shot that the cue ball does. */
export type CuePart = Pick<StrokeShot, "stroke" | "cueBall" | "aim" | "contact">;

export interface StrokeHit {
  /** Cue ball just before it hits the object ball. */
  readonly cueBallAtContact: BallState;
  /** Direction of the line of centres and of the object ball, from +y, radians; their difference is the throw. */
  readonly lineAngle: number;
  readonly objectAngle: number;
  readonly objectBall: BallState;
}

export interface StrokeShotResult extends StrokeHit {
  /** Undefined when the object ball never reaches the rail. */
  readonly bank: WholeBank | undefined;
}

/** The shot, or undefined when the cue ball misses the object ball or rests before it. */
export function strokeShot(
  shot: StrokeShot,
  conditions: Conditions,
  options: Integration = {},
): StrokeShotResult | undefined {
  const hit = strokeHit(shot, conditions);
  return (
    hit && { ...hit, bank: hit.objectBall.vy > 0 ? wholeBankOf(hit.objectBall, shot, conditions, options) : undefined }
  );
}

/**
 * From the stroke until the object ball moves, or undefined when the cue ball misses it or rests before it.
 * @throws RangeError when the balls overlap
 */
export function strokeHit(shot: CuePart, conditions: Conditions): StrokeHit | undefined {
  const { stroke, cueBall, aim, contact } = shot;
  const { ballDiameter } = conditions;
  const radius = ballDiameter / 2;
  const along = -(cueBall.x * Math.sin(aim) + cueBall.y * Math.cos(aim));
  const aside = cueBall.y * Math.sin(aim) - cueBall.x * Math.cos(aim);
  if (!(along > 0 && Math.abs(aside) < ballDiameter)) return undefined;
  const travel = along - Math.sqrt(ballDiameter * ballDiameter - aside * aside);
  if (travel < 0) throw new RangeError("the cue ball and the object ball overlap");
  const lineAngle = aim + Math.asin(aside / ballDiameter);

  const start = {
    speed: speedOfStroke(stroke, conditions),
    angle: 0,
    ...spinOfTip(stroke.up, stroke.right, radius),
    swerve: 0,
  };
  const run = runOnCloth(stateOf(start, "in", radius), conditions);
  const time = travel === 0 ? 0 : timeAtLine(run, travel);
  if (time === Infinity) return undefined;
  const ahead = stateAt(run, time);
  if (!(ahead.vy > 0)) return undefined;
  const sine = Math.sin(aim);
  const cosine = Math.cos(aim);
  const cueBallAtContact: BallState = {
    vx: ahead.vy * sine,
    vy: ahead.vy * cosine,
    vz: 0,
    wx: ahead.wx * cosine,
    wy: -ahead.wx * sine,
    wz: ahead.wz,
  };
  const objectBall = objectBallAfter(cueBallAtContact, lineAngle, conditions, contact);
  return { cueBallAtContact, lineAngle, objectAngle: Math.atan2(objectBall.vx, objectBall.vy), objectBall };
}
