/** A column of a log as a driver of a regression, or as what groups its rows. May import: choice.ts, reading.ts, trialLog.ts, statistics/. */
import type { Driver } from "../statistics/design";
import type { Grouping } from "../statistics/errorModel";
import type { DriverChoice } from "./choice";
import { levelOf, numberOf, type Reading } from "./reading";
import type { LogColumn } from "./trialLog";

/**
 * The driver over the rows used. A category's levels stand in order of appearance.
 * @param used indices of rows whose reading the choice can use
 */
export function buildDriver({ as, degree }: DriverChoice, { heading, readings }: LogColumn, used: readonly number[]): Driver {
  if (as === "number") {
    return { kind: "number", name: heading.text, values: used.map((index) => numberOf(readings[index])), degree };
  }
  return { kind: "category", name: heading.text, ...levelsOf(readings, used) };
}

/** The column as a grouping of the rows used, in order of appearance. */
export function buildGrouping({ heading, readings }: LogColumn, used: readonly number[]): Grouping {
  const { values, levels } = levelsOf(readings, used);
  return { name: heading.text, groups: values, levels };
}

function levelsOf(readings: readonly Reading[], used: readonly number[]): { values: number[]; levels: string[] } {
  const place = new Map<string, number>();
  const values = used.map((index) => {
    const level = levelOf(readings[index]);
    if (!place.has(level)) place.set(level, place.size);
    return place.get(level) as number;
  });
  return { values, levels: [...place.keys()] };
}
