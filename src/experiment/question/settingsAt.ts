/** Settings that a reader types, read; what is left out is the middle of the rows. */
import { say, listOf, type Said } from "../language/said";
import { extent } from "../../statistics/numeric/extent";
import type { Driver, Setting } from "../../statistics/fit/designMatrix";
import type { Heading } from "../log/header";
import type { LogColumn } from "../log/trialLog";
import { inSentence, significant, withUnit } from "../language/wording";

/** What is typed for a driver, read: a setting, or what is wrong with it. */
export type ReadSetting = { readonly setting: Setting; readonly beyond: boolean } | { readonly problem: Said };

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
      problem: say`${heading.name} is "${typed}": give a number${heading.unit ? ` in ${heading.unit}` : ""}; the rows have ${significant(low, 4)} to ${significant(high, 4)}.`,
    };
  return { setting: value, beyond: value < low || value > high };
}

export interface SettingsAt {
  /** One per driver. */
  readonly read: readonly ReadSetting[];
  /** One per driver; undefined while one cannot be read. */
  readonly settings: readonly Setting[] | undefined;
  /** "At speed 8 mph and cloth "worn""; empty without drivers. */
  readonly where: Said;
  /** Names of the numbers that lie outside what the rows have. */
  readonly beyond: readonly string[];
}

/**
 * All settings of a question. @param texts what was typed, by heading
 * @param centre what nothing typed means, one per driver
 */
export function settingsAt(
  drivers: readonly Driver[],
  columns: readonly LogColumn[],
  texts: Readonly<Record<string, string>>,
  centre: readonly Setting[],
): SettingsAt {
  const asked = drivers.flatMap((driver, index) => {
    const [column, central] = [columns[index], centre[index]];
    return column && central !== undefined ? [{ driver, central, heading: column.heading }] : [];
  });
  const read = asked.map(({ driver, heading, central }) =>
    readSetting(driver, heading, texts[heading.text] ?? "", central),
  );
  const known = read.flatMap((one) => ("setting" in one ? [one] : []));
  if (known.length < read.length) return { read, settings: undefined, where: "", beyond: [] };
  const places = asked.map(({ driver, heading }, index) =>
    settingSaid(driver, heading, known[index]?.setting ?? "even"),
  );
  return {
    read,
    settings: known.map(({ setting }) => setting),
    where: places.length === 0 ? "" : say`At ${listOf(places)}`,
    beyond: asked.flatMap(({ heading }, index) => (known[index]?.beyond ? [inSentence(heading)] : [])),
  };
}

function settingSaid(driver: Driver, heading: Heading, setting: Setting): Said {
  const name = inSentence(heading);
  if (setting === "even") return `every ${name} with equal weight`;
  return driver.kind === "number"
    ? say`${name} ${withUnit(significant(setting, 4), heading.unit)}`
    : `${name} "${driver.levels[setting] ?? ""}"`;
}

/** What is said where settings lie outside the rows; empty where none do. @param drawn what is drawn on there */
export function beyondSaid(beyond: readonly string[], drawn: "curve" | "line"): string {
  return beyond.length === 0
    ? ""
    : ` No shot was taken so far out in ${listOf(beyond)}: the ${drawn} is only drawn on, and the interval does not know whether it holds there.`;
}
