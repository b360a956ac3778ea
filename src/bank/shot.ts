/**
 * The bank shot: from the spot to the rail, off the cushion, and along the curved path to a line across the table.
 *
 * SI. x runs along the rail, y into the rail; the centre of a ball that touches the cushion is at y = 0, and the line
 * to reach is y = −across. The swing is measured from the straight chord between departure and arrival. On a parabola
 * that goes over into a straight line the ball is farthest from the chord where it runs parallel to it, which is in the
 * parabola; with v and a square to the chord, at t = −v/a, by v²/2|a|.
 */
import { motionOf, stateOf, type BallState, type Motion } from "./ball";
import { phaseAt, positionAt, runOnCloth, stateAt, timeAtLine, type ClothRun, type Phase } from "./cloth";
import type { Conditions } from "./conditions";
import { impact, RIGID_NOSE_LIMIT } from "./cushion";
import type { Integration } from "./impact/noseImpulse";

export type BankWarning =
  /** Square to the rail faster than the rigid nose of the source holds for. */
  | "fast for the nose"
  /** The nose's friction lifted the ball off the bed; its path is computed as if it had not. */
  | "airborne"
  /** The ball comes back to the cushion before it reaches the line. */
  | "double contact"
  /** The ball rests, or turns, before the line. */
  | "falls short";

/** Where the ball is farthest from the chord. */
export interface Swing {
  readonly time: number;
  readonly x: number;
  readonly y: number;
  /** Distance from the departure along the chord. */
  readonly along: number;
  /** Distance from the chord, 0 or more. */
  readonly distance: number;
}

export interface Arrival {
  /** Seconds after leaving the cushion. */
  readonly time: number;
  readonly x: number;
  /** Direction of travel from the square, radians, positive along +x. */
  readonly angle: number;
  readonly speed: number;
  readonly phase: Phase;
}

/** The path from the cushion to the line. */
export interface BankPath {
  readonly run: ClothRun;
  /** Direction off the cushion and of the chord, from the square, radians, positive along +x. */
  readonly departureAngle: number;
  readonly chordAngle: number;
  readonly arrival: Arrival;
  readonly swing: Swing;
  /** The swing's distance, + when the ball arrives shorter (nearer the square) than it left, − when longer. */
  readonly bend: number;
}

export interface Bank {
  readonly atCushion: BallState;
  readonly offCushion: BallState;
  /** Undefined when the ball never reaches the line. */
  readonly path: BankPath | undefined;
  /** How far from the cushion the ball gets, at most `across`. */
  readonly reach: number;
  readonly warnings: readonly BankWarning[];
}

/** The path of a ball that leaves the cushion at (x, 0), or undefined when it never gets to y = −across. */
export function pathToLine(offCushion: BallState, across: number, conditions: Conditions, x = 0): BankPath | undefined {
  const run = runOnCloth(offCushion, conditions, x, 0);
  const time = timeAtLine(run, -across);
  if (time === Infinity || timeAtLine(run, 0) < time) return undefined;
  const at = positionAt(run, time);
  const state = stateAt(run, time);
  const swing = widest(run, time, at);
  const departureAngle = Math.atan2(offCushion.vx, -offCushion.vy);
  const chordAngle = Math.atan2(at.x - x, across);
  return {
    run,
    departureAngle,
    chordAngle,
    arrival: {
      time,
      x: at.x,
      angle: Math.atan2(state.vx, -state.vy),
      speed: Math.hypot(state.vx, state.vy),
      phase: phaseAt(run, time),
    },
    swing,
    bend: Math.abs(departureAngle) >= Math.abs(chordAngle) ? swing.distance : -swing.distance,
  };
}

/** Below this share of the chord a distance from it is rounding. */
const ROUNDING = 1e-15;

/**
 * Where a run is farthest from the chord between its start and where it is at `time`.
 * @example widest(runOnCloth({ vx: 1, vy: -2, vz: 0, wx: 0, wy: 0, wz: 0 }, DEFAULT_CONDITIONS), 0.1, { x: 0.1, y: -0.2 }).distance < 1e-15
 */
export function widest(run: ClothRun, time: number, end: { x: number; y: number }): Swing {
  const chordX = end.x - run.x;
  const chordY = end.y - run.y;
  const length = Math.hypot(chordX, chordY);
  const drift = (chordX * run.start.vy - chordY * run.start.vx) / length;
  const pull = (chordX * run.ay - chordY * run.ax) / length;
  const distance = pull === 0 ? 0 : (drift * drift) / (2 * Math.abs(pull));
  const straight = !(distance > ROUNDING * length);
  const at = straight ? time / 2 : Math.min(-drift / pull, time, run.slipEnd);
  const { x, y } = positionAt(run, at);
  return {
    time: at,
    x,
    y,
    along: ((x - run.x) * chordX + (y - run.y) * chordY) / length,
    distance: straight ? 0 : distance,
  };
}

