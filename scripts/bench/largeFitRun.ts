/**
 * Fits 1,000,000 rows by 10 drivers and prints the least processor time of several fits, in ms. With --as-in-pages it
 * does as pages do, where WebAssembly may not be compiled.
 */
import { regress } from "../../src/statistics/fit/regression";
import { leastProcessorTime } from "./measure";
import { millionRows } from "./millionRows";

if (process.argv.includes("--as-in-pages")) Object.assign(globalThis, { document: {} });
const { response, drivers } = millionRows();
const fit = leastProcessorTime(9, () => {
  const { terms, residuals } = regress({ response, drivers });
  return [terms, residuals];
});
console.log(JSON.stringify(fit));
