/**
 * Whether anybody can shoot it: what a struck object ball can have of roll and side where it meets the cushion. SI.
 *
 * An object ball rests before it is hit, so all its spin comes through friction at one contact of two balls: the spin
 * at its surface is 5/2 of the speed that friction gives it, and friction gives at most μ of the push, so roll and side
 * together start at no more than 5/2 μ. Cue ball's spin and cut only decide how much of that and which way. Friction of
 * ball on ball: 0.03 to 0.08 (Marlow, The Physics of Pocket Billiards, 1995, from memory); the most of it is taken, so
 * that what is called impossible is so for all balls. On the way to the cushion the cloth turns slip into roll and
 * wears side off (cloth.ts), and the table ends the way.
 */
import { GRAVITY } from "../../bank/ball";
import type { Conditions } from "../../bank/conditions";
import { tableShape } from "../../bank/tableShape";
import type { Range } from "../setup/setup";
import { MOST_AT_START, type SettingName, type ShotSettings } from "./shotSettings";

/** Speed falls to 5/7 while a stunned ball begins to roll, so side at the cushion is at most so many times that. */
const GAIN = 7 / 5;

/** Moments at which the way back is looked at. */
const MOMENTS = 48;

/** How far the ball can have come, along the line on which it meets the cushion. */
export function longestRun({ along, angle, rail, table }: ShotSettings, radius: number): number {
  const { width, depth } = tableShape(rail, table);
  const toSide = angle > 0 ? along - radius : width - radius - along;
  return Math.max(
    0,
    Math.min((depth - 2 * radius) / Math.cos(angle), angle === 0 ? Infinity : toSide / Math.abs(Math.sin(angle))),
  );
}

/**
 * The least roll and side together with which a ball must have left its spot, within a run, to have this speed, roll
 * and side where it meets the cushion: the motion run backwards, slip first.
 * @example neededAtStart({ speed: 2, roll: 0.1, side: 0 }, 0, DEFAULT_CONDITIONS) // 0.1
 */
export function neededAtStart(
  { speed, roll, side }: Readonly<Record<"speed" | "roll" | "side", number>>,
  run: number,
  { slipFriction, sideFriction }: Conditions,
): number {
  // Nothing on the way makes a ball roll faster than it goes.
  if (roll > 1 + 1e-9) return Infinity;
  const slowing = slipFriction * GRAVITY;
  const last = slowing === 0 ? 0 : (Math.sqrt(speed * speed + 2 * slowing * run) - speed) / slowing;
  const straight = slowing === 0 ? 0 : Math.max(0, (roll * speed) / (2.5 * slowing));
  const startAt = (before: number) => {
    const then = speed + slowing * before;
    const turned = roll * speed - 2.5 * slowing * before;
    const spun = Math.abs(side) * speed + (side === 0 ? 0 : 2.5 * sideFriction * GRAVITY * before);
    return Math.hypot(turned, spun) / then;
  };
  let least = startAt(Math.min(straight, last));
  for (let i = 0; i <= MOMENTS; i++) least = Math.min(least, startAt((last * i) / MOMENTS));
  return least;
}

/** By how much a shot needs more spin at its start than an object ball can have; 0 for one that can be shot. */
export function beyondShooting(shot: ShotSettings, conditions: Conditions): number {
  if (shot.origin === "stroke") return 0;
  const needed =
    shot.origin === "spot"
      ? Math.hypot(shot.roll, shot.side)
      : neededAtStart(shot, longestRun(shot, conditions.ballDiameter / 2), conditions);
  return Math.max(0, Math.min(10, needed) - MOST_AT_START * (1 + 1e-9));
}

/** What a slider offers: of roll and side what somebody can shoot, of all else what it may be at all. */
export function offered(name: SettingName, shot: Pick<ShotSettings, "origin">, most: Range): Range {
  if (name === "roll")
    return shot.origin === "cushion" ? { low: -MOST_AT_START, high: 1 } : { low: -MOST_AT_START, high: MOST_AT_START };
  if (name === "side") {
    const high = shot.origin === "cushion" ? GAIN * MOST_AT_START : MOST_AT_START;
    return { low: -high, high };
  }
  return most;
}
