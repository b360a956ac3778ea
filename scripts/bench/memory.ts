/**
 * Fits 1,000,000 rows by 10 drivers in a process of its own and prints the bytes that the process grew by, data
 * included, and the data's bytes.
 */
import { regress } from "../../src/statistics/fit/regression";
import { millionRows } from "./millionRows";

const start = process.memoryUsage().rss;
const { response, drivers, bytes } = millionRows();
const { terms, residuals } = regress({ response, drivers });
if (terms.length !== 11 || residuals.length !== response.length) throw new Error("the fit is not what was asked for");
// Not the greatest size that the system remembers: it counts the process from which this one was split off.
console.log(JSON.stringify({ grown: process.memoryUsage().rss - start, bytes }));
