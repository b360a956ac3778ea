/** Where figures stand on a drawing, and which of their points are drawn. */
import { scaleLinear } from "d3-scale";
import { area, line } from "d3-shape";
import { there } from "../../there";
import { ratioScaleOver, ratioTicks, scaleOver, ticksOf, type Tick } from "./axis";
import { hundredths } from "./hundredths";
import { intervalRoom, RULE_ROOM, WIDE, type Figure, type FigureInterval, type FigurePoint } from "./figure";

/** More points than this hide each other; an even part of them is drawn, and the drawing says so. */
const MOST_POINTS = 4000;

/** The scales of both axes, and the room about them. */
function figureScales(
  { points, line, means, levels, rule, needles, envelope, outcome, spans, low, high, surface, places }: Figure,
  width: number,
  height: number,
) {
  const ys = [
    ...points.map(({ y }) => y),
    ...[line?.y, line?.low, line?.high, line?.widerLow, line?.widerHigh, envelope?.low, envelope?.high].flatMap(
      (values) => values ?? [],
    ),
    ...(outcome ? [0, 1] : []),
    ...(means ?? []).flatMap(({ value, low, high }) => [value, low ?? value, high ?? value]),
    ...(rule === undefined ? [] : [rule]),
    ...[low, high].filter((end) => end !== undefined),
    ...(surface?.y ?? []),
    ...(places ?? []).map(({ y }) => y),
    ...(needles ? [0] : []),
  ];
  const xs = [
    ...points.map(({ x }) => x),
    ...(line?.x ?? []),
    ...(envelope?.x ?? []),
    ...(surface?.x ?? []),
    ...(places ?? []).map(({ x }) => x),
    ...(spans ?? []).flatMap(({ value, low, high }) => [value, low ?? value, high ?? value]),
  ];
  const margin = { left: 54, right: 10, top: 8, bottom: levels && levels.length > 4 ? 58 : 42 };
  const across = [margin.left, width - margin.right] as const;
  return {
    x: levels ? scaleLinear([-0.5, levels.length - 0.5], [...across]) : scaleOver(xs, across),
    y: scaleOver(ys, [height - margin.bottom, margin.top]),
    margin,
  };
}

/** Where figures stand on the drawing: shared by the drawing and by what finds the point under the pointer. */
export function figureFrame(figure: Figure, width: number, height: number) {
  const { x, y, margin } = figureScales(figure, width, height);
  const across = (xs: readonly number[]) => (_: number, i: number) => x(there(xs[i], "a place for every height"));
  return {
    scales: { x, y },
    margin,
    left: margin.left,
    right: width - margin.right,
    top: margin.top,
    bottom: height - margin.bottom,
    /** In pixels, as fine as a drawing needs. */
    x: (value: number) => hundredths(x(value)),
    y: (value: number) => hundredths(y(value)),
    /** A line through points; broken where a height is NaN. */
    path: (xs: readonly number[], ys: readonly number[]) =>
      line<number>(across(xs), y).defined(Number.isFinite).digits(2)(ys) ?? "",
    /** The outline of a band between two lines; broken likewise. */
    band: (xs: readonly number[], low: readonly number[], high: readonly number[]) =>
      area<number>(across(xs), (_, i) => y(there(low[i], "a lower end")), y)
        .defined(Number.isFinite)
        .digits(2)(high) ?? "",
  };
}

export type FigureFrame = ReturnType<typeof figureFrame>;

/** Lying intervals stand so far from the sides and the top. */
export const INTERVAL_EDGE = { side: 14, top: 6 } as const;
/** The share of the width that names take where they stand beside. */
const NAMES = 0.4;
/** Room for what is said at the end of a line where names stand beside, in pixels. */
const BESIDE = 76;

/** Where lying intervals stand, one under the other, about the rule and its margin. */
export function intervalsFrame(
  { rule, margin, ruleName, ratios = false }: Pick<Figure, "rule" | "margin" | "ruleName" | "ratios">,
  intervals: readonly FigureInterval[],
  width: number,
) {
  const ends = [
    ...(rule === undefined ? [] : [rule]),
    ...(margin === undefined || rule === undefined ? [] : [rule - margin, rule + margin]),
    ...intervals.flatMap(({ value, low, high }) => [value, low ?? value, high ?? value]),
  ];
  const wide = width >= WIDE;
  const each = intervalRoom(width);
  const top = INTERVAL_EDGE.top + (ruleName === undefined ? 0 : RULE_ROOM);
  const left = wide ? Math.round(NAMES * width) : INTERVAL_EDGE.side;
  const right = width - (wide ? BESIDE : INTERVAL_EDGE.side);
  const { scale, ticks } = scaleWithTicks(ends, [left, right], ratios);
  return {
    ticks,
    wide,
    left,
    right,
    top,
    x: (value: number) => hundredths(scale(value)),
    /** Height of an interval's line. */
    y: (index: number) => top + each * index + (wide ? each / 2 : 24),
    /** Height of the foot of its name. */
    nameY: (index: number) => top + each * index + (wide ? each / 2 + 4 : 13),
    bottom: top + each * intervals.length + 4,
    /** The interval at a height; undefined beside them all. */
    at: (y: number): number | undefined => {
      const index = Math.floor((y - top) / each);
      return index >= 0 && index < intervals.length ? index : undefined;
    },
  };
}

/** The scale of lying intervals, and the numbers under it. */
function scaleWithTicks(ends: readonly number[], range: readonly [number, number], ratios: boolean) {
  const most = range[1] - range[0] < 330 ? 4 : 6;
  if (!ratios) {
    const scale = scaleOver(ends, range);
    return { scale: (value: number) => scale(value), ticks: ticksOf(scale, most) };
  }
  const scale = ratioScaleOver(ends, range);
  const ticks: Tick[] = ratioTicks(scale.domain(), most);
  return { scale: (value: number) => scale(value), ticks };
}

/** The points that are drawn. */
export function drawnPoints(points: readonly FigurePoint[]): readonly FigurePoint[] {
  if (points.length <= MOST_POINTS) return points;
  const step = points.length / MOST_POINTS;
  return Array.from({ length: MOST_POINTS }, (_, i) => there(points[Math.floor(i * step)], "a point to draw"));
}
