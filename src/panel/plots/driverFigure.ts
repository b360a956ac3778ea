/** What a driver does, as a picture: the response against it, given the other drivers. */
import { say, type Said } from "../../experiment/language/said";
import type { Analysis } from "../../experiment/question/analysis";
import type { LogColumn } from "../../experiment/log/trialLog";
import { confidenceText } from "../../experiment/language/wording";
import { there } from "../../there";
import { adjustedMeans, middleSettings } from "../../statistics/fit/adjustedMeans";
import { curveBand, type BandEnds } from "../../statistics/fit/curveBand";
import type { CategoryDriver } from "../../statistics/fit/designMatrix";
import { effectLine } from "../../statistics/fit/effectLine";
import type { Estimate } from "../../statistics/fit/estimates";
import type { Regression } from "../../statistics/fit/regression";
import type { Figure, FigureLine } from "./figure";

/** A level of another category, by their places. */
interface FixedLevel {
  readonly driver: number;
  readonly level: number;
}

/**
 * A number's line or a category's means, the other drivers at their middle.
 * @param at level of another category at which the line is drawn, with its rows alone
 */
export function driverFigure(analysis: Analysis, index: number, at?: FixedLevel): Figure {
  const { regression, columns, response } = analysis;
  const column = there(columns[index], "a column of the driver");
  const driver = there(regression.question.drivers[index], "a driver");
  return {
    id: `driver-${index}`,
    title: `${response.heading.name} against ${column.heading.name}`,
    xLabel: column.heading.text,
    yLabel: response.heading.text,
    ...(driver.kind === "number" ? lineAgainst(analysis, index, at) : meansAmong(analysis, index, driver)),
  };
}

/** The line of a number with its bands, and the rows moved to it. */
function lineAgainst({ regression, columns }: Analysis, index: number, at: FixedLevel | undefined): Marks {
  const partner = at && levelOf(regression, columns, at);
  const settings = middleSettings(regression).map((setting, j) => (j === at?.driver ? at.level : setting));
  const { x, estimates, points } = effectLine(regression, index, undefined, settings);
  const line = bandedLine(x, estimates, curveBand(regression, index, estimates));
  const rows = partner
    ? `the rows used with ${partner.words}${columns.length > 2 ? AT_MIDDLE : ""}`
    : `the rows used${columns.length > 1 ? AT_MIDDLE : ""}`;
  return {
    caption: say`Points: ${rows}. Line: fitted mean${line.low ? bandWords(regression, index) : "; no spread can be judged"}. Both are of the mean; single shots scatter more.`,
    points: points.flatMap(({ x: place, y }, row) =>
      Number.isFinite(y) && (!partner || partner.holds(row)) ? [{ x: place, y, row }] : [],
    ),
    line,
  };
}

/** The adjusted means of a category with their intervals, and the rows moved likewise. */
function meansAmong({ regression, columns }: Analysis, index: number, { values, levels }: CategoryDriver): Marks {
  const means = adjustedMeans(regression, index);
  return {
    caption: say`Adjusted means with ${percentOf(regression)} intervals, one at a time${columns.length > 1 ? AT_MIDDLE : ""}. Points: the rows used, moved likewise, side by side.`,
    points: Array.from(values, (level, row) => ({
      x: level + sideways(row),
      y: (means[level]?.estimate?.value ?? NaN) + (regression.residuals[row] ?? NaN),
      row,
    })).filter(({ y }) => Number.isFinite(y)),
    means: means.flatMap(({ estimate }, level) =>
      estimate ? [{ x: level, value: estimate.value, low: estimate.low, high: estimate.high }] : [],
    ),
    levels,
  };
}

/** What is drawn on the axes. */
type Marks = Omit<Figure, "id" | "title" | "xLabel" | "yLabel">;

const AT_MIDDLE = ", the other drivers brought to their middle";

/** The places that the rows determine; a band where it is known at all of them. */
function bandedLine(
  x: readonly number[],
  estimates: readonly (Estimate | undefined)[],
  wider: readonly (BandEnds | undefined)[],
): FigureLine {
  const known = x.flatMap((place, i) => {
    const estimate = estimates[i];
    return estimate ? [{ at: place, ...estimate, wider: wider[i] }] : [];
  });
  return {
    x: known.map(({ at }) => at),
    y: known.map(({ value }) => value),
    ...(known.every(({ low }) => low !== null)
      ? { low: known.map(({ low }) => low as number), high: known.map(({ high }) => high as number) }
      : {}),
    ...(known.every((one) => one.wider)
      ? { widerLow: known.map((one) => one.wider?.low ?? NaN), widerHigh: known.map((one) => one.wider?.high ?? NaN) }
      : {}),
  };
}

/** A level of a category as the words of a figure name it, and whether a row has it. */
function levelOf(
  { question: { drivers } }: Regression,
  columns: readonly LogColumn[],
  { driver, level }: FixedLevel,
): { readonly words: string; holds(row: number): boolean } | undefined {
  const category = drivers[driver];
  if (category?.kind !== "category") return undefined;
  return {
    words: `${columns[driver]?.heading.name} "${category.levels[level]}"`,
    holds: (row) => category.values[row] === level,
  };
}

/** What the two bands about a number's line are. */
function bandWords(regression: Regression, index: number): Said {
  const percent = percentOf(regression);
  return say`; shaded, edged in short dashes: its ${percent} interval at each place by itself; long dashes: the ${percent} band that holds for the whole line at once (${bandMethod(regression, index)})`;
}

/** A confidence as captions name it. */
export const percentOf = ({ confidence }: { readonly confidence: number }) => say`${confidenceText(confidence)} %`;

/** Where the simultaneous band comes from. */
function bandMethod({ question }: Regression, index: number): string {
  const driver = question.drivers[index];
  const straight = driver?.kind === "number" && driver.degree === 1;
  const name = straight ? "after Working and Hotelling, 1929" : "after Scheffé, 1953";
  return question.errors
    ? `${name}, by F with the standard errors that the question asks for, so about right only`
    : name;
}

/** Spreads points that share a level, the same way each time. */
export function sideways(row: number): number {
  return 0.3 * (((row * 0.6180339887498949) % 1) - 0.5);
}
