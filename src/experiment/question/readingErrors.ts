/**
 * Errors in a driver's own readings, such as humidity read to 1 % or speed by counting frames: they make its effect
 * look smaller than it is. How much follows where the driver was read twice.
 *
 * With reading errors of variance σ² that have nothing to do with the true value, a straight effect is shown times
 * λ = 1 − σ²/s², s² being the variance of the readings with the other drivers alike (Fuller, Measurement Error Models
 * (1987), sections 1.1 and 2.2). σ² is half the variance of the differences of two readings; a shift between them is no
 * scatter and does not count.
 */
import { say, capital, type Said } from "../language/said";
import { leftBesides } from "../../statistics/checks/leftBesides";
import type { Estimate } from "../../statistics/fit/estimates";
import { middleSettings } from "../../statistics/fit/adjustedMeans";
import { spread, type Interval } from "../../statistics/measure/spread";
import { repeatedColumns } from "../log/repeatedColumns";
import type { LogColumn } from "../log/trialLog";
import {
  confidenceText,
  counted,
  decimalsShowing,
  fixed,
  inSentence,
  measured,
  moreOf,
  significant,
  withUnit,
} from "../language/wording";
import { usualStep, type Sentence } from "./answer";
import { numbersOf } from "./buildDriver";
import type { Analysis } from "./analysis";
import { columnNamed, UnknownColumn } from "./rowCheck";
import { roundedSentences } from "./roundedDrivers";

export interface ReadingErrors {
  /** Index of the driver. */
  readonly driver: number;
  readonly again: LogColumn;
  /** Rows with both readings. */
  readonly rows: number;
  /** Standard deviation of one reading about the true value. */
  readonly sd: number;
  readonly sdInterval: Interval;
  /**
   * Share of its effect that a driver shows, 1 without errors; null where the errors are as large as what the readings
   * differ by.
   */
  readonly reliability: number | null;
  readonly reliabilityInterval: { readonly low: number; readonly high: number };
  /**
   * The effect of one unit as it would be without reading errors; null with reliability, its ends also where they have
   * none.
   */
  readonly corrected: { readonly value: number; readonly low: number | null; readonly high: number | null } | null;
}

/**
 * Second readings by their driver's heading, less what the question does not have as a straight number now; "" for a
 * driver that was read once, whatever its heading suggests.
 */
export function usableTwice(
  analysis: Analysis,
  twice: Readonly<Record<string, string>>,
): (readonly [driver: string, again: string])[] {
  const there = new Set(["", ...analysis.log.columns.map(({ heading }) => heading.text)]);
  return Object.entries(twice).filter(([driver, again]) => {
    const index = analysis.columns.findIndex(({ heading }) => heading.text === driver);
    return there.has(again) && again !== driver && index >= 0 && straight(analysis, index);
  });
}

/** Columns that may hold a second reading of a driver: numbers in its unit with no other part in the question. */
export function secondReadings(analysis: Analysis, driver: number): LogColumn[] {
  const column = analysis.columns[driver];
  if (!column || !straight(analysis, driver)) return [];
  return analysis.log.columns.filter(
    (other) =>
      other.kind === "number" &&
      other.heading.unit === column.heading.unit &&
      other.meaning !== "trial" &&
      other !== analysis.response &&
      !analysis.columns.includes(other) &&
      (other.heading.unit !== "" || other.meaning === column.meaning),
  );
}

/**
 * The drivers that were read twice: those for which a second column is named, otherwise those that have one by its
 * heading.
 * @param named pairs of headings, a driver and its second reading; "" for none
 * @throws UnknownColumn when a pair names no driver that is a straight number, or a column that is not there
 */
export function readingErrors(
  analysis: Analysis,
  named: readonly (readonly [driver: string, again: string])[] = [],
): ReadingErrors[] {
  const { log, columns, response, regression } = analysis;
  const pairs = named.map(([driver, again]) => {
    const index = columns.indexOf(columnNamed(log, driver));
    if (index < 0)
      throw new UnknownColumn(`"${driver}" is said to be read twice but is no driver: add it as a driver first.`);
    if (!straight(analysis, index))
      throw new UnknownColumn(
        `"${driver}" is no number that acts straight and by itself: only of such a one is it known what errors do.`,
      );
    return { index, again: again === "" ? undefined : columnNamed(log, again) };
  });
  const groups = repeatedColumns(log);
  const noticed = columns.flatMap((column, index) => {
    if (!straight(analysis, index) || pairs.some((pair) => pair.index === index)) return [];
    const others = groups.find((group) => group.includes(column)) ?? [];
    const again = others.find((other) => other !== column && other !== response && !columns.includes(other));
    return again ? [{ index, again }] : [];
  });
  return [...pairs, ...noticed].flatMap(
    ({ index, again }) => (again && errorsOf(analysis, index, again, regression.confidence)) ?? [],
  );
}

function straight({ regression: { question } }: Analysis, index: number): boolean {
  const driver = question.drivers[index];
  return (
    driver?.kind === "number" && driver.degree === 1 && !(question.joint ?? []).some((pair) => pair.includes(index))
  );
}

