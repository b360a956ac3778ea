/**
 * A plot as data: what stands where, before anything is drawn.
 */
import { there } from "../../there";

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

/** A value with its interval, standing on a line of its own under its name. */
export interface FigureInterval extends FigureValue {
  readonly name: string;
}

/** A mean with its interval, standing at a place on the x axis. */
interface FigureMean extends FigureValue {
  readonly x: number;
}

/** A value with its interval lying at a height. */
interface FigureSpan extends FigureValue {
  readonly y: number;
}

export interface Figure {
  readonly id: string;
  readonly title: string;
  /** What the marks mean; the interval is named here. */
  readonly caption: string;
  readonly xLabel: string;
  readonly yLabel: string;
  readonly points: readonly FigurePoint[];
  readonly line?: FigureLine;
  readonly means?: readonly FigureMean[];
  /** Names along the x axis, at 0, 1, 2 … in place of numbers. */
  readonly levels?: readonly string[];
  /** A horizontal rule, such as no residual. */
  readonly rule?: number;
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
  /** How far from the rule counts as none. */
  readonly margin?: number;
}

/** The commands of an SVG path through points. @param at a point as the drawing has it, "x y" */
export function pathThrough(
  xs: readonly number[],
  ys: readonly number[],
  at: (x: number, y: number) => string,
): string {
  return xs.map((x, i) => `${i === 0 ? "M" : "L"}${at(x, there(ys[i], "a height at every place"))}`).join("");
}

/** The line cut where a value is NaN. */
export function unbroken({ x, y, low, high, widerLow, widerHigh }: FigureLine): FigureLine[] {
  const found: FigureLine[] = [];
  for (let from = 0; from < x.length; from++) {
    if (Number.isNaN(y[from])) continue;
    let to = from;
    while (to < x.length && !Number.isNaN(y[to])) to++;
    const cut = (values: readonly number[]) => values.slice(from, to);
    found.push({
      x: cut(x),
      y: cut(y),
      ...(low && high ? { low: cut(low), high: cut(high) } : {}),
      ...(widerLow && widerHigh ? { widerLow: cut(widerLow), widerHigh: cut(widerHigh) } : {}),
    });
    from = to;
  }
  return found;
}

/** Room for one lying interval, and for the axis under them, in pixels. */
export const INTERVAL_ROOM = { each: 36, rest: 56 };

/** How high a figure is drawn at a width. */
export function figureHeight({ intervals }: Figure, width: number): number {
  return intervals
    ? INTERVAL_ROOM.rest + INTERVAL_ROOM.each * intervals.length
    : Math.round(Math.min(420, Math.max(220, width * 0.68)));
}
