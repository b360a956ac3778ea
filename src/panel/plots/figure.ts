/**
 * A plot as data: what stands where, before anything is drawn.
 */
import type { Said } from "../../experiment/language/said";
export interface FigurePoint {
  readonly x: number;
  readonly y: number;
  /** Index of the row among the rows used. */
  readonly row: number;
}

export interface FigureLine {
  /** The line is broken where y is NaN. */
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** Band about the line, where there is one. */
  readonly low?: readonly number[];
  readonly high?: readonly number[];
  /** A wider band, such as one that holds for the whole line at once. */
  readonly widerLow?: readonly number[];
  readonly widerHigh?: readonly number[];
}

/** A value with its interval; null where there is none. */
export interface FigureValue {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
}

/** A value with its interval, standing on a line of its own beside its name. */
export interface FigureInterval extends FigureValue {
  readonly name: Said;
  /** Said at the end of its line, such as the value itself or what was checked; nothing when missing. */
  readonly beside?: Said;
  /** Id of the figure that a press on it opens. */
  readonly opens?: string;
  /** Drawn hollow and grey: it does not count. */
  readonly hollow?: boolean;
}

/** A mean with its interval, standing at a place on the x axis. */
interface FigureMean extends FigureValue {
  readonly x: number;
}

/** A value with its interval lying at a height. */
interface FigureSpan extends FigureValue {
  readonly y: number;
}

/** Heights over a grid of two settings, one row of places across after the other; NaN where there is none. */
export interface FigureSurface {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly z: readonly number[];
}

/** A place that is proposed, with what it is called. */
export interface FigurePlace {
  readonly x: number;
  readonly y: number;
  readonly name: Said;
}

export interface Figure {
  readonly id: string;
  readonly title: string;
  /** What the marks mean; the interval is named here. */
  readonly caption: Said;
  readonly xLabel: Said;
  readonly yLabel: Said;
  readonly points: readonly FigurePoint[];
  readonly line?: FigureLine;
  readonly surface?: FigureSurface;
  readonly places?: readonly FigurePlace[];
  /** What the first point is called on the drawing. */
  readonly pointName?: Said;
  /** Ends that the upright axis reaches at least. */
  readonly low?: number;
  readonly high?: number;
  /** Drawn lower than others: it stands beside another picture. */
  readonly short?: boolean;
  /** What the line is called on the drawing. */
  readonly lineName?: Said;
  readonly means?: readonly FigureMean[];
  /** Names along the x axis, at 0, 1, 2 … in place of numbers. */
  readonly levels?: readonly string[];
  /** A rule across, such as no residual; upright among lying intervals: one that crosses it tells no direction. */
  readonly rule?: number;
  /** What the rule is called on the drawing. */
  readonly ruleName?: Said;
  /** Points drawn as needles from the axis. */
  readonly needles?: boolean;
  /** A band apart from the line, over x of its own. */
  readonly envelope?: {
    readonly x: readonly number[];
    readonly low: readonly number[];
    readonly high: readonly number[];
  };
  /** Points stand near 1 for made and near 0 for missed, moved a little so that they do not hide each other. */
  readonly outcome?: boolean;
  /** What a point near 1 and one near 0 are called; made and not made when left out. */
  readonly outcomeWords?: readonly [string, string];
  /** Lying intervals at heights of their own. */
  readonly spans?: readonly FigureSpan[];
  /**
   * Intervals drawn lying, one under the other, in place of all else; with the rule upright and the margin about it.
   */
  readonly intervals?: readonly FigureInterval[];
  /** Lying intervals are ratios: equal steps of the scale are equal factors. */
  readonly ratios?: boolean;
  /** How far from the rule counts as none. */
  readonly margin?: number;
}

/** From this width on the names of lying intervals stand beside them, and not above. */
export const WIDE = 460;
/** Room for the axis under lying intervals, and for what the rule is called above them, in pixels. */
const AXIS_ROOM = 46;
export const RULE_ROOM = 14;

/** Room for one lying interval, in pixels. */
export const intervalRoom = (width: number) => (width >= WIDE ? 24 : 32);

/** How high a figure is drawn at a width. */
export function figureHeight({ intervals, ruleName, short }: Figure, width: number): number {
  if (short) return 150;
  return intervals
    ? AXIS_ROOM + (ruleName === undefined ? 0 : RULE_ROOM) + intervalRoom(width) * intervals.length
    : Math.round(Math.min(360, Math.max(210, width * 0.62)));
}

/** Whether an interval leaves open on which side of the rule the truth lies, or does not count. */
export function leavesOpen({ low, high, hollow }: FigureInterval, rule: number | undefined): boolean {
  if (hollow) return true;
  return rule !== undefined && low !== null && high !== null && low <= rule && high >= rule;
}
