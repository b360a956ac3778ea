/** A column of a log as a driver of a regression. May import: choice.ts, rowCheck.ts, trialLog.ts, statistics/design.ts. */
import type { Driver } from "../statistics/design";
import type { DriverChoice } from "./choice";
import { levelOf } from "./rowCheck";
import type { LogColumn } from "./trialLog";

/**
 * The driver over the rows used. A category's levels stand in order of appearance.
 * @param used indices of rows whose reading the choice can use
 */
export function buildDriver({ as, degree }: DriverChoice, { heading, readings }: LogColumn, used: readonly number[]): Driver {
  if (as === "number") {
    const values = used.map((index) => {
      const reading = readings[index];
      return reading.kind === "number" || reading.kind === "date" ? reading.value : NaN;
    });
    return { kind: "number", name: heading.text, values, degree };
  }
  const place = new Map<string, number>();
  const values = used.map((index) => {
    const level = levelOf(readings[index]);
    if (!place.has(level)) place.set(level, place.size);
    return place.get(level) as number;
  });
  return { kind: "category", name: heading.text, values, levels: [...place.keys()] };
}
