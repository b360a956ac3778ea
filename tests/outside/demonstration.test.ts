/** A second opinion on the demonstration: R's lm, run in the test, and LINEST of the embedded engine. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/experiment/question/analysis";
import { guessChoice } from "../../src/experiment/question/choice";
import { findTrialLogs } from "../../src/experiment/log/trialLog";
import { adjustedMeans } from "../../src/statistics/fit/adjustedMeans";
import { termTests } from "../../src/statistics/fit/wholeTerms";
import { createEngine } from "../../src/workbook/embedded/engine";
import { FilePort } from "../../src/workbook/file/filePort";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { digits, startR, vector, type R } from "./r";

const demonstration = () =>
  readXlsx(readFileSync(join(import.meta.dirname, "../../sample-workbooks/demonstration.xlsx")));

let r: R;
beforeAll(async () => {
  r = await startR();
});
afterAll(() => r.close());

describe("the sheet of answers", () => {
  it("shows in every cell what R says of the trials that are stored beside it", async () => {
    const {
      sheets: [trials, answers],
    } = await demonstration();
    const heads = trials.rows[0]!.map((cell) => cell?.value);
    const column = (name: string) => trials.rows.slice(1).map((row) => row?.[heads.indexOf(name)]?.value ?? null);
    const cellsBelow = (title: string, lines: number) => {
      const top = answers.rows.findIndex((row) => String(row?.[0]?.value ?? "").startsWith(title));
      return answers.rows.slice(top + 1, top + 1 + lines).map((row) => row!.map((cell) => cell?.value ?? null));
    };
    const numbers = (name: string) =>
      `c(${column(name)
        .map((value) => (typeof value === "number" ? value : "NA"))
        .join(", ")})`;
    // The gaps as a reader of the sheet sees them; one was typed as text. The bend is R - gap by hand.
    const gaps = column("Gap (in)").map((value) => (value === "9/16" ? 9 / 16 : value));
    const outcomes = column("Outcome");
    await r.numbers(
      `{ d <<- data.frame(y = 1.125 - c(${gaps.map((value) => value ?? "NA").join(", ")}), cloth = factor(c(${column(
        "Cloth",
      )
        .map((value) => `"${value}"`)
        .join(
          ", ",
        )}), c("worn", "new")), h = ${numbers("Humidity (%)")}, v = ${numbers("Speed (mph)")}, s = ${numbers("Spin")}); fit <<- lm(y ~ ., d); 0 }`,
    );
    const close = (cells: readonly unknown[], expected: readonly number[]) => {
      expect(cells.length).toBe(expected.length);
      // R's doubles on this well-conditioned design; p of 1e-20 and less multiplies its error by the degrees of
      // freedom.
      cells.forEach((value, i) => expect(digits(value as number, expected[i])).toBeGreaterThan(8));
    };
    const fit = cellsBelow("Bend against cloth", 7);
    expect(fit.map(([label]) => label)).toEqual([
      "term",
      "constant",
      "Cloth: new",
      "Humidity (%)",
      "Speed (mph)",
      "Spin",
      "237 of 240 rows used, 3 left out for a blank",
    ]);
    close(
      fit.slice(1, 6).flatMap((row) => row.slice(1)),
      await r.numbers("{ k <- summary(fit)$coefficients; i <- confint(fit); c(t(cbind(k[, 1:2], i, k[, 4]))) }"),
    );
    const spread = cellsBelow("Spread of the bend", 4);
    close(
      [...spread[1].slice(1, 4), ...spread[2].slice(1, 4), spread[3][1]],
      await r.numbers(
        "{ y <- na.omit(d$y); n <- length(y); c(mean(y), t.test(y)$conf.int, sd(y), sd(y) * sqrt((n - 1) / qchisq(c(0.975, 0.025), n - 1)), n) }",
      ),
    );
    const made = outcomes.filter((outcome) => outcome === "made").length;
    close(
      cellsBelow("Shots made", 2)[1].slice(0, 3),
      await r.numbers(`{ b <- binom.test(${made}, ${outcomes.length}); c(b$estimate, b$conf.int) }`),
    );
    // R - bend - guard: 1.125 - 0.75 - 1/32 and 1.125 - 1 - 1/32.
    expect(cellsBelow("Gap to set", 2).map((row) => row.slice(1))).toEqual([
      [0.75, 1 / 32, 11 / 32, "11/32"],
      [1, 1 / 32, 3 / 32, "3/32"],
    ]);
    expect(answers.rows.length, "no block of answers is unchecked").toBe(26);
  });
});

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
    // R works in doubles on this well-conditioned design; p of 1e-20 and less multiplies its error by the degrees of
    // freedom.
    found.forEach((value, i) => expect(digits(value, table[i])).toBeGreaterThan(9));
    const f = await r.numbers("{ s <- drop1(fit, test = 'F'); c(s$`F value`[-1], s$`Pr(>F)`[-1]) }");
    const tests = termTests(regression);
    [...tests.map(({ test }) => test.value!), ...tests.map(({ test }) => test.p!)].forEach((value, i) =>
      expect(digits(value, f[i])).toBeGreaterThan(8),
    );
    const means = await r.numbers(
      "{ n <- d[1:2, ]; n$cloth <- factor(c(0, 1)); for (v in c('x0', 'x1', 'x2')) n[[v]] <- mean(d[[v]]); c(t(predict(fit, n, interval = 'confidence'))) }",
    );
    adjustedMeans(regression, 0)
      .flatMap(({ estimate }) => [estimate!.value, estimate!.low!, estimate!.high!])
      .forEach((value, i) => expect(digits(value, means[i])).toBeGreaterThan(9));
  });

  it("agrees with LINEST, the spreadsheet's own, on its number columns", async () => {
    const engine = await createEngine(await demonstration());
    try {
      // Rows 19 to 94 of the sheet are complete. LINEST gives the last driver first.
      const [linest, ours] = await engine.evaluate([
        "LINEST(Trials!N19:N94,Trials!F19:H94)",
        "BANK.REGRESS(Trials!N19:N94,Trials!F19:H94)",
      ]);
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
