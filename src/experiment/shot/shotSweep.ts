/**
 * The bend of a shot as one setting changes, its band over the table's constants, and how much each setting does. SI.
 */
import type { Conditions } from "../../bank/conditions";
import { there } from "../../there";
import { completed } from "../language/completed";
import { bendOfShot, type ShotPart } from "./computedShot";
import { bendSettings, bounds, type BendSetting, type Range, type ShotSettings } from "./shotSettings";

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
  const { low: from, high: to } = bounds(setting, shot.rail);
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

/** Half the step of the difference that a sensitivity is taken over, as a share of what a setting may be. */
const SHARE = 1e-4;

export interface Sensitivity {
  readonly setting: BendSetting;
  /** Change of the signed bend per SI unit of the setting; NaN where the ball never reaches the line. */
  readonly slope: number;
  /** Where the setting stands against the limit, the slope is toward the other side only. */
  readonly atLimit: "low" | "high" | undefined;
}

/** How much the bend changes with each setting, by differences within the limits. */
export function sensitivities(
  shot: ShotSettings,
  conditions: Conditions,
  limits: Partial<Record<BendSetting, Range>> = {},
): Sensitivity[] {
  return bendSettings(shot).map((setting) => {
    const allowed = bounds(setting, shot.rail);
    const { low, high } = limits[setting] ?? allowed;
    const step = SHARE * (allowed.high - allowed.low);
    const value = shot[setting];
    const before = Math.max(Math.min(low, value), value - step);
    const after = Math.min(Math.max(high, value), value + step);
    const slope =
      after > before
        ? (bendOfShot({ ...shot, [setting]: after }, conditions) -
            bendOfShot({ ...shot, [setting]: before }, conditions)) /
          (after - before)
        : NaN;
    return { setting, slope, atLimit: value - low < step ? "low" : high - value < step ? "high" : undefined };
  });
}
