/** A column of a log as a driver of a regression, or as what groups its rows. */
import type { Driver } from "../../statistics/fit/designMatrix";
import type { Grouping } from "../../statistics/errors/errorModel";
import type { DriverChoice } from "./choice";
import { levelOf, numberOf, type Reading } from "../log/reading";
import { memo } from "../../statistics/numeric/memo";
import type { LogColumn } from "../log/trialLog";
import { there } from "../../there";

/**
 * The driver over the rows used. A category's levels stand in order of appearance.
 * @param used indices of rows whose reading the choice can use
 */
export function buildDriver({ as, degree }: DriverChoice, column: LogColumn, used: readonly number[]): Driver {
  const name = column.heading.text;
  return as === "number"
    ? { kind: "number", name, values: numbersOf(column, used), degree }
    : { kind: "category", name, ...levelsOf(column.readings, used) };
}

const numbers = memo<Float64Array>();

/** The column's numbers over the rows used; the same array for the same rows. */
export function numbersOf({ readings }: LogColumn, used: readonly number[]): Float64Array {
  return numbers(readings, [used], () => {
    // A loop: filling from a list by a function is many times slower.
    const values = new Float64Array(used.length);
    for (let i = 0; i < used.length; i++)
      values[i] = numberOf(there(readings[there(used[i], "a row used")], "a reading"));
    return values;
  });
}

/** The column as a grouping of the rows used, in order of appearance. */
export function buildGrouping({ heading, readings, parts }: LogColumn, used: readonly number[]): Grouping {
  const { values, levels } = levelsOf(readings, used);
  return { name: parts ? heading.name : heading.text, groups: values, levels };
}

const levels = memo<{ readonly values: Uint32Array; readonly levels: readonly string[] }>();

function levelsOf(readings: readonly Reading[], used: readonly number[]) {
  return levels(readings, [used], () => {
    const place = new Map<string, number>();
    const values = new Uint32Array(used.length);
    for (let i = 0; i < used.length; i++) {
      const level = levelOf(there(readings[there(used[i], "a row used")], "a reading"));
      let known = place.get(level);
      if (known === undefined) place.set(level, (known = place.size));
      values[i] = known;
    }
    return { values, levels: [...place.keys()] };
  });
}
