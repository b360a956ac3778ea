/** The success rate along each driver, as figures. */
import { say } from "../../experiment/language/said";
import { middle, type MadeAnalysis } from "../../experiment/question/madeAnalysis";
import { confidenceText } from "../../experiment/language/wording";
import { there } from "../../there";
import { extent } from "../../statistics/numeric/extent";
import { curveFactor } from "../../statistics/fit/curveBand";
import type { Setting } from "../../statistics/fit/designMatrix";
import type { Chance } from "../../statistics/fit/logistic";
import { normalQuantile } from "../../statistics/distributions/distributions";
import type { Figure } from "./figure";
import { sideways } from "./driverFigure";
import type { FigureChoice } from "./figures";

/** One figure per driver, in the order of the question. */
export function madeFigures(made: MadeAnalysis): FigureChoice[] {
  return made.columns.map((column, index) => {
    const common = { id: `rate-${index}`, title: `Success rate against ${column.heading.name}` };
    return { ...common, make: () => ({ ...common, ...rateFigure(made, index) }) };
  });
}

/** Places along a curve; a penalised fit must climb for each end of each interval. */
const PLACES = { plain: 41, penalised: 15 };
/** How far points are moved from 0 and 1 at most. */
const MOVED = 0.05;

function rateFigure(made: MadeAnalysis, index: number): Omit<Figure, "id" | "title"> {
  const { logistic: fit, columns } = made;
  const { heading } = there(columns[index], "a column of the driver");
  const driver = there(fit.question.drivers[index], "a driver");
  const centre = middle(made);
  const at = (setting: Setting) => fit.chance(centre.map((other, j) => (j === index ? setting : other)));
  const percent = say`${confidenceText(fit.confidence)} %`;
  const others = columns.length > 1 ? ", the other drivers in their middle" : "";
  const moved =
    "each moved a little toward the middle so that they do not hide each other; they show shots as they were, not with the other drivers alike";
  const common = { xLabel: heading.text, yLabel: "Rate of made shots", outcome: true };
  // Up by the golden section, so that neighbours in the log part.
  const height = (row: number) =>
    fit.question.made[row] === 1
      ? 1 - MOVED * ((row * 0.6180339887498949) % 1)
      : MOVED * ((row * 0.6180339887498949) % 1);
  if (driver.kind === "category") {
    return {
      ...common,
      caption: say`Squares: fitted rate with its ${percent} interval, one at a time${others}. Points: shots made (at 1) and not made (at 0), ${moved}.`,
      points: Array.from(driver.values, (level, row) => ({ x: level + sideways(row), y: height(row), row })),
      means: driver.levels.flatMap((_, level) => {
        const found = at(level);
        return found ? [{ x: level, value: found.chance, low: found.low, high: found.high }] : [];
      }),
      levels: driver.levels,
    };
  }
  const penalised = fit.method === "penalised likelihood";
  const places = penalised ? PLACES.penalised : PLACES.plain;
  const { low, high } = extent(driver.values);
  const known = Array.from({ length: places }, (_, i) => low + ((high - low) * i) / (places - 1)).flatMap((x) => {
    const found = at(x);
    return found ? [{ x, ...found }] : [];
  });
  const factor =
    curveFactor(
      fit.confidence,
      Math.min(driver.degree + 1, fit.terms.filter(({ estimate }) => estimate !== null).length),
      Infinity,
    ) / normalQuantile((1 + fit.confidence) / 2);
  const wider = known.map((one) => widened(one, factor));
  const whole = penalised
    ? ""
    : say`; long dashes: the ${percent} band that holds for the whole curve at once (after Scheffé, 1953, on the scale of log odds, for many shots)`;
  return {
    ...common,
    caption: say`Curve: fitted rate${others}; shaded, edged in short dashes: its ${percent} interval at each place by itself${whole}. Points: shots made (at 1) and not made (at 0), ${moved}.`,
    points: Array.from(driver.values, (x, row) => ({ x, y: height(row), row })),
    line: {
      x: known.map(({ x }) => x),
      y: known.map(({ chance }) => chance),
      low: known.map((one) => one.low),
      high: known.map((one) => one.high),
      ...(!penalised && { widerLow: wider.map((one) => one.low), widerHigh: wider.map((one) => one.high) }),
    },
  };
}

/** An interval stretched about its chance by a factor, on the scale of log odds where it is even on both sides. */
function widened({ chance, low, high }: Chance, factor: number): { low: number; high: number } {
  const odds = (share: number) => Math.log(share / (1 - share));
  const share = (value: number) => 1 / (1 + Math.exp(-value));
  const centre = odds(chance);
  return { low: share(centre - factor * (centre - odds(low))), high: share(centre + factor * (odds(high) - centre)) };
}
