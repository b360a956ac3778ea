/**
 * The plots of an analysis, as data.
 */
import { say, type Said } from "../../experiment/language/said";
import { analyse, type Analysis } from "../../experiment/question/analysis";
import { asDriver } from "../../experiment/question/choice";
import type { LogColumn } from "../../experiment/log/trialLog";
import { counted } from "../../experiment/language/wording";
import { there } from "../../there";
import { influence } from "../../statistics/checks/influence";
import { normalScores } from "../../statistics/distributions/normalScores";
import type { Envelope, EnvelopeQuestion } from "../../statistics/checks/residualEnvelope";
import { driverFigure, percentOf } from "./driverFigure";
import type { Figure } from "./figure";

/** A figure that can be drawn; its data are made when it is asked for. */
export interface FigureChoice {
  readonly id: string;
  readonly title: string;
  make(): Figure;
  /** What must be simulated for the whole figure; it is drawn without meanwhile. */
  readonly simulated?: EnvelopeQuestion;
  makeWith?(envelope: Envelope | "not drawn" | undefined): Figure;
}

/** Every envelope is drawn from this seed, so that a picture can be made again. */
const SEED = 1;

/**
 * One figure per driver, one for cloth and for table where they were not asked for, three of residuals and one of
 * influence, in reading order.
 */
export function figures(analysis: Analysis): FigureChoice[] {
  const { columns, response } = analysis;
  const name = response.heading.name;
  return [
    ...columns.map((column, index) => ({
      id: `driver-${index}`,
      title: `${name} against ${column.heading.name}`,
      make: () => driverFigure(analysis, index),
    })),
    ...jointFigures(analysis),
    ...placesNotAsked(analysis).map((column) => ({
      id: `place-${column.column}`,
      title: `${name} by ${column.heading.name}`,
      make: () => placeFigure(analysis, column),
    })),
    { id: "residuals", title: "Residuals against fitted", make: () => residualsAgainstFitted(analysis) },
    {
      id: "quantiles",
      title: "Residual quantiles",
      make: () => residualQuantiles(analysis, "not drawn"),
      simulated: { question: analysis.regression.question, seed: SEED },
      makeWith: (envelope) => residualQuantiles(analysis, envelope ?? "none"),
    },
    { id: "pull", title: "Rows that pull hardest", make: () => pull(analysis) },
  ];
}

/** More levels than this are too many figures for one joint effect. */
const MOST_LEVELS = 6;

/** Where a number acts jointly with a category: its line at each level. */
function jointFigures(analysis: Analysis): FigureChoice[] {
  const { columns, response, regression } = analysis;
  const { drivers, joint = [] } = regression.question;
  return joint.flatMap(([first, second]) => {
    const [number, category]: readonly [number, number] =
      drivers[first]?.kind === "number" ? [first, second] : [second, first];
    const partner = drivers[category];
    const [along, beside] = [columns[number], columns[category]];
    if (!along || !beside || drivers[number]?.kind !== "number") return [];
    if (partner?.kind !== "category" || partner.levels.length > MOST_LEVELS) return [];
    return partner.levels.map((level, place) => {
      const named = {
        id: `joint-${number}-${category}-${place}`,
        title: `${response.heading.name} against ${along.heading.name}, ${beside.heading.name} "${level}"`,
      };
      return {
        ...named,
        make: () => ({ ...driverFigure(analysis, number, { driver: category, level: place }), ...named }),
      };
    });
  });
}

/** Cloth and table columns that the question leaves out. */
function placesNotAsked({ log, columns, response }: Analysis): LogColumn[] {
  return log.columns.filter(
    (column) =>
      (column.meaning === "cloth" || column.meaning === "table") &&
      column.kind === "category" &&
      column !== response &&
      !columns.includes(column),
  );
}

