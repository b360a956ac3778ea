/**
 * The studentised range, the noncentral t, power and the logistic fit against R run in the test and against printed
 * tables.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { studentTwoSided } from "../../src/statistics/distributions/distributions";
import { logistic } from "../../src/statistics/fit/logistic";
import { falseAlarms } from "../../src/statistics/design/looks";
import { noncentralFisherUpper } from "../../src/statistics/distributions/noncentralF";
import { noncentralTwoSided } from "../../src/statistics/distributions/noncentralT";
import {
  power,
  sessionPower,
  sessionsNeeded,
  sessionShotsNeeded,
  shotsNeeded,
} from "../../src/statistics/design/power";
import { studentisedRangeQuantile, studentisedRangeUpper } from "../../src/statistics/distributions/studentisedRange";
import { digits, startR, vector, type R } from "./r";

let r: R;
beforeAll(async () => {
  r = await startR();
});
afterAll(() => r.close());

// R's power.t.test on the means of sessions, each mean with standard deviation √(T² + S²/M); its sums end near 1e-9.
describe("power of sessions", () => {
  const ofMeans = (
    difference: number,
    spread: number,
    between: number,
    sessions: number,
    shots: number,
    level: number,
  ) =>
    `power.t.test(n = ${sessions}, delta = ${difference}, sd = sqrt(${between}^2 + ${spread}^2 / ${shots}), sig.level = ${level}, strict = TRUE)$power`;

  it.each([
    [1, 1, 0.5, 6, 8, 0.05],
    [0.2, 1, 0, 3, 20, 0.05],
    [1, 0.5, 1, 2, 10, 0.05],
    [1.5, 1, 0.6, 10, 1, 0.01],
    [-1, 1, 0.3, 4, 4, 0.1],
  ])(
    "difference %f, shots %f, sessions %f; %i sessions of %i shots, level %f",
    async (difference, spread, sessionSpread, sessions, shots, level) => {
      const [reference] = await r.numbers(ofMeans(difference, spread, sessionSpread, sessions, shots, level));
      expect(
        Math.abs(sessionPower({ difference, spread, sessionSpread, level }, sessions, shots) - reference),
      ).toBeLessThan(2e-9);
    },
  );

  it("counts the fewest sessions and shots that reach it, as the power beside them says", async () => {
    const plan = { difference: 1, spread: 1, sessionSpread: 0.4 };
    const chance = async (sessions: number, shots: number) =>
      (await r.numbers(ofMeans(1, 1, 0.4, sessions, shots, 0.05)))[0];
    const sessions = sessionsNeeded(plan, 5, 0.8);
    expect(await chance(sessions, 5)).toBeGreaterThanOrEqual(0.8);
    expect(await chance(sessions - 1, 5)).toBeLessThan(0.8);
    const shots = sessionShotsNeeded(plan, 6, 0.8);
    expect(await chance(6, shots)).toBeGreaterThanOrEqual(0.8);
    expect(await chance(6, shots - 1)).toBeLessThan(0.8);
    expect(() => sessionShotsNeeded(plan, 3, 0.8)).toThrow(
      "no number of shots in them gives a power of 0.8; it takes at least 4 on each table",
    );
  });

  it("without a spread of sessions and with one shot in each is the power of shots", () =>
    expect(sessionPower({ difference: 1, spread: 1, sessionSpread: 0 }, 17, 1)).toBe(
      power({ difference: 1, spread: 1 }, 17),
    ));
});

describe("studentised range", () => {
  // ptukey ends its sums near 1e-9, absolute; it is not asked below 4 degrees of freedom, where it is wrong.
  it.each([
    [3.5, 3, 10],
    [1, 5, 4],
    [8, 10, 20],
    [4.2, 2, 7.5],
    [5, 30, 1000],
  ])("q = %f, %i means on %f", async (q, count, df) => {
    expect(
      Math.abs(
        studentisedRangeUpper(q, count, df) - (await r.numbers(`ptukey(${q}, ${count}, ${df}, lower.tail = FALSE)`))[0],
      ),
    ).toBeLessThan(5e-9);
  });

  // Percentage points as printed in E. S. Pearson & H. O. Hartley, Biometrika Tables for Statisticians 1, table 29, to
  // four digits (quoted from memory); the value of 10 means on 2 degrees of freedom to six digits is that of later
  // recomputations.
  it.each([
    [0.95, 2, 1, 17.97],
    [0.95, 3, 1, 26.98],
    [0.95, 10, 1, 49.07],
    [0.95, 2, 2, 6.085],
    [0.95, 3, 2, 8.331],
    [0.95, 10, 2, 13.99],
    [0.95, 3, 3, 5.91],
    [0.95, 10, 3, 9.462],
    [0.99, 2, 2, 14.04],
    [0.99, 3, 2, 19.02],
    [0.99, 3, 3, 10.62],
    [0.99, 10, 2, 31.6894],
  ])("the table: %f, %i means on %i degrees of freedom is %f", (confidence, count, df, printed) => {
    const found = studentisedRangeQuantile(confidence, count, df);
    expect(Math.abs(found - printed)).toBeLessThanOrEqual(
      printed === 31.6894 ? 0.00005 : 0.51 * 10 ** (Math.floor(Math.log10(printed)) - 3),
    );
  });

  // For two means the range is √2·|t|, at every number of degrees of freedom, far into the tail.
  it.each([
    [1, 0.7],
    [5, 1],
    [1000, 1],
    [60, 2],
    [5, 3.3],
    [40, 12],
    [1e4, 40],
    [12, 1e5],
  ])("two means: q = %f on %f is Student's t", (q, df) => {
    expect(digits(studentisedRangeUpper(q, 2, df), studentTwoSided(q / Math.SQRT2, df))).toBeGreaterThan(11);
  });
});

describe("noncentral t and power", () => {
  it.each([
    [2, 10, 3],
    [0.5, 4, 1],
    [2.2, 30, 2.5],
    [1.96, 500, 10],
    [12.7, 1, 2],
  ])("T > %f on %f, shifted by %f", async (t, df, shift) => {
    const [upper, lower] = await r.numbers(
      `c(pt(${t}, ${df}, ${shift}, lower.tail = FALSE), pt(-${t}, ${df}, ${shift}))`,
    );
    const found = noncentralTwoSided(t, df, shift);
    // R's pt states an error bound of 1e-12, absolute, for the noncentral distribution.
    expect(Math.abs(found.upper - upper)).toBeLessThan(1e-11);
    expect(Math.abs(found.lower - lower)).toBeLessThan(1e-11);
  });
  it("is Student's t without a shift", () =>
    expect(digits(noncentralTwoSided(50, 7, 0).upper, studentTwoSided(50, 7) / 2)).toBeGreaterThan(12));

  it.each([
    [1, 1, 17, 0.05],
    [0.05, 0.1, 20, 0.05],
    [0.3, 1, 200, 0.01],
    [2, 1, 2, 0.1],
  ])("power.t.test: difference %f, spread %f, %i shots, level %f", async (difference, spread, shots, level) => {
    const [expected] = await r.numbers(
      `power.t.test(n = ${shots}, delta = ${difference}, sd = ${spread}, sig.level = ${level}, strict = TRUE)$power`,
    );
    expect(digits(power({ difference, spread, level }, shots), expected)).toBeGreaterThan(9);
  });
  it.each([
    [1, 1, 0.8],
    [0.05, 0.1, 0.9],
    [0.02, 0.1, 0.95],
    [3, 1, 0.8],
  ])("shots for a difference of %f at spread %f and power %f", async (difference, spread, wanted) => {
    const [expected] = await r.numbers(
      `ceiling(power.t.test(power = ${wanted}, delta = ${difference}, sd = ${spread}, strict = TRUE)$n)`,
    );
    expect(shotsNeeded({ difference, spread }, wanted)).toBe(expected);
  });
});

describe("noncentral F, several tables", () => {
  it.each([
    [4, 1, 10, 9],
    [2.5, 3, 60, 8],
    [0.3, 5, 4, 2],
    [1e4, 1, 10, 1e4],
    [1, 20, 200, 400],
  ])("F > %f on %f and %f, shifted by %f", async (f, df1, df2, shift) => {
    // R's pf without its own tail: the Poisson mixture summed in R. dpois and pbeta hold about 13 digits.
    const [expected] = await r.numbers(
      `sum(dpois(0:20000, ${shift / 2}) * pbeta(${df2 / (df2 + df1 * f)}, ${df2 / 2}, ${df1 / 2} + 0:20000))`,
    );
    // Weights at a shift of 10,000 are exp of a difference of numbers near 40,000, good to 1e-11.
    expect(digits(noncentralFisherUpper(f, df1, df2, shift), expected)).toBeGreaterThan(10);
  });
  it("on one degree of freedom is the noncentral t on both sides, far into the tail and at large shifts", () => {
    for (const [t, df, shift] of [
      [2, 10, 3],
      [1e4, 50, 2],
      [100, 10, 100],
      [60, 5, 40],
      [30, 1000, 35],
      [0.5, 3, 1],
    ]) {
      const { upper, lower } = noncentralTwoSided(t, df, shift);
      expect(digits(noncentralFisherUpper(t * t, 1, df, shift * shift), upper + lower)).toBeGreaterThan(10);
    }
  });
  it.each([
    [3, 10, 1, 1],
    [4, 17, 1, 1],
    [6, 40, 0.4, 1],
  ])("power.anova.test: %i tables, %i shots, difference %f, spread %f", async (tables, shots, difference, spread) => {
    const [expected] = await r.numbers(
      `power.anova.test(groups = ${tables}, n = ${shots}, between.var = ${difference ** 2 / 2 / (tables - 1)}, within.var = ${spread ** 2})$power`,
    );
    // R ends its sum for the noncentral distribution at 1e-9.
    expect(digits(power({ difference, spread, tables }, shots), expected)).toBeGreaterThan(8);
  });
  it("shots for several tables are the fewest with the power", () => {
    const plan = { difference: 0.5, spread: 1, tables: 4 };
    const shots = shotsNeeded(plan, 0.8);
    expect(power(plan, shots)).toBeGreaterThanOrEqual(0.8);
    expect(power(plan, shots - 1)).toBeLessThan(0.8);
    expect(shots).toBeGreaterThan(shotsNeeded({ difference: 0.5, spread: 1 }, 0.8));
  });
});

describe("looking early", () => {
  // P. Armitage, C. K. McPherson & B. C. Rowe, J. R. Statist. Soc. A 132 (1969) 235–244, table 2, normal case, two
  // sides (quoted from memory).
  it.each([
    [0.05, 1, 0.05],
    [0.05, 2, 0.083],
    [0.05, 3, 0.107],
    [0.05, 4, 0.126],
    [0.05, 5, 0.142],
    [0.05, 10, 0.193],
    [0.05, 20, 0.248],
    [0.05, 50, 0.32],
    [0.05, 1000, 0.53],
    [0.01, 2, 0.018],
    [0.01, 5, 0.033],
    [0.01, 10, 0.047],
  ])("level %f, %i looks: %f", (level, looks, printed) => {
    expect(Math.abs(falseAlarms(looks, level) - printed)).toBeLessThan(0.00051);
  });
  it("two looks: the two-dimensional normal integral by R's integrate", async () => {
    const [expected] = await r.numbers(
      "1 - integrate(function(x) dnorm(x) * (pnorm(qnorm(0.975) * sqrt(2) - x) - pnorm(-qnorm(0.975) * sqrt(2) - x)), -qnorm(0.975), qnorm(0.975), rel.tol = 1e-12)$value",
    );
    // The normal quantile is jstat's, good to 10 digits.
    expect(digits(falseAlarms(2), expected)).toBeGreaterThan(8);
  });
  it("refuses what is no number of looks", () => {
    expect(() => falseAlarms(0)).toThrow("looks is 0");
    expect(() => falseAlarms(2.5)).toThrow("looks is 2.5");
    expect(() => falseAlarms(2, 1)).toThrow("level is 1");
  });
});

describe("made or missed", () => {
  const made = [0, 0, 1, 0, 1, 1, 0, 1, 1, 1, 0, 1];
  const speed = [4, 5, 5.5, 6, 6.2, 7, 7.5, 8, 8.1, 9, 9.5, 11];
  const cloth = [0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1];

  it("is glm's fit", async () => {
    const expected = await r.numbers(
      `{ f <- glm(m ~ s + c, binomial, data.frame(m = ${vector(made)}, s = ${vector(speed)}, c = ${vector(cloth)}), control = list(epsilon = 1e-15, maxit = 100)); c(t(coef(summary(f))), f$deviance, f$null.deviance) }`,
    );
    const fit = logistic({
      made,
      drivers: [
        { kind: "number", name: "speed", values: speed, degree: 1 },
        { kind: "category", name: "cloth", values: cloth, levels: ["new", "worn"] },
      ],
    });
    const found = [
      ...fit.terms.flatMap(({ estimate, standardError, t, p }) => [estimate, standardError, t, p]),
      fit.deviance,
      fit.nullDeviance,
    ];
    // glm ends one step before rounding: standard errors are those of the step before.
    found.forEach((value, i) => expect(digits(value ?? NaN, expected[i])).toBeGreaterThan(8));
    expect(fit.method).toBe("maximum likelihood");
  });

  it("errors by session are CR2 with Satterthwaite's degrees of freedom, written out in R with matrices of all rows", async () => {
    const groups = [0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5];
    const fit = logistic({
      made,
      drivers: [{ kind: "number", name: "speed", values: speed, degree: 1 }],
      by: { name: "session", groups, levels: ["a", "b", "c", "d", "e", "f"] },
    });
    const expected = await r.numbers(`{
      m <- ${vector(made)}; X <- cbind(1, ${vector(speed)}); g <- ${vector(groups)}
      f <- glm(m ~ X[, 2], binomial, control = list(epsilon = 1e-15, maxit = 100)); p <- fitted(f); w <- sqrt(p * (1 - p))
      Q <- w * X; M <- solve(t(Q) %*% Q); H <- Q %*% M %*% t(Q); I <- diag(length(m)); e <- (m - p) / w
      root <- function(A) { s <- eigen(A, symmetric = TRUE); s$vectors %*% diag(1 / sqrt(s$values)) %*% t(s$vectors) }
      out <- c()
      for (k in 1:2) { c <- c(0, 0); c[k] <- 1
        P <- sapply(0:5, function(j) { i <- g == j; drop((I - H)[, i] %*% root((I - H)[i, i]) %*% Q[i, ] %*% M %*% c) })
        v <- sum(sapply(0:5, function(j) { i <- g == j; drop(t(c) %*% M %*% t(Q[i, ]) %*% root((I - H)[i, i]) %*% e[i])^2 }))
        out <- c(out, coef(f)[k], sqrt(v), sum(P^2)^2 / sum((t(P) %*% P)^2)) }
      out }`);
    const found = fit.terms.flatMap(({ estimate, standardError, df }) => [estimate, standardError, df]);
    // glm ends one step before rounding.
    found.forEach((value, i) => expect(digits(value ?? NaN, expected[i])).toBeGreaterThan(8));
  });

  it("errors by session of the penalised fit are those of fits without each session", () => {
    const separated = [0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1];
    const groups = [0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5];
    const at = (rows: readonly number[]) =>
      logistic({
        made: rows.map((row) => separated[row]),
        drivers: [{ kind: "number", name: "speed", values: rows.map((row) => speed[row]), degree: 1 }],
      }).terms[1].estimate ?? NaN;
    const all = speed.map((_, row) => row);
    const whole = at(all);
    const variance = [0, 1, 2, 3, 4, 5].reduce(
      (total, group) => total + (5 / 6) * (at(all.filter((row) => groups[row] !== group)) - whole) ** 2,
      0,
    );
    const [, term] = logistic({
      made: separated,
      drivers: [{ kind: "number", name: "speed", values: speed, degree: 1 }],
      by: { name: "session", groups, levels: ["a", "b", "c", "d", "e", "f"] },
    }).terms;
    expect(digits(term.standardError ?? NaN, Math.sqrt(variance))).toBeGreaterThan(8);
    expect(term.df).toBe(5);
    expect(() =>
      logistic({ made, drivers: [], by: { name: "session", groups: groups.map(() => 0), levels: ["a"] } }),
    ).toThrow("session has one group only (a)");
  });

  it("is the top of Firth's penalised likelihood where made and missed are separated", async () => {
    // The penalised likelihood written out in R and climbed by R's nlm, as far as it goes: about 1e-6.
    const separated = [0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1];
    const expected = await r.numbers(`{
      y <- ${vector(separated)}; X <- cbind(1, ${vector(speed)} - 7)
      height <- function(b) { e <- drop(X %*% b); w <- plogis(e) * plogis(-e); -(sum(y * plogis(e, log.p = TRUE) + (1 - y) * plogis(-e, log.p = TRUE)) + log(det(t(X) %*% (w * X))) / 2) }
      top <- nlm(height, nlm(height, c(0, 0.1))$estimate, gradtol = 1e-11, steptol = 1e-12)$estimate
      e <- drop(X %*% top); w <- plogis(e) * plogis(-e)
      c(top, sqrt(diag(solve(t(X) %*% (w * X))))) }`);
    const fit = logistic({
      made: separated,
      drivers: [{ kind: "number", name: "speed", values: speed.map((value) => value - 7), degree: 1 }],
    });
    expect(fit.method).toBe("penalised likelihood");
    [...fit.terms.map(({ estimate }) => estimate), ...fit.terms.map(({ standardError }) => standardError)].forEach(
      (value, i) => expect(digits(value ?? NaN, expected[i])).toBeGreaterThan(5),
    );
  });

  it("has the profile's interval and p then", async () => {
    // The penalised likelihood written out in R, the constant climbed away at each slope by optimize, to about 1e-8 of
    // the slope.
    const expected = await r.numbers(`{
      y <- c(0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1); X <- cbind(1, ${vector(speed)} - 7)
      height <- function(b) { e <- drop(X %*% b); w <- plogis(e) * plogis(-e); sum(y * plogis(e, log.p = TRUE) + (1 - y) * plogis(-e, log.p = TRUE)) + log(det(t(X) %*% (w * X))) / 2 }
      profile <- function(s) optimize(function(a) height(c(a, s)), c(-20, 20), maximum = TRUE, tol = 1e-12)$objective
      top <- optimize(profile, c(0, 6), maximum = TRUE, tol = 1e-12)
      fall <- function(s) 2 * (top$objective - profile(s)) - qchisq(0.95, 1)
      c(uniroot(fall, c(-2, top$maximum), tol = 1e-12)$root, uniroot(fall, c(top$maximum, 30), tol = 1e-12)$root, pchisq(fall(0) + qchisq(0.95, 1), 1, lower.tail = FALSE)) }`);
    const { low, high, p } = logistic({
      made: [0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1],
      drivers: [{ kind: "number", name: "speed", values: speed.map((value) => value - 7), degree: 1 }],
    }).terms[1];
    [low, high, p].forEach((value, i) => expect(digits(value ?? NaN, expected[i])).toBeGreaterThan(6));
  });

  it("Firth's fit of a constant chance adds half a shot on each side", () => {
    expect(logistic({ made: [1, 1, 1, 1], drivers: [] }).terms[0].estimate).toBeCloseTo(Math.log(4.5 / 0.5), 10);
  });
});
