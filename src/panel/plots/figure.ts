/**
 * A plot as data: what stands where, before anything is drawn. May import: nothing.
 */
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
}

/** A mean with its interval, standing at a place on the x axis. */
export interface FigureMean {
  readonly x: number;
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
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
}

/** The line cut where a value is NaN. */
export function unbroken({ x, y, low, high }: FigureLine): FigureLine[] {
  const found: FigureLine[] = [];
  for (let from = 0; from < x.length; from++) {
    if (Number.isNaN(y[from])) continue;
    let to = from;
    while (to < x.length && !Number.isNaN(y[to])) to++;
    const cut = (values: readonly number[]) => values.slice(from, to);
    found.push({ x: cut(x), y: cut(y), ...(low && high ? { low: cut(low), high: cut(high) } : {}) });
    from = to;
  }
  return found;
}