function errorsOf(analysis: Analysis, driver: number, again: LogColumn, confidence: number): ReadingErrors | undefined {
  const { check, columns, regression } = analysis;
  const column = columns[driver];
  if (!column) return undefined;
  const [first, second] = [column, again].map((one) => numbersOf(one, check.used));
  const differences = Array.from(first ?? [], (value, row) => value - (second?.[row] ?? NaN)).filter(Number.isFinite);
  if (differences.length < 3) return undefined;
  const found = spread(differences, confidence);
  const [sd, low, high] = [
    found.standardDeviation,
    found.standardDeviationInterval.low,
    found.standardDeviationInterval.high,
  ].map((one) => one / Math.SQRT2) as [number, number, number];
  const left = leftOf(analysis, driver);
  if (left === undefined) return undefined;
  const reliabilityAt = (error: number) => 1 - (error / left) ** 2;
  const reliability = reliabilityAt(sd) > 0 ? reliabilityAt(sd) : null;
  const reliabilityInterval = { low: Math.max(0, reliabilityAt(high)), high: reliabilityAt(low) };
  const middle = middleSettings(regression);
  const effect = regression.difference(
    middle,
    middle.map((setting, other) => (other === driver && typeof setting === "number" ? setting + 1 : setting)),
  );
  return {
    driver,
    again,
    rows: differences.length,
    sd,
    sdInterval: { low, high },
    reliability,
    reliabilityInterval,
    corrected: reliability === null || !effect ? null : correctedBy(effect, reliability, reliabilityInterval),
  };
}

/**
 * How much a driver's readings vary with the others alike, as a standard deviation, sessions weighed as the answer
 * weighs them: where those are shifted, what happens within a session counts the more; undefined where it does not
 * vary.
 */
function leftOf({ regression: { question, spread } }: Analysis, driver: number): number | undefined {
  const { errors } = question;
  const left = leftBesides(
    question.drivers[driver]?.values ?? [],
    question.drivers.filter((_, other) => other !== driver),
    spread && errors && errors.kind !== "robust"
      ? { by: errors.by, ratio: (spread.between / spread.within) ** 2 }
      : undefined,
  );
  return left !== null && left > 0 ? Math.sqrt(left) : undefined;
}

/** The effect over its reliability; the ends with the reliability's own, whichever lies farther out. */
function correctedBy(
  { value, low, high }: Estimate,
  reliability: number,
  ends: ReadingErrors["reliabilityInterval"],
): NonNullable<ReadingErrors["corrected"]> {
  if (low === null || high === null || !(ends.low > 0)) return { value: value / reliability, low: null, high: null };
  return {
    value: value / reliability,
    low: Math.min(low / ends.low, low / ends.high),
    high: Math.max(high / ends.low, high / ends.high),
  };
}

/** What reading errors do to each effect, in words. */
export function readingErrorSentences(analysis: Analysis, found: readonly ReadingErrors[]): Sentence[] {
  const { columns, regression, response } = analysis;
  const percent = say`${confidenceText(regression.confidence)} %`;
  const twice = found.map(({ driver, again, rows, sd, sdInterval, reliability, corrected }): Sentence => {
    const { heading } = columns[driver] ?? again;
    const name = inSentence(heading);
    const size = (value: number) => withUnit(measured(value, 2), heading.unit);
    const lead = say`${capital(name)} was read twice in ${counted(rows, "row")} ("${heading.text}" and "${again.heading.text}"): a reading is off by ${size(sd)} (standard deviation, ${percent} interval ${significant(sdInterval.low, 2)} to ${significant(sdInterval.high, 2)}).`;
    if (reliability === null || !corrected)
      return {
        kind: "caution",
        text: say`${lead} That is as much as its readings differ with the others alike, so the rows say nothing of its effect.`,
      };
    const lost = significant(100 * (1 - reliability), 2);
    if (1 - reliability < 0.005)
      return {
        kind: "summary",
        text: say`${lead} That takes less than ${0.5} % off its effect, which does not matter.`,
      };
    return {
      kind: "caution",
      text: say`${lead} Such errors make its effect look ${lost} % smaller than it is, and what it loses may pass to drivers that go along with it. Without them ${correctedWords(analysis, driver, corrected, response.heading.unit, percent)}. The mean of both readings would lose ${significant(100 * (1 - (2 * reliability) / (1 + reliability)), 2)} % only.`,
    };
  });
  return [
    ...twice,
    ...roundedSentences(
      analysis,
      found.map(({ driver }) => driver),
      leftOf,
    ),
  ];
}

function correctedWords(
  { columns, regression, response }: Analysis,
  driver: number,
  { value, low, high }: NonNullable<ReadingErrors["corrected"]>,
  unit: string,
  percent: Said,
): Said {
  const [column, asked] = [columns[driver], regression.question.drivers[driver]];
  if (!column || asked?.kind !== "number") return "";
  const step = usualStep(asked, column.heading.unit);
  const lead = say`${moreOf(step, column.heading)} would go with`;
  const name = inSentence(response.heading);
  const way = (one: number) => (one < 0 ? "less" : "more");
  if (low === null || high === null)
    return say`${lead} ${withUnit(significant(Math.abs(step * value), 3), unit)} ${way(value)} ${name}`;
  const decimals = decimalsShowing((step * (high - low)) / 4, step * low, step * high);
  const amount = (one: number) => say`${withUnit(fixed(Math.abs(step * one), decimals), unit)} ${way(one)}`;
  return say`${lead} ${amount(value)} ${name} (${percent} interval ${amount(low)} to ${amount(high)})`;
}
