/** What each driver goes with for a usual step, all in the unit of the response, and the answer in one line. */
import { say, toText, listOf, capital, type Said } from "../language/said";
import { middleSettings } from "../../statistics/fit/adjustedMeans";
import type { Setting } from "../../statistics/fit/designMatrix";
import type { Estimate } from "../../statistics/fit/estimates";
import type { Regression } from "../../statistics/fit/regression";
import { there } from "../../there";
import { inSentence, moreOf, withUnit, fixed, confidenceText, decimalsShowing } from "../language/wording";
import type { LogColumn } from "../log/trialLog";
import type { Analysis } from "./analysis";
import { answerSentences, effectText, usualStep } from "./answer";

/** A step of one driver, the others in their middle. */
export interface Effect {
  readonly name: Said;
  /** Heading of its driver. */
  readonly heading: string;
  readonly from: number | string;
  readonly to: number | string;
}

/** So many levels are compared pair by pair; with more, each is compared with the first. */
const PAIRED = 4;

/** The effects of a question's drivers, and how large each step is. */
export function effectsOf(
  drivers: Regression["question"]["drivers"],
  columns: readonly LogColumn[],
  centre: readonly Setting[],
  paired: boolean,
): Effect[] {
  return drivers.flatMap((driver, index): Effect[] => {
    const { heading } = there(columns[index], "a column");
    if (driver.kind === "number") {
      const at = centre[index] as number;
      const step = usualStep(driver, heading.unit);
      return [{ name: capital(moreOf(step, heading)), heading: heading.text, from: at, to: at + step }];
    }
    const { levels } = driver;
    const pairs =
      paired && levels.length <= PAIRED
        ? levels.flatMap((a, i) => levels.slice(i + 1).map((b) => [a, b] as const))
        : levels.slice(1).map((b) => [there(levels[0], "a first level"), b] as const);
    return pairs.map(([from, to]) => ({
      name: `${heading.name} "${to}" in place of "${from}"`,
      heading: heading.text,
      from,
      to,
    }));
  });
}

/** What a fit says of a step; undefined where its driver is no part of the fit, or the rows do not determine it. */
export function effectIn(fit: Regression, { heading, from, to }: Effect): Estimate | undefined {
  const index = fit.question.drivers.findIndex(({ name }) => name === heading);
  const driver = fit.question.drivers[index];
  if (!driver) return undefined;
  const place = (at: number | string) => (driver.kind === "number" ? at : driver.levels.indexOf(String(at)));
  const [start, end] = [place(from), place(to)];
  if (typeof start !== "number" || typeof end !== "number") return undefined;
  if (driver.kind === "category" && (start < 0 || end < 0)) return undefined;
  const centre = middleSettings(fit);
  const at = (value: number) => centre.map((setting, j) => (j === index ? value : setting));
  return fit.difference(at(start), at(end));
}

export interface DriverEffect extends Effect {
  /** Index of the driver. */
  readonly driver: number;
  readonly found: Estimate;
}

/** The effects of the drivers that the rows determine, in the order of the question. */
export function driverEffects({ regression, columns }: Analysis): DriverEffect[] {
  const { drivers } = regression.question;
  return effectsOf(drivers, columns, middleSettings(regression), true).flatMap((effect) => {
    const found = effectIn(regression, effect);
    const driver = columns.findIndex(({ heading }) => heading.text === effect.heading);
    return found ? [{ ...effect, driver, found }] : [];
  });
}

/** The effect that the answer begins with: the largest that is told, for its usual step. */
function largest(effects: readonly DriverEffect[]): DriverEffect | undefined {
  const told = effects.filter(({ found: { low, high } }) => low !== null && high !== null && (low > 0 || high < 0));
  return told.sort((a, b) => Math.abs(b.found.value) - Math.abs(a.found.value))[0];
}

/** The answer in one line, no surer than its interval. */
export function largestLine(analysis: Analysis): Said {
  const { regression, response, columns } = analysis;
  const { sd } = regression.residual;
  const missing = answerSentences(analysis).find(({ kind }) => kind === "missing")?.text;
  if (sd === null || regression.rSquared === null) return missing ?? "";
  if (columns.length === 0) return meanLine(analysis);
  const effects = driverEffects(analysis);
  const first = largest(effects);
  if (first) {
    const verb = toText(first.name).startsWith("Ten points") ? "go" : "goes";
    return say`${first.name} ${verb} with ${effectText(analysis, first.found).text}.`;
  }
  if (effects.some(({ found }) => found.standardError === null) && missing !== undefined) return missing;
  const names = listOf(
    columns.map(({ heading }) => inSentence(heading)),
    "or",
  );
  return `These rows do not tell whether ${inSentence(response.heading)} goes with ${names}: each interval holds 0.`;
}

/** Of a question without drivers: the mean. */
function meanLine({ regression, response }: Analysis): Said {
  const { estimate = null, standardError = null, low = null, high = null } = regression.terms[0] ?? {};
  if (estimate === null || low === null || high === null)
    return `${response.heading.name}: no driver is asked about yet.`;
  const decimals = decimalsShowing(standardError ?? 0, low, high);
  return say`${capital(inSentence(response.heading))} is ${withUnit(fixed(estimate, decimals), response.heading.unit)} on average, ${confidenceText(regression.confidence)} % interval ${fixed(low, decimals)} to ${fixed(high, decimals)}.`;
}
