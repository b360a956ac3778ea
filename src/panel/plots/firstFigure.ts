/** The bends so far as dots, with their average and its interval once there are enough. */
import { say } from "../../experiment/language/said";
import type { FirstSteps } from "../../experiment/start/firstLog";
import { ANSWER_FROM, FIRST_SHOTS } from "../../experiment/start/firstLog";
import { significant, withUnit } from "../../experiment/language/wording";
import type { Figure } from "./figure";

export function firstFigure({ points, average, unit }: Pick<FirstSteps, "points" | "average" | "unit">): Figure {
  // From the beginning there is room for the shots of a first answer.
  const ends = [0.5, Math.max(FIRST_SHOTS, points.length) + 0.5];
  const across = (value: number | null) => ends.map(() => value ?? NaN);
  const banded = average && average.low !== null && average.high !== null;
  return {
    id: "first-bends",
    title: "The bends so far",
    caption: banded
      ? "Dots: single shots. Line: their average; shaded: its interval, which narrows as shots come in. Single shots scatter more."
      : `Dots: single shots; the average comes with shot ${ANSWER_FROM}.`,
    xLabel: "Shot, in the order of the rows",
    yLabel: `Bend${unit ? ` (${unit})` : ""}`,
    points: points.map(({ row, bend }, i) => ({ x: i + 1, y: bend, row })),
    line: {
      x: ends,
      y: across(average?.value ?? null),
      ...(banded && { low: across(average.low), high: across(average.high) }),
    },
    ...(average && { lineName: say`${withUnit(significant(average.value, 3), unit)} on average` }),
  };
}
