/** Where figures stand on a drawing, and which of their points are drawn. */
import { scaleLinear } from "d3-scale";
import { there } from "../../there";
import { scaleOver } from "./axis";
import type { Figure, FigurePoint } from "./figure";

/** More points than this hide each other; an even part of them is drawn, and the drawing says so. */
const MOST_POINTS = 4000;

/** Where figures stand on the drawing: shared by the drawing and by what finds the point under the pointer. */
export function figureScales(
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

/** The points that are drawn. */
export function drawnPoints(points: readonly FigurePoint[]): readonly FigurePoint[] {
  if (points.length <= MOST_POINTS) return points;
  const step = points.length / MOST_POINTS;
  return Array.from({ length: MOST_POINTS }, (_, i) => there(points[Math.floor(i * step)], "a point to draw"));
}
