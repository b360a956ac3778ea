/** Where the bend, its interval and the target stand on one line, and how long each part of the uncertainty is. */
import { scaleLinear } from "d3-scale";

export interface MeasuredLine {
  readonly x: (bend: number) => number;
  readonly ticks: readonly number[];
}

/** Room at both ends, in pixels, for the words of the first and the last tick. */
const EDGE = 24;

/** @param bends what must be on the line, in the unit shown */
export function measuredLine(bends: readonly number[], width: number): MeasuredLine {
  const [low, high] = [Math.min(...bends), Math.max(...bends)];
  const spare = 0.15 * (high - low || 1);
  const x = scaleLinear([low - spare, high + spare], [EDGE, width - EDGE]).nice();
  return { x, ticks: x.ticks(Math.max(3, Math.floor(width / 90))) };
}

/** Pixels of a share of the variance. */
export function shareLength(share: number, width: number): number {
  return scaleLinear([0, 1], [0, width])(share);
}
