/** What the times of a film's frames tell: its rate, whether it changes, and whether frames are missing. */
import { say, type Said } from "../language/said";
import { median } from "../../statistics/numeric/median";
import { counted, fixed, significant } from "../language/wording";

export interface FrameTimes {
  readonly frames: number;
  /** Frames a second, from the steps between frames that lost none. */
  readonly rate: number;
  readonly varies: boolean;
  /** Steps as long as two frames or more. */
  readonly gaps: readonly { readonly from: number; readonly to: number }[];
}

/** A step this many times the usual one has lost a frame. */
const LOST = 1.7;
/** Files give times in whole milliseconds; steps that differ by more vary. */
const ROUNDING = 0.0021;

interface Step {
  readonly from: number;
  readonly to: number;
}

const isLongBy = (usual: number, step: number) => step > LOST * usual + ROUNDING;

/** Frames a second by their mean step, which rounding of single times does not move; long ones have lost a frame. */
export function frameRate(steps: readonly Step[]): number {
  const lengths = steps.map(({ from, to }) => to - from);
  const usual = median(lengths);
  const whole = lengths.filter((length) => !isLongBy(usual, length));
  return whole.length / whole.reduce((sum, length) => sum + length, 0);
}

/** @param times of frames that follow each other, s @returns undefined for fewer than three */
export function frameTimes(times: readonly number[]): FrameTimes | undefined {
  const steps = times.slice(1).map((to, i) => ({ from: times[i] ?? to, to }));
  if (steps.length < 2) return undefined;
  const usual = median(steps.map(({ from, to }) => to - from));
  const isLong = ({ from, to }: Step) => isLongBy(usual, to - from);
  return {
    frames: times.length,
    rate: frameRate(steps),
    varies: steps.some((step) => !isLong(step) && Math.abs(step.to - step.from - usual) > ROUNDING),
    gaps: steps.filter(isLong),
  };
}

/** Whether the recording is unbroken as far as the frames' times tell, in sentences. */
export function frameSentences({ frames, rate, varies, gaps }: FrameTimes, whole: boolean): Said[] {
  const [first] = gaps;
  return [
    say`${counted(frames, "frame")}${whole ? ", the whole film," : ""} at ${significant(rate, 4)} a second${varies ? "; the steps between them vary, and each frame's own time is used" : ""}.`,
    first
      ? say`The recording is broken, or frames were lost: ${counted(gaps.length, "step")} between frames ${gaps.length === 1 ? "is" : "are"} longer than the others, the first at ${fixed(first.from, 2)} s.`
      : "No frame is missing between them. A film that was cut and joined again can have regular times, too: times do not tell that.",
  ];
}
