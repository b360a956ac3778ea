/** Large fits: against R's lm.fit in webR in the same run, and by the memory they take. */
import { execFile } from "node:child_process";
import { join } from "node:path";
import { promisify } from "node:util";
import { WebR } from "webr";
import { bootstrap } from "../../src/statistics/checks/resampling";
import { regress } from "../../src/statistics/fit/regression";
import { asShipped } from "./asShipped";
import { fiveHundredRows } from "./fiveHundredRows";
import { leastProcessorTime, oursAtMost, ratioAtMost, sized, type Measurement } from "./measure";
import { nativeR } from "./nativeR";

/** A million rows by ten drivers, in R. */
const MILLION = `n <- ${sized(1e6)}; X <- cbind(1, matrix(rnorm(10 * n), n)); y <- rnorm(n)`;

export async function largeFitBench(): Promise<Measurement[]> {
  const fit = await asShipped<number>("largeFitRun");
  const inPages = await asShipped<number>("largeFitRun", "--as-in-pages");

  const small = regress(fiveHundredRows());
  const resampled = leastProcessorTime(3, () => {
    const task = bootstrap(small, { draws: 10_000, seed: 1 });
    task.advance(10_000);
    return task.result();
  });

  const webR = new WebR({ interactive: false });
  await webR.init();
  try {
    const seconds = (code: string, runs: number) =>
      webR.evalRRaw(
        `min(sapply(1:${runs}, function(i) { gc(); t <- proc.time()[[3]]; ${code}; proc.time()[[3]] - t }))`,
        "number",
      );
    const native = nativeR(
      `${MILLION}; cat(min(sapply(1:7, function(i) { gc(); t <- sum(proc.time()[1:2]); lm.fit(X, y); sum(proc.time()[1:2]) - t })))`,
    );
    if (native === undefined) await webR.evalRVoid(MILLION);
    const lmFit = native ?? (await seconds("lm.fit(X, y)", 7));
    await webR.evalRVoid("X <- cbind(1, matrix(rnorm(3000), 500)); y <- rnorm(500)");
    const lmFits = await seconds("for (k in 1:10000) { i <- sample.int(500, 500, TRUE); .lm.fit(X[i, ], y[i]) }", 1);
    const script = join(import.meta.dirname, "memory.ts");
    const { stdout } = await promisify(execFile)(process.execPath, ["--import", "tsx", script]);
    const { grown, bytes } = JSON.parse(stdout) as { grown: number; bytes: number };
    const against = {
      reference: `R's lm.fit on one core too, ${native === undefined ? "in webR" : "native"}, coefficients and residuals`,
      referenceTime: lmFit * 1000,
    };
    return [
      {
        ...against,
        name: "fit 1,000,000 rows by 10 drivers, with standard errors, tests and residuals, processor time",
        ours: fit,
        goal: ratioAtMost(0.6),
      },
      {
        ...against,
        name: "the same as pages do it, where WebAssembly may not be compiled, processor time",
        ours: inPages,
        goal: ratioAtMost(1),
      },
      {
        name: "memory of that fit, data included",
        ours: grown / 1e6,
        reference: "the data",
        referenceTime: bytes / 1e6,
        unit: "MB",
        goal: ratioAtMost(2),
      },
      {
        name: "bootstrap of 10,000 draws from 500 rows by 6 drivers, processor time",
        ours: resampled,
        reference: "R's .lm.fit on 10,000 drawn samples, in webR, by the clock",
        referenceTime: lmFits * 1000,
        goal: oursAtMost(1000),
      },
    ];
  } finally {
    webR.close();
  }
}
