/** A column of a log as a driver of a regression. May import: choice.ts, reading.ts, trialLog.ts, statistics/design.ts. */
import type { Driver } from "../statistics/design";
import type { DriverChoice } from "./choice";
import { levelOf, numberOf } from "./reading";
import type { LogColumn } from "./trialLog";

/**
 * The driver over the rows used. A category's levels stand in order of appearance.
 * @param used indices of rows whose reading the choice can use
 */
export function buildDriver({ as, degree }: DriverChoice, { heading, readings }: LogColumn, used: readonly number[]): Driver {
  if (as === "number") {
    return { kind: "number", name: heading.text, values: used.map((index) => numberOf(readings[index])), degree };
  }
  const place = new Map<string, number>();
  const values = used.map((index) => {
    const level = levelOf(readings[index]);
    if (!place.has(level)) place.set(level, place.size);
    return place.get(level) as number;
  });
  return { kind: "category", name: heading.text, values, levels: [...place.keys()] };
}
