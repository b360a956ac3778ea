/** What a figure shows, as a table of words and numbers: for those who do not see it, and for other programs. */
import { toText } from "../../experiment/language/said";
import { significant } from "../../experiment/language/wording";
import type { Figure } from "./figure";

export interface PictureTable {
  readonly headings: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A number as tables have it. */
const shown = (value: number | null | undefined) =>
  value === null || value === undefined || !Number.isFinite(value) ? "–" : toText(significant(value, 4));

/**
 * Intervals and means where there are any, otherwise the line's places, otherwise the points.
 * @param nameOfRow such as "row 12"
 */
export function figureTable(figure: Figure, nameOfRow: (row: number) => string): PictureTable {
  const { intervals, means, spans, levels, line, points, places, surface } = figure;
  const [xLabel, yLabel] = [toText(figure.xLabel), toText(figure.yLabel)];
  const ends = ["low", "high"];
  if (intervals) {
    const beside = intervals.some((one) => one.beside !== undefined && !/^[+−\d.e]+( %)?$/.test(toText(one.beside)));
    return {
      headings: ["What", xLabel, ...ends, ...(beside ? ["Beside it"] : [])],
      rows: intervals.map(({ name, value, low, high, beside: said = "" }) => [
        toText(name),
        shown(value),
        shown(low),
        shown(high),
        ...(beside ? [toText(said)] : []),
      ]),
    };
  }
  if (places && surface)
    return {
      headings: ["What", xLabel, yLabel],
      rows: [
        ...places.map(({ name, x, y }) => [toText(name), shown(x), shown(y)]),
        ...points.map(({ x, y, row }) => [nameOfRow(row), shown(x), shown(y)]),
      ],
    };
  if (means)
    return {
      headings: [xLabel, yLabel, ...ends],
      rows: means.map(({ x, value, low, high }) => [levels?.[x] ?? shown(x), shown(value), shown(low), shown(high)]),
    };
  if (spans)
    return {
      headings: [yLabel, xLabel, ...ends],
      rows: spans.map(({ y, value, low, high }) => [shown(y), shown(value), shown(low), shown(high)]),
    };
  if (line)
    return {
      headings: [xLabel, yLabel, ...(line.low ? ends : [])],
      rows: line.x.map((x, i) => [
        shown(x),
        shown(line.y[i]),
        ...(line.low ? [shown(line.low[i]), shown(line.high?.[i])] : []),
      ]),
    };
  return {
    headings: ["Row", xLabel, yLabel],
    rows: points.map(({ x, y, row }) => [nameOfRow(row), levels?.[Math.round(x)] ?? shown(x), shown(y)]),
  };
}
