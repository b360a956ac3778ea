/**
 * Success rates at settings: those that the rows suggest, and those that a reader types.
 */
import { say, type Said } from "../language/said";
import type { Setting } from "../../statistics/fit/designMatrix";
import type { Chance } from "../../statistics/fit/logistic";
import { chanceSaid, middle, type MadeAnalysis } from "./madeAnalysis";
import { beyondSaid, settingsAt, type ReadSetting } from "./settingsAt";
import { significant, withUnit } from "../language/wording";
import { there } from "../../there";

/** The success rate at one setting of one driver, the others in their middle. */
export interface RateRow {
  readonly setting: Said;
  /** Index of the driver. */
  readonly driver: number;
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
    const { heading } = there(columns[index], "a column");
    if (driver.kind === "category") {
      return driver.levels.map((level, place) => {
        let [made, shots] = [0, 0];
        for (let row = 0; row < driver.values.length; row++) {
          if (driver.values[row] !== place) continue;
          shots++;
          made += there(fit.question.made[row], "an outcome");
        }
        return {
          setting: `${heading.name} "${level}"`,
          driver: index,
          counted: { made, shots },
          chance: at(index, place),
        };
      });
    }
    const sorted = Float64Array.from(driver.values as ArrayLike<number>).sort();
    const places = [
      ...new Set([0.1, 0.5, 0.9].map((share) => there(sorted[Math.round(share * (sorted.length - 1))], "a value"))),
    ];
    return places.map((value) => ({
      setting: say`${heading.name} ${withUnit(significant(value, 4), heading.unit)}`,
      driver: index,
      counted: undefined,
      chance: at(index, value),
    }));
  });
}

export interface RateAt {
  /** One per driver. */
  readonly read: readonly ReadSetting[];
  /** Undefined while a setting cannot be read, or where the rows do not determine it. */
  readonly chance: Chance | undefined;
  /** Undefined while a setting cannot be read. */
  readonly sentence: Said | undefined;
}

/** The success rate where the reader asks. @param texts what was typed, by heading */
export function rateAt(analysis: MadeAnalysis, texts: Readonly<Record<string, string>>): RateAt {
  const { logistic: fit, columns } = analysis;
  const { read, settings, where, beyond } = settingsAt(fit.question.drivers, columns, texts, middle(analysis));
  if (!settings) return { read, chance: undefined, sentence: undefined };
  const chance = fit.chance(settings);
  const at = where === "" ? "The" : say`${where} the`;
  if (!chance) return { read, chance, sentence: say`${at} rate cannot be told from these rows.` };
  return {
    read,
    chance,
    sentence: say`${at} rate of made shots is ${chanceSaid(chance, fit.confidence)} (of the rate, not of a single shot).${beyondSaid(beyond, "curve")}`,
  };
}
