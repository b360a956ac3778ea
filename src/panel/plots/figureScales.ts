/** Where figures stand on a drawing, and which of their points are drawn. */
import { scaleLinear } from "d3-scale";
import { there } from "../../there";
import { scaleOver } from "./axis";
import { hundredths } from "./hundredths";
import { INTERVAL_ROOM, pathThrough, type Figure, type FigureInterval, type FigurePoint } from "./figure";

/** More points than this hide each other; an even part of them is drawn, and the drawing says so. */
const MOST_POINTS = 4000;

/** The scales of both axes, and the room about them. */
function figureScales(
  { points, line, means, levels, rule, needles, envelope, outcome, spans }: Figure,
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
    ...(needles ? [0] : []),
  ];
  const xs = [
    ...points.map(({ x }) => x),
    ...(line?.x ?? []),
    ...(envelope?.x ?? []),
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
    path: (xs: readonly number[], ys: readonly number[]) =>
      pathThrough(xs, ys, (across, up) => `${hundredths(x(across))} ${hundredths(y(up))}`),
  };
}

export type FigureFrame = ReturnType<typeof figureFrame>;

/** Lying intervals stand so far from the sides and the top. */
export const INTERVAL_EDGE = { side: 14, top: 6 } as const;

/** Where lying intervals stand, one under the other, about the rule and its margin. */
export function intervalsFrame(
  { rule = 0, margin }: Pick<Figure, "rule" | "margin">,
  intervals: readonly FigureInterval[],
  width: number,
) {
  const ends = [
    rule,
    ...(margin === undefined ? [] : [rule - margin, rule + margin]),
    ...intervals.flatMap(({ value, low, high }) => [value, low ?? value, high ?? value]),
  ];
  const scale = scaleOver(ends, [INTERVAL_EDGE.side, width - INTERVAL_EDGE.side]);
  return {
    scale,
    x: (value: number) => hundredths(scale(value)),
    /** Height of an interval's line, its name standing above it. */
    y: (index: number) => INTERVAL_EDGE.top + INTERVAL_ROOM.each * index + 27,
    bottom: INTERVAL_EDGE.top + INTERVAL_ROOM.each * intervals.length + 6,
  };
}

/** The points that are drawn. */
export function drawnPoints(points: readonly FigurePoint[]): readonly FigurePoint[] {
  if (points.length <= MOST_POINTS) return points;
  const step = points.length / MOST_POINTS;
  return Array.from({ length: MOST_POINTS }, (_, i) => there(points[Math.floor(i * step)], "a point to draw"));
}
