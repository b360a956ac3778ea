/**
 * Success rates at settings: those that the rows suggest, and those that a reader types.
 */
import { extent } from "../../statistics/numeric/extent";
import type { Driver, Setting } from "../../statistics/fit/designMatrix";
import type { Chance } from "../../statistics/fit/logistic";
import type { Heading } from "../log/header";
import { middle, type MadeAnalysis } from "./madeAnalysis";
import { inSentence, listOf, significant, withUnit } from "../language/wording";

/** The success rate at one setting of one driver, the others in their middle. */
export interface RateRow {
  readonly setting: string;
  /** Shots made and shots taken there, whatever the other drivers were; undefined for a number. */
  readonly counted: { readonly made: number; readonly shots: number } | undefined;
  /** Fitted; undefined where the rows do not determine it. */
  readonly chance: Chance | undefined;
}

/** Each level of each category, and the tenth part, the middle and the nine tenths of each number. */
export function rateRows(analysis: MadeAnalysis): RateRow[] {
  const { logistic: fit, columns } = analysis;
  const centre = middle(analysis);
  const at = (index: number, setting: Setting) => fit.chance(centre.map((other, j) => (j === index ? setting : other)));
  return fit.question.drivers.flatMap((driver, index): RateRow[] => {
    const { heading } = columns[index];
    if (driver.kind === "category") {
      return driver.levels.map((level, place) => {
        let [made, shots] = [0, 0];
        for (let row = 0; row < driver.values.length; row++) {
          if (driver.values[row] !== place) continue;
          shots++;
          made += fit.question.made[row];
        }
        return { setting: `${heading.name} "${level}"`, counted: { made, shots }, chance: at(index, place) };
      });
    }
    const sorted = Float64Array.from(driver.values as ArrayLike<number>).sort();
    const places = [...new Set([0.1, 0.5, 0.9].map((share) => sorted[Math.round(share * (sorted.length - 1))]))];
    return places.map((value) => ({
      setting: `${heading.name} ${withUnit(significant(value, 4), heading.unit)}`,
      counted: undefined,
      chance: at(index, value),
    }));
  });
}

/** What is typed for a driver, read: a setting, or what is wrong with it. */
export type ReadSetting = { readonly setting: Setting; readonly beyond: boolean } | { readonly problem: string };

/**
 * A setting as typed: a number in the heading's unit, or a level's name; nothing typed is the middle of the rows.
 * @param central what nothing typed means
 */
export function readSetting(driver: Driver, heading: Heading, text: string, central: Setting): ReadSetting {
  const typed = text.trim();
  if (typed === "") return { setting: central, beyond: false };
  if (driver.kind === "category") {
    const place = driver.levels.indexOf(typed);
    return place >= 0
      ? { setting: place, beyond: false }
      : {
          problem: `${heading.name} is "${typed}": choose one of ${listOf(driver.levels.map((level) => `"${level}"`))}.`,
        };
  }
  const { low, high } = extent(driver.values);
  const value = Number(typed.replace("−", "-"));
  if (!Number.isFinite(value))
    return {
      problem: `${heading.name} is "${typed}": give a number${heading.unit ? ` in ${heading.unit}` : ""}; the rows have ${significant(low, 4)} to ${significant(high, 4)}.`,
    };
  return { setting: value, beyond: value < low || value > high };
}

export interface RateAt {
  /** One per driver. */
  readonly read: readonly ReadSetting[];
  /** Undefined while a setting cannot be read, or where the rows do not determine it. */
  readonly chance: Chance | undefined;
  /** Undefined while a setting cannot be read. */
  readonly sentence: string | undefined;
}

/** The success rate where the reader asks. @param texts what was typed, by heading */
export function rateAt(analysis: MadeAnalysis, texts: Readonly<Record<string, string>>): RateAt {
  const { logistic: fit, columns } = analysis;
  const centre = middle(analysis);
  const read = fit.question.drivers.map((driver, index) =>
    readSetting(driver, columns[index].heading, texts[columns[index].heading.text] ?? "", centre[index]),
  );
  const settings = read.flatMap((one) => ("setting" in one ? [one.setting] : []));
  if (settings.length < read.length) return { read, chance: undefined, sentence: undefined };
  const chance = fit.chance(settings);
  const percent = (share: number) => `${significant(100 * share, 3)} %`;
  const where = columns.map(({ heading }, index) => {
    const setting = settings[index];
    const driver = fit.question.drivers[index];
    if (driver.kind === "number")
      return `${inSentence(heading)} ${withUnit(significant(setting as number, 4), heading.unit)}`;
    return setting === "even"
      ? `every ${inSentence(heading)} with equal weight`
      : `${inSentence(heading)} "${driver.levels[setting as number]}"`;
  });
  const at = where.length > 0 ? `At ${listOf(where)} the` : "The";
  if (!chance) return { read, chance, sentence: `${at} rate cannot be told from these rows.` };
  const beyond = columns
    .filter((_, index) => (read[index] as { beyond: boolean }).beyond)
    .map(({ heading }) => inSentence(heading));
  const far =
    beyond.length > 0
      ? ` No shot was taken so far out in ${listOf(beyond)}: the curve is only drawn on, and the interval does not know whether it holds there.`
      : "";
  return {
    read,
    chance,
    sentence: `${at} rate of made shots is ${percent(chance.chance)}, ${significant(100 * fit.confidence, 4)} % interval ${percent(chance.low)} to ${percent(chance.high)} (of the rate, not of a single shot).${far}`,
  };
}
