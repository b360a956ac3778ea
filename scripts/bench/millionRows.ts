/** 1,000,000 rows of a response and ten drivers. */
import type { Driver } from "../../src/statistics/fit/designMatrix";
import { seededRandom, sized } from "./measure";

export function millionRows(): { response: Float64Array; drivers: Driver[]; bytes: number } {
  const rows = sized(1_000_000);
  const random = seededRandom(42);
  // Filled in place: whatever is thrown away here would count as memory of the fit.
  const filled = (value: (row: number) => number) => {
    const column = new Float64Array(rows);
    for (let row = 0; row < rows; row++) column[row] = value(row);
    return column;
  };
  const columns = Array.from({ length: 10 }, () => filled(() => random.normal()));
  const response = filled((row) => {
    let total = random.normal();
    for (let j = 0; j < columns.length; j++) total += (j + 1) * columns[j][row];
    return total;
  });
  return {
    response,
    drivers: columns.map((values, j) => ({ kind: "number", name: `x${j}`, values, degree: 1 })),
    bytes: 8 * rows * 11,
  };
}
