/**
 * Table constants from simple runs of a ball. SI.
 */
import { GRAVITY, stateOf } from "./ball";
import type { Conditions } from "./conditions";
import { impact } from "./cushion";

/**
 * Rolling friction of a ball that rolls to rest over a distance in a time: 2 d / (g t²).
 * @example rollFrictionOfRun(GRAVITY, 10) === 0.02
 */
export function rollFrictionOfRun(distance: number, time: number): number {
  return (2 * distance) / (GRAVITY * time * time);
}

/**
 * Sliding friction of a stunned ball that starts to roll after a distance: 12 v² / (49 g d).
 * @example slipFrictionOfStun(7, 12 / GRAVITY) // 1
 */
export function slipFrictionOfStun(speed: number, distance: number): number {
  return (12 * speed * speed) / (49 * GRAVITY * distance);
}

/**
 * Restitution with which the cushion's model gives a straight ball's speed back: the model run backwards by halving.
 * Undefined when no restitution from 0 to 1 does.
 * @param roll at the rail: 1 for a lag, which rolls
 */
export function restitutionOfLag(
  before: number,
  after: number,
  roll: number,
  conditions: Conditions,
): number | undefined {
  const state = stateOf({ speed: before, angle: 0, roll, side: 0, swerve: 0 }, "in", conditions.ballDiameter / 2);
  const back = (restitution: number) => -impact(state, { ...conditions, restitution }).vy;
  let low = 0;
  let high = 1;
  if (!(after >= back(low) && after <= back(high))) return undefined;
  for (let i = 0; i < 50; i++) {
    const middle = 0.5 * (low + high);
    if (back(middle) < after) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}
