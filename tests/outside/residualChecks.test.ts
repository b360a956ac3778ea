/** Checks of the residuals against the same tests written out in R's own lm and anova, run in the test. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { chiSquareUpper } from "../../src/statistics/distributions/distributions";
import { regress } from "../../src/statistics/fit/regression";
import { lackOfFit } from "../../src/statistics/checks/lackOfFit";
import { leaveOneOut, spreadByLevel, unequalSpread } from "../../src/statistics/checks/residualChecks";
import { digits, startR, vector, type R } from "./r";

let r: R;
beforeAll(async () => {
  r = await startR();
});
afterAll(() => r.close());

const x = [1, 1, 2, 2, 2, 3, 3, 4, 4, 5, 5, 5];
const g = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2];
const y = [1.2, 0.9, 2.4, 1.7, 2.2, 4.1, 3.2, 3.7, 6.1, 5.2, 4.1, 9.3];
const data = `d <- data.frame(x = ${vector(x)}, g = factor(${vector(g)}), y = ${vector(y)}); f <- lm(y ~ x + g, d)`;
const fit = regress({
  response: y,
  drivers: [
    { kind: "number", name: "x", values: x, degree: 1 },
    { kind: "category", name: "g", values: g, levels: ["a", "b", "c"] },
  ],
});
const agree = (found: readonly (number | null | undefined)[], expected: readonly number[]) =>
  // Doubles on both sides, R's by another factorisation.
  found.forEach((value, i) => expect(digits(value ?? NaN, expected[i])).toBeGreaterThan(10));

describe("residual checks", () => {
  it("unequal spread: rows times R² of the squared residuals, on chi-square", async () => {
    const found = unequalSpread(fit);
    agree(
      [found?.chiSquare, found?.p],
      await r.numbers(
        `{ ${data}; q <- 12 * summary(lm(resid(f)^2 ~ x + g, d))$r.squared; c(q, pchisq(q, 3, lower.tail = FALSE)) }`,
      ),
    );
    expect(found?.df).toBe(3);
  });
  it("spread by level: analysis of variance of the distances from the medians", async () => {
    const found = spreadByLevel(y, { name: "g", groups: g, levels: ["a", "b", "c"] });
    agree(
      [found.test.value, found.test.p, ...found.levels.map(({ sd }) => sd)],
      await r.numbers(
        `{ ${data}; a <- anova(lm(abs(y - ave(y, g, FUN = median)) ~ g, d)); c(a[1, 4], a[1, 5], tapply(d$y, d$g, sd)) }`,
      ),
    );
  });
  it("lack of fit: the line against a mean for each x", async () => {
    const line = regress({ response: y, drivers: [{ kind: "number", name: "x", values: x, degree: 1 }] });
    const found = lackOfFit(line);
    agree(
      [found?.value, found?.df1, found?.df2, found?.p],
      await r.numbers(
        `{ ${data}; a <- anova(lm(y ~ x, d), lm(y ~ factor(x), d)); c(a[2, 5], a[2, 3], a[2, 1], a[2, 6]) }`,
      ),
    );
  });
  it("rows and groups left out: by fitting anew without each", async () => {
    const [rows, share, groups] = await r.numbers(`{ ${data}
      e <- sapply(1:12, function(i) d$y[i] - predict(lm(y ~ x + g, d[-i, ]), d[i, ]))
      m <- sapply(1:12, function(i) d$y[i] - mean(d$y[-i]))
      b <- unlist(lapply(split(1:12, d$x), function(i) d$y[i] - predict(lm(y ~ x + g, d[-i, ]), d[i, ])))
      c(sqrt(mean(e^2)), 1 - sum(e^2) / sum(m^2), sqrt(mean(b^2))) }`);
    agree(
      [
        leaveOneOut(fit)?.error,
        leaveOneOut(fit)?.share,
        leaveOneOut(fit, { name: "x", groups: x.map((v) => v - 1), levels: ["1", "2", "3", "4", "5"] })?.error,
      ],
      [rows, share, groups],
    );
  });
  it.each([
    [3.84, 1],
    [200, 7],
    [1500, 3],
    [0.01, 30],
  ])("chi-square upper tail of %f on %i", async (value, df) => {
    expect(
      digits(chiSquareUpper(value, df), (await r.numbers(`pchisq(${value}, ${df}, lower.tail = FALSE)`))[0]),
    ).toBeGreaterThan(10);
  });
});
