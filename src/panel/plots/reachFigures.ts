/**
 * How far it bends, as figures: the chance to get by along the required bend, and the bend at one half along each
 * driver.
 */
import { say } from "../../experiment/language/said";
import type { ReachAnswer } from "../../experiment/attempts/reach";
import { significant } from "../../experiment/language/wording";
import { extent } from "../../statistics/numeric/extent";
import type { Setting } from "../../statistics/fit/designMatrix";
import type { Figure } from "./figure";
import { sideways } from "./driverFigure";
import type { FigureChoice } from "./figures";

/** The chance first, then one figure per driver, in the order of the question. */
export function reachFigures(answer: ReachAnswer): FigureChoice[] {
  const chance = { id: "reach-chance", title: "Chance to get by against the required bend" };
  return [
    { ...chance, make: () => ({ ...chance, ...chanceFigure(answer) }) },
    ...answer.columns.map((column, index) => {
      const common = { id: `reach-${index}`, title: `Bend at one half against ${column.heading.name}` };
      return { ...common, make: () => ({ ...common, ...driverFigure(answer, index) }) };
    }),
  ];
}

/** Places along a curve. */
const PLACES = 41;
/** How far points are moved from 0 and 1 at most. */
const MOVED = 0.05;

function chanceFigure({ attempts, fit, settings, reach, question }: ReachAnswer): Omit<Figure, "id" | "title"> {
  const percent = say`${significant(100 * fit.confidence, 4)} %`;
  // Moved by the golden section, so that neighbours in the log part.
  const moved = (row: number) => MOVED * ((row * 0.6180339887498949) % 1);
  const points = attempts.rows.flatMap(({ known, required }, row) =>
    known === "value" ? [] : [{ x: required, y: known === "at least" ? 1 - moved(row) : moved(row), row }],
  );
  const { low, high } = extent(attempts.rows.map(({ bound }) => bound));
  const rest = 0.1 * (high - low || 0.1);
  const places = Array.from({ length: PLACES }, (_, i) => low - rest + ((high - low + 2 * rest) * i) / (PLACES - 1));
  const known = places.flatMap((x) => {
    const found = fit.chance(settings, x, false, "standard error");
    return found && found.estimate !== null && found.low !== null && found.high !== null
      ? [{ x, y: found.estimate, low: found.low, high: found.high }]
      : [];
  });
  const session = question.sessions.length > 0 ? " in an average session" : "";
  return {
    xLabel: `Required bend (${attempts.unit})`,
    yLabel: "Chance to get by",
    outcome: true,
    outcomeWords: ["got by", "hit"],
    caption: say`Curve: fitted chance to get by${session}; shaded: its ${percent} interval at each place by itself, by its standard error. Squares: the bend that an attempt gets at least with the chance, with its ${percent} interval by profile likelihood. Points: attempts that got by (above) and that hit (below), each moved a little so that they do not hide each other; measured bends are in the fit and not among the points.`,
    points,
    spans: reach.flatMap(({ probability, estimate, low: from, high: to }) =>
      estimate === null ? [] : [{ y: probability, value: estimate, low: from, high: to }],
    ),
    ...(known.length > 0 && {
      line: {
        x: known.map(({ x }) => x),
        y: known.map(({ y }) => y),
        low: known.map((one) => one.low),
        high: known.map((one) => one.high),
      },
    }),
  };
}

function driverFigure(answer: ReachAnswer, index: number): Omit<Figure, "id" | "title"> {
  const { attempts, fit, settings, columns } = answer;
  const driver = fit.question.drivers[index];
  const heading = columns[index]?.heading;
  const percent = say`${significant(100 * fit.confidence, 4)} %`;
  const at = (setting: Setting) =>
    fit.surpassed(
      settings.map((other, j) => (j === index ? setting : other)),
      0.5,
      false,
      "standard error",
    );
  const others = columns.length > 1 ? ", the other drivers as asked" : "";
  const shown = "Points: what the obstacle asked for at each attempt, or the measured bend; not what the ball did.";
  const common = { xLabel: heading?.text ?? "", yLabel: `Bend (${attempts.unit})` };
  const values = driver?.values ?? [];
  if (driver?.kind === "category")
    return {
      ...common,
      caption: say`Squares: the bend that half of the attempts get at least, with its ${percent} interval by the standard error, one at a time${others}. ${shown}`,
      points: attempts.rows.map(({ bound }, row) => ({ x: (values[row] ?? 0) + sideways(row), y: bound, row })),
      means: driver.levels.flatMap((_, level) => {
        const found = at(level);
        return found && found.estimate !== null
          ? [{ x: level, value: found.estimate, low: found.low, high: found.high }]
          : [];
      }),
      levels: driver.levels,
    };
  const { low, high } = extent(values);
  const known = Array.from({ length: PLACES }, (_, i) => low + ((high - low) * i) / (PLACES - 1)).flatMap((x) => {
    const found = at(x);
    return found && found.estimate !== null && found.low !== null && found.high !== null
      ? [{ x, y: found.estimate, low: found.low, high: found.high }]
      : [];
  });
  return {
    ...common,
    caption: say`Line: the bend that half of the attempts get at least${others}; shaded: its ${percent} interval at each place by itself, by its standard error. ${shown}`,
    points: attempts.rows.map(({ bound }, row) => ({ x: values[row] ?? 0, y: bound, row })),
    line: {
      x: known.map(({ x }) => x),
      y: known.map(({ y }) => y),
      low: known.map((one) => one.low),
      high: known.map((one) => one.high),
    },
  };
}