/** The bank of a ball that is at the cushion in a given state, at (x, 0). */
export function bankFromCushion(
  atCushion: BallState,
  across: number,
  conditions: Conditions,
  options: Integration = {},
  x = 0,
): Bank {
  const offCushion = impact(atCushion, conditions, options);
  const path = pathToLine(offCushion, across, conditions, x);
  const warnings: BankWarning[] = [];
  if (atCushion.vy > RIGID_NOSE_LIMIT) warnings.push("fast for the nose");
  if (offCushion.vz > 0) warnings.push("airborne");
  if (path) return { atCushion, offCushion, path, reach: across, warnings };
  const run = runOnCloth(offCushion, conditions);
  const back = timeAtLine(run, 0);
  warnings.push(back < timeAtLine(run, -across) ? "double contact" : "falls short");
  return { atCushion, offCushion, path, reach: Math.min(across, farthest(run, back)), warnings };
}

/** How far from y = 0 toward −y a run gets before it comes back or rests. */
function farthest(run: ClothRun, back: number): number {
  const turn = -run.start.vy / run.ay;
  const last = Math.min(back, run.rest);
  const at = turn > 0 && turn < Math.min(last, run.slipEnd) ? turn : last;
  return at < Infinity ? Math.max(0, -positionAt(run, at).y) : 0;
}

/** Bank of a ball with the given motion at the cushion; `motion.angle` positive along +x. */
export function bankOf(motion: Motion, across: number, conditions: Conditions, options: Integration = {}): Bank {
  return bankFromCushion(stateOf(motion, "in", conditions.ballDiameter / 2), across, conditions, options);
}

/**
 * A whole shot: the object ball leaves its spot with a motion, `distance` from where it will touch the cushion (in y).
 */
export interface Shot {
  readonly motion: Motion;
  readonly distance: number;
  readonly across: number;
  /** Where the pocket is along the rail, from the spot, on the line across; for `offPocket`. */
  readonly pocketX?: number;
}

/** The way from the spot at (0, −distance) to the rail. */
export interface Approach {
  readonly run: ClothRun;
  readonly time: number;
  /** Where the centre is along x when the ball touches the cushion. */
  readonly touchX: number;
  readonly atCushion: BallState;
}

/**
 * The way of a ball from its spot to the rail, or undefined when it never gets there.
 * @param distance of the spot from where the ball touches the cushion, in y
 * @example approachToRail({ vx: 0, vy: 0.1, vz: 0, wx: 0, wy: 0, wz: 0 }, 3, DEFAULT_CONDITIONS) === undefined
 */
export function approachToRail(state: BallState, distance: number, conditions: Conditions): Approach | undefined {
  const run = runOnCloth(state, conditions, 0, -distance);
  const time = distance === 0 ? 0 : timeAtLine(run, 0);
  if (time === Infinity) return undefined;
  const atCushion = stateAt(run, time);
  return atCushion.vy > 0 ? { run, time, touchX: positionAt(run, time).x, atCushion } : undefined;
}

export interface WholeBank extends Bank {
  readonly approach: Approach;
  readonly motionAtCushion: Motion;
  readonly motionOffCushion: Motion;
  /** How far the arrival is past the pocket along +x. */
  readonly offPocket: number | undefined;
}

/** The whole shot, or undefined when the ball never reaches the rail. */
export function wholeBank(shot: Shot, conditions: Conditions, options: Integration = {}): WholeBank | undefined {
  return wholeBankOf(stateOf(shot.motion, "in", conditions.ballDiameter / 2), shot, conditions, options);
}

/** The same for a ball that leaves its spot in a given state. */
export function wholeBankOf(
  state: BallState,
  { distance, across, pocketX }: Omit<Shot, "motion">,
  conditions: Conditions,
  options: Integration = {},
): WholeBank | undefined {
  const approach = approachToRail(state, distance, conditions);
  if (!approach) return undefined;
  const { atCushion, touchX } = approach;
  const bank = bankFromCushion(atCushion, across, conditions, options, touchX);
  const radius = conditions.ballDiameter / 2;
  return {
    ...bank,
    approach,
    motionAtCushion: motionOf(atCushion, radius),
    motionOffCushion: motionOf(bank.offCushion, radius),
    offPocket: bank.path && pocketX !== undefined ? bank.path.arrival.x - pocketX : undefined,
  };
}
