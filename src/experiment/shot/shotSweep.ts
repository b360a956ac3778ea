/**
 * The bend of a shot as one setting changes, its band over the table's constants, and how much each setting does. SI.
 */
import type { Conditions } from "../../bank/conditions";
import { there } from "../../there";
import { completed } from "../language/completed";
import { bendOfShot, type ShotPart } from "./computedShot";
import { beyondShooting, offered } from "./shootable";
import { bendSettings, boundsOf, changeOf, type BendSetting, type ShotSettings } from "./shotSettings";
import type { Range } from "../setup/setup";

export interface BendRange extends Range {
  /** How many of the sets of constants never bring the ball to the line. */
  readonly short: number;
}

/** Least and largest bend over sets of constants. */
export function bendRange(shot: ShotPart, sets: readonly Conditions[]): BendRange {
  let low = Infinity;
  let high = -Infinity;
  let short = 0;
  for (const conditions of sets) {
    const bend = bendOfShot(shot, conditions);
    if (Number.isNaN(bend)) short++;
    else {
      low = Math.min(low, bend);
      high = Math.max(high, bend);
    }
  }
  return { low: low === Infinity ? NaN : low, high: high === -Infinity ? NaN : high, short };
}

/** NaN stands where the ball never reaches the line. */
export interface BendCurve {
  readonly x: readonly number[];
  readonly bend: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
}

/**
 * Bend at evenly spaced values of one setting over all that it may be, the others as they are. Yields after each value,
 * which takes as many shots as there are sets.
 * @param sets constants that the band spans, the first of which is the line
 */
export function* curveSteps(
  shot: ShotSettings,
  setting: BendSetting,
  sets: readonly Conditions[],
  points: number,
): Generator<void, BendCurve> {
  const { low: from, high: to } = boundsOf(setting, shot);
  const curve = { x: [] as number[], bend: [] as number[], low: [] as number[], high: [] as number[] };
  const line = there(sets[0], "a first set of constants");
  for (let i = 0; i < points; i++) {
    const value = from + ((to - from) * i) / (points - 1);
    const at = { ...shot, [setting]: value };
    const bend = bendOfShot(at, line);
    const range = Number.isNaN(bend) ? undefined : bendRange(at, sets);
    curve.x.push(value);
    curve.bend.push(bend);
    curve.low.push(range?.low ?? NaN);
    curve.high.push(range?.high ?? NaN);
    yield;
  }
  return curve;
}

/** The same in one go. */
export function bendCurve(
  shot: ShotSettings,
  setting: BendSetting,
  sets: readonly Conditions[],
  points = 41,
): BendCurve {
  return completed(curveSteps(shot, setting, sets, points));
}

export interface Sensitivity {
  readonly setting: BendSetting;
  /**
   * Change of the signed bend for one sensible step up or down; NaN beyond a limit and where the ball never arrives.
   */
  readonly up: number;
  readonly down: number;
}

/**
 * What one sensible step of each setting does to the bend: the model asked there, not a slope drawn on, because the
 * bend has kinks and jumps. Steps end at the limits and at what nobody can shoot.
 */
export function sensitivities(
  shot: ShotSettings,
  conditions: Conditions,
  limits: Partial<Record<BendSetting, Range>> = {},
): Sensitivity[] {
  const now = bendOfShot(shot, conditions);
  return bendSettings(shot).map((setting) => {
    const { low, high } = limits[setting] ?? offered(setting, shot, boundsOf(setting, shot));
    const step = changeOf(setting, shot.units);
    const after = (value: number) => {
      const at = { ...shot, [setting]: value };
      const inside = value >= low - 1e-9 && value <= high + 1e-9;
      return inside && beyondShooting(at, conditions) === 0 ? bendOfShot(at, conditions) - now : NaN;
    };
    return { setting, up: after(shot[setting] + step), down: after(shot[setting] - step) };
  });
}
