/** The angle at which a shot arrives at a place along the rail opposite, the rest as it is. */
import type { Conditions } from "../../bank/conditions";
import { computeShot } from "./computedShot";
import type { ShotSettings } from "./shotSettings";

/** Near enough, in m. */
const NEAR = 1e-4;
const TRIES = 12;

/**
 * By secants from the present angle.
 * @param x along the banked rail, in m
 * @returns undefined where no angle within the limits brings it there
 */
export function arrivalAngle(
  shot: ShotSettings,
  conditions: Conditions,
  x: number,
  limits: { readonly low: number; readonly high: number },
): number | undefined {
  const off = (angle: number) => {
    const path = computeShot({ ...shot, angle }, conditions).bank?.path;
    return path ? shot.along + path.arrival.x - x : NaN;
  };
  let [before, angle] = [shot.angle, shot.angle + 0.02];
  let [last, now] = [off(before), off(angle)];
  for (let i = 0; i < TRIES; i++) {
    if (Math.abs(now) < NEAR) return angle;
    const next = angle - (now * (angle - before)) / (now - last);
    if (!Number.isFinite(next)) return undefined;
    [before, last] = [angle, now];
    angle = Math.min(limits.high, Math.max(limits.low, next));
    now = off(angle);
  }
  return undefined;
}
