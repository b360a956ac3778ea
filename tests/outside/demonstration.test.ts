/** A second opinion on the demonstration: R's lm, run in the test, and LINEST of the embedded engine. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/experiment/analysis";
import { guessChoice } from "../../src/experiment/choice";
import { findTrialLogs } from "../../src/experiment/trialLog";
import { adjustedMeans } from "../../src/statistics/adjustedMeans";
import { termTests } from "../../src/statistics/termTests";
import { createEngine } from "../../src/workbook/embedded/engine";
import { FilePort } from "../../src/workbook/file/filePort";
import { readXlsx } from "../../src/workbook/file/readXlsx";
import { digits, startR, vector, type R } from "./r";

const demonstration = () => readXlsx(readFileSync(join(import.meta.dirname, "../../sample-workbooks/demonstration.xlsx")));

let r: R;
beforeAll(async () => {
  r = await startR();
});
afterAll(() => r.close());

describe("the demonstration's first answer", () => {
  it("agrees with R's lm, term tests and adjusted means", async () => {
    const log = findTrialLogs(await new FilePort(await demonstration()).read("Trials"))[0];
    const { regression } = analyse(log, guessChoice(log)!);
    const [cloth, ...numbers] = regression.question.drivers;
    await r.numbers(
      `{ d <<- data.frame(y = ${vector(regression.question.response)}, cloth = factor(${vector(cloth.values)}), ${numbers.map((driver, i) => `x${i} = ${vector(driver.values)}`).join(", ")}); fit <<- lm(y ~ ., d); 0 }`,
    );
    const table = await r.numbers("t(summary(fit)$coefficients)");
    const found = regression.terms.flatMap(({ estimate, standardError, t, p }) => [estimate!, standardError!, t!, p!]);
    // R works in doubles on this well-conditioned design; p of 1e-20 and less multiplies its error by the degrees of freedom.
    found.forEach((value, i) => expect(digits(value, table[i])).toBeGreaterThan(9));
    const f = await r.numbers("{ s <- drop1(fit, test = 'F'); c(s$`F value`[-1], s$`Pr(>F)`[-1]) }");
    const tests = termTests(regression);
    [...tests.map(({ test }) => test.value!), ...tests.map(({ test }) => test.p!)].forEach((value, i) => expect(digits(value, f[i])).toBeGreaterThan(8));
    const means = await r.numbers(
      "{ n <- d[1:2, ]; n$cloth <- factor(c(0, 1)); for (v in c('x0', 'x1', 'x2')) n[[v]] <- mean(d[[v]]); c(t(predict(fit, n, interval = 'confidence'))) }",
    );
    adjustedMeans(regression, 0).flatMap(({ estimate }) => [estimate!.value, estimate!.low!, estimate!.high!]).forEach((value, i) => expect(digits(value, means[i])).toBeGreaterThan(9));
  });

  it("agrees with LINEST, the spreadsheet's own, on its number columns", async () => {
    const engine = await createEngine(await demonstration());
    try {
      // Rows 19 to 94 of the sheet are complete. LINEST gives the last driver first.
      const [linest, ours] = await engine.evaluate(["LINEST(Trials!N19:N94,Trials!F19:H94)", "BANK.REGRESS(Trials!N19:N94,Trials!F19:H94)"]);
      const estimates = (ours as number[][]).slice(1).map((row) => row[1]);
      const theirs = [...(linest as number[][])[0]].slice(0, 4).reverse();
      expect(estimates.length).toBe(4);
      // LINEST solves normal equations in doubles, which costs it up to half of its sixteen digits.
      estimates.forEach((value, i) => expect(digits(value, theirs[i])).toBeGreaterThan(7));
    } finally {
      engine.dispose();
    }
  });
});
