/** Regression against jstat's own least squares and R's lm, on the same data in the same run. */
import { createRequire } from "node:module";
import { WebR } from "webr";
import { regress } from "../../src/statistics/fit/regression";
import { termTests } from "../../src/statistics/fit/wholeTerms";
import { best, ratioAtMost, seededRandom, type Measurement } from "./measure";

const { jStat } = createRequire(import.meta.url)("jstat");

export async function regressionBench(): Promise<Measurement[]> {
  const random = seededRandom(42);
  const rows = 5000;
  const columns = Array.from({ length: 6 }, () => Float64Array.from({ length: rows }, () => random.normal()));
  const response = Float64Array.from({ length: rows }, (_, i) =>
    columns.reduce((total, column, j) => total + (j + 1) * column[i], random.normal()),
  );
  const drivers = columns.map((values, j) => ({ kind: "number" as const, name: `x${j}`, values, degree: 1 }));
  const ours = await best(7, () => termTests(regress({ response, drivers })));
  const rowsForJstat = Array.from({ length: rows }, (_, i) => [1, ...columns.map((column) => column[i])]);
  const jstat = await best(3, () => jStat.models.ols(Array.from(response), rowsForJstat));

  const webR = new WebR({ interactive: false });
  await webR.init();
  try {
    await webR.evalRVoid(
      `d <- data.frame(y = c(${response.join(",")}), ${columns.map((column, j) => `x${j} = c(${column.join(",")})`).join(", ")}); f <- function() summary(lm(y ~ ., d))`,
    );
    const seconds = await webR.evalRRaw(
      "{ f(); min(sapply(1:7, function(i) { t <- proc.time()[[3]]; for (k in 1:10) f(); (proc.time()[[3]] - t) / 10 })) }",
      "number",
    );
    const name = "analyse 5,000 rows by 6 drivers";
    return [
      { name, ours, reference: "jstat's own least squares", referenceTime: jstat, goal: ratioAtMost(1) },
      {
        name,
        ours,
        reference: "R's lm with its summary, in webR",
        referenceTime: seconds * 1000,
        goal: ratioAtMost(1),
      },
    ];
  } finally {
    webR.close();
  }
}
