/** Comparing with a reference, and slopes of several levels, against printed tables and R run in the test. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { compare, compareSlopes } from "../../src/statistics/compare/comparison";
import { studentTwoSided } from "../../src/statistics/distributions/distributions";
import { dunnett } from "../../src/statistics/distributions/dunnett";
import { regress } from "../../src/statistics/fit/regression";
import { digits, startR, vector, type R } from "./r";

let r: R;
beforeAll(async () => {
  r = await startR();
});
afterAll(() => r.close());

describe("Dunnett's distribution", () => {
  // Two-sided percentage points for equal groups as printed by C. W. Dunnett, Biometrics 20 (1964) 482–491, tables II
  // and III (quoted from memory).
  it.each([
    [0.95, 5, [2.57, 3.03]],
    [0.95, 10, [2.23, 2.57, 2.76, 2.89, 2.99]],
    [0.95, 60, [2.0, 2.27, 2.41, 2.51, 2.58]],
    [0.95, Infinity, [1.96, 2.21, 2.35, 2.44, 2.51]],
    [0.99, 10, [3.17, 3.53, 3.74, 3.88, 3.99]],
    [0.99, 20, [2.85, 3.13, 3.29, 3.4, 3.48]],
  ])("the table at %f on %f degrees of freedom", (confidence, df, printed) => {
    printed.forEach((value, i) =>
      expect(
        Math.abs(dunnett(new Array<number>(i + 1).fill(Math.SQRT1_2)).quantile(confidence, df) - value),
      ).toBeLessThan(0.0051),
    );
  });

  it("is Student's t for a single comparison, whatever its loading, far into the tail", () => {
    for (const [q, df, loading] of [
      [2.5, 3, 0],
      [2.5, 3, 0.9],
      [40, 12, 0.5],
      [30, 400, 0.7],
      [1e4, 5, 0.99],
    ]) {
      expect(digits(dunnett([loading]).upper(q, df), studentTwoSided(q, df))).toBeGreaterThan(11);
    }
  });

  it("unequal groups: the definition, integrated by R's integrate", async () => {
    // integrate is asked for 1e-9 relative in each direction; the lower probability is compared.
    const [q, df, loadings] = [2.4, 9, [0.4, 0.75, 0.9]];
    const [below] = await r.numbers(`{
      l <- ${vector(loadings)}; e <- sqrt(1 - l^2)
      known <- function(w) integrate(function(z) sapply(z, function(z) dnorm(z) * prod(pnorm((w - l * z) / e) - pnorm((-w - l * z) / e))), -9, 9, rel.tol = 1e-10)$value
      integrate(function(s) sapply(s, function(s) known(${q} * s) * 2 * ${df} * s * dchisq(${df} * s^2, ${df})), 0, 4, rel.tol = 1e-9)$value }`);
    expect(Math.abs(1 - dunnett(loadings).upper(q, df) - below)).toBeLessThan(1e-8);
  });

  it("refuses loadings that no comparison has", () => {
    expect(() => dunnett([])).toThrow("no comparison");
    expect(() => dunnett([1])).toThrow("must lie between −1 and 1");
  });
});

describe("comparing with a reference", () => {
  const cloth = [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 2];
  const bend = [7.4, 8.5, 7.2, 8.24, 9.84, 8.32, 9.76, 8.8, 7.68, 9.36, 12.8, 9.68, 12.16, 9.2, 10.55];
  // The counts in the blood of C. W. Dunnett's example, Journal of the American Statistical Association 50 (1955)
  // 1096–1121 (quoted from memory): the second compound differs from the control, the first does not.
  it("the first example: one of two compounds differs from the control", () => {
    const { pairs } = compare(
      regress({
        response: bend,
        drivers: [{ kind: "category", name: "group", values: cloth, levels: ["control", "A", "B"] }],
      }),
      0,
      undefined,
      0,
    );
    expect(pairs.map(({ a, b }) => `${a} less ${b}`)).toEqual(["A less control", "B less control"]);
    expect(pairs[0].difference).toBeCloseTo(0.65, 10);
    expect(pairs[1].difference).toBeCloseTo(2.628, 10);
    expect(pairs[0].p).toBeGreaterThan(0.5);
    expect(pairs[1].p).toBeLessThan(0.01);
    // The loadings of a one-way layout are √(ni / (ni + n0)).
    const law = dunnett([Math.sqrt(4 / 10), Math.sqrt(5 / 11)]);
    for (const { difference, standardError, p, high } of pairs) {
      expect(digits(p ?? NaN, law.upper(Math.abs((difference ?? NaN) / (standardError ?? NaN)), 12))).toBeGreaterThan(
        9,
      );
      expect(
        digits((high ?? NaN) - (difference ?? NaN), law.quantile(0.95, 12) * (standardError ?? NaN)),
      ).toBeGreaterThan(9);
    }
  });
});

describe("one way, live", () => {
  const group = [0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 3, 3, 3];
  const y = [0.61, 0.64, 0.7, 0.69, 0.76, 0.5, 0.48, 0.51, 0.47, 0.72, 0.7, 0.78, 0.83, 0.8, 0.74, 0.66, 0.59, 0.62];
  const data = `d <- data.frame(y = ${vector(y)}, g = factor(${vector(group)}))`;
  const levels = ["new", "old", "worn", "odd"];
  const fit = regress({ response: y, drivers: [{ kind: "category", name: "cloth", values: group, levels }] });

  it("is aov's table and anova's of two fits", async () => {
    const [F, p, squares, df, again] = await r.numbers(
      `{ ${data}; s <- summary(aov(y ~ g, d))[[1]]; a <- anova(lm(y ~ 1, d), lm(y ~ g, d)); c(s[1, 4], s[1, 5], s[2, 2], s[2, 1], a$F[2]) }`,
    );
    // Doubles in R, another factorisation.
    expect(digits(fit.F.value ?? NaN, F)).toBeGreaterThan(11);
    expect(digits(fit.F.value ?? NaN, again)).toBeGreaterThan(11);
    expect(digits(fit.F.p ?? NaN, p)).toBeGreaterThan(10);
    expect(digits(fit.fit.residualSquares, squares)).toBeGreaterThan(11);
    expect(fit.residual.df).toBe(df);
  });

  it("all pairs of unequal groups are TukeyHSD's", async () => {
    // TukeyHSD gives each level less an earlier one, in the order 2−1, 3−1, 4−1, 3−2, 4−2, 4−3; ours the earlier less
    // the later.
    const expected = await r.numbers(`{ ${data}; t(TukeyHSD(aov(y ~ g, d))$g) }`);
    const { pairs } = compare(fit, 0);
    expect(pairs.map(({ a, b }) => `${a} ${b}`)).toEqual([
      "new old",
      "new worn",
      "new odd",
      "old worn",
      "old odd",
      "worn odd",
    ]);
    pairs.forEach(({ difference, low, high, p }, i) => {
      const [found, lowest, highest, chance] = expected.slice(4 * i, 4 * i + 4);
      expect(digits(-(difference ?? NaN), found)).toBeGreaterThan(10);
      // qtukey stops at about 1e-8 in the quantile, ptukey near 1e-9, absolute.
      expect(digits(-(high ?? NaN), lowest)).toBeGreaterThan(5);
      expect(digits(-(low ?? NaN), highest)).toBeGreaterThan(5);
      expect(Math.abs((p ?? NaN) - chance)).toBeLessThan(5e-9);
    });
  });
});

describe("slopes by level", () => {
  const x = [40, 45, 52, 58, 61, 43, 47, 50, 57, 66, 41, 44, 53, 59, 63];
  const y = [0.61, 0.64, 0.7, 0.69, 0.76, 0.5, 0.48, 0.51, 0.47, 0.45, 0.72, 0.7, 0.78, 0.83, 0.8];
  const c = [0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2];
  it("are lm's, with the test of the joint effect", async () => {
    const expected = await r.numbers(`{ d <- data.frame(y = ${vector(y)}, x = ${vector(x)}, c = factor(${vector(c)}))
      a <- coef(summary(lm(y ~ 0 + c + c:x, d))); b <- coef(summary(lm(y ~ c * x, d))); f <- anova(lm(y ~ c + x, d), lm(y ~ c * x, d))
      c(a[4:6, 1], a[4:6, 2], b[5:6, 1], b[5:6, 2], f$F[2], f$"Pr(>F)"[2]) }`);
    const fit = regress({
      response: y,
      drivers: [
        { kind: "category", name: "cloth", values: c, levels: ["new", "old", "worn"] },
        { kind: "number", name: "humidity", values: x, degree: 1 },
      ],
      joint: [[0, 1]],
    });
    const { slopes, pairs, test } = compareSlopes(fit, 0, 1, 0);
    const found = [
      ...slopes.map(({ estimate }) => estimate?.value),
      ...slopes.map(({ estimate }) => estimate?.standardError),
      ...pairs.map(({ difference }) => difference),
      ...pairs.map(({ standardError }) => standardError),
      test.value,
      test.p,
    ];
    // lm works in doubles, with a condition number of about 1e3.
    found.forEach((value, i) => expect(digits(value ?? NaN, expected[i])).toBeGreaterThan(9));
    expect(compareSlopes(fit, 0, 1).pairs.map(({ a, b }) => `${a} ${b}`)).toEqual(["new old", "new worn", "old worn"]);
  });
});
