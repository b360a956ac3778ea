/** 500 rows of a response and six drivers, as data that can cross to a worker. */
import type { Driver } from "../../src/statistics/fit/designMatrix";
import { seededRandom } from "./measure";

export function fiveHundredRows(): { response: number[]; drivers: Driver[] } {
  const random = seededRandom(7);
  const columns = Array.from({ length: 6 }, () => Array.from({ length: 500 }, () => random.normal()));
  return {
    response: columns[0].map((value) => value + random.normal()),
    drivers: columns.map((values, j) => ({ kind: "number", name: `x${j}`, values, degree: 1 })),
  };
}