/** Adjusted means of a category that was not asked for: the question is asked once more with it. */
function placeFigure(analysis: Analysis, column: LogColumn): Figure {
  const drivers = [...analysis.choice.drivers, asDriver(column)];
  const wider = analyse(analysis.log, { ...analysis.choice, drivers });
  const figure = driverFigure(wider, drivers.length - 1);
  const place = new Map(analysis.sheetRows.map((row, index) => [row, index]));
  return {
    ...figure,
    id: `place-${column.column}`,
    title: `${analysis.response.heading.name} by ${column.heading.name}`,
    caption: say`The question asked once more with ${column.heading.name} as a driver. ${figure.caption}`,
    points: figure.points.flatMap((point) => {
      const row = place.get(there(wider.sheetRows[point.row], "the sheet's row of a point"));
      return row === undefined ? [] : [{ ...point, row }];
    }),
  };
}

function residualsAgainstFitted({ regression, response }: Analysis): Figure {
  const unit = response.heading.unit;
  return {
    id: "residuals",
    title: "Residuals against fitted",
    caption: "What the fit leaves over, against what it expects. A funnel or a bow says that the fit misses something.",
    xLabel: `Fitted ${response.heading.text}`,
    yLabel: `Residual${unit ? ` (${unit})` : ""}`,
    points: Array.from(regression.residuals, (residual, row) => ({
      x: there(regression.question.response[row], "a response for every residual") - residual,
      y: residual,
      row,
    })),
    rule: 0,
  };
}

function residualQuantiles({ regression }: Analysis, envelope: DrawnEnvelope): Figure {
  const studentised = influence(regression).flatMap(({ row, studentised: value }) =>
    value === null ? [] : [{ row, value }],
  );
  const scores = normalScores(studentised.map(({ value }) => value));
  const ends = [scores.at(0), scores.at(-1)].flatMap((one) => (one ? [one.score] : []));
  return {
    id: "quantiles",
    title: "Residual quantiles",
    caption: say`Residuals in units of their own standard error against those of a normal spread. ${envelopeSentence(envelope)}`,
    xLabel: "Normal quantile",
    yLabel: "Residual / its standard error",
    points: scores.map(({ score, value, row }) => ({
      x: score,
      y: value,
      row: there(studentised[row], "the residual of a score").row,
    })),
    line: { x: ends, y: ends },
    ...(typeof envelope === "object" && { envelope }),
  };
}

/** "none": too few rows to spare; "not drawn": not yet, or the simulation broke off. */
type DrawnEnvelope = Envelope | "none" | "not drawn";

function envelopeSentence(envelope: DrawnEnvelope): Said {
  // Neither may be spoken of: what is saved or printed now has none.
  if (envelope === "not drawn") return "Points off the line at the ends are shots unlike the rest.";
  if (envelope === "none")
    return "There are too few rows to spare for a simulated envelope. Points off the line at the ends are shots unlike the rest.";
  const { draws, seed, outside, rows } = envelope;
  const percent = percentOf(envelope);
  const lead = say`Shaded, edged in short dashes: in ${percent} of ${draws} sets of normal scatter put through the same fit (seed ${seed}), all ${rows} points together lie within (a simultaneous envelope).`;
  if (outside.length === 0)
    return say`${lead} All lie within here, so these rows do not speak against a normal scatter; that is no proof of one.`;
  return say`${lead} ${counted(outside.length, "point")} ${outside.length === 1 ? "lies" : "lie"} outside: the scatter is not a normal one alike for all rows. Look at those rows, and read intervals drawn from the rows themselves under Trust the answer.`;
}

function pull({ regression }: Analysis): Figure {
  return {
    id: "pull",
    title: "Rows that pull hardest",
    caption:
      "How far all fitted values move when the row is left out (Cook's distance). Tall needles deserve a second look at the row.",
    xLabel: "Row among those used",
    yLabel: "Cook's distance",
    points: influence(regression).flatMap(({ row, distance }) =>
      Number.isFinite(distance) ? [{ x: row + 1, y: distance, row }] : [],
    ),
    needles: true,
  };
}
