/** Least squares against published certified values and against R. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { regress } from "../../src/statistics/fit/regression";
import type { Driver } from "../../src/statistics/fit/designMatrix";
import { termTests } from "../../src/statistics/fit/wholeTerms";
import { nistFile } from "./nistFile";
import { REFERENCE_SETS } from "./nistSets";
import { digits, startR, vector, type R } from "./r";

/**
 * The five Wampler problems of the NIST Statistical Reference Datasets, linear regression, higher difficulty (after
 * R. H. Wampler, "A report of the accuracy of some widely used least squares computer programs", J. Amer. Statist.
 * Assoc. 65 (1970) 549–565). Data from their closed form; the certified values, quoted from memory, are those that NIST
 * prints to 15 digits, and they can be had from the closed form too: NIST computed them with 500 digits.
 */
describe("NIST StRD, Wampler 1 to 5", () => {
  const x = Array.from({ length: 21 }, (_, i) => i);
  const delta = [
    759, -2048, 2048, -2048, 2523, -2048, 2048, -2048, 1838, -2048, 2048, -2048, 1838, -2048, 2048, -2048, 2523, -2048,
    2048, -2048, 759,
  ];
  const polynomial = (coefficient: (power: number) => number) =>
    x.map((v) => [0, 1, 2, 3, 4, 5].reduce((total, power) => total + coefficient(power) * v ** power, 0));
  const fit = (response: number[]) =>
    regress({ response, drivers: [{ kind: "number", name: "x", values: x, degree: 5 }] });
  const errors = [
    2152.3262467817, 2363.55173469681, 779.343524331583, 101.47550755035, 5.64566512170752, 0.112324854679312,
  ];

  it("Wampler 1: exact polynomial, all coefficients 1, no residual", () => {
    const { terms, residual, rSquared } = fit(polynomial(() => 1));
    for (const { estimate, standardError } of terms) {
      expect(digits(estimate!, 1)).toBeGreaterThanOrEqual(13);
      expect(Math.abs(standardError!)).toBeLessThan(1e-13);
    }
    expect(residual.sd).toBeLessThan(1e-13);
    expect(rSquared).toBe(1);
  });

  it("Wampler 2: coefficients 1, 0.1 … 0.00001", () => {
    // NIST prints the response with its five decimals in full.
    const { terms } = fit(polynomial((power) => 10 ** -power).map((y) => Math.round(y * 1e5) / 1e5));
    terms.forEach(({ estimate }, power) => expect(digits(estimate!, 10 ** -power)).toBeGreaterThanOrEqual(13));
  });

  for (const [name, size, sd, rSquared, f] of [
    ["Wampler 3", 1, 2360.14502379268, 0.99999555902582, 675524.458240122],
    ["Wampler 4", 100, 236014.502379268, 0.957478440825662, 67.5524458240122],
    ["Wampler 5", 10000, 23601450.2379268, 0.0022466892157494, 0.00675524458240122],
  ] as const) {
    it(`${name}: coefficients 1 under a large orthogonal residual`, () => {
      const base = polynomial(() => 1);
      const { terms, residual, rSquared: share, F } = fit(base.map((y, i) => y + size * delta[i]));
      terms.forEach(({ estimate, standardError }, power) => {
        expect(digits(estimate!, 1)).toBeGreaterThanOrEqual(13);
        expect(digits(standardError!, errors[power] * size)).toBeGreaterThanOrEqual(13);
      });
      expect(digits(residual.sd!, sd)).toBeGreaterThanOrEqual(13);
      expect(digits(share!, rSquared)).toBeGreaterThanOrEqual(13);
      expect(digits(F.value!, f)).toBeGreaterThanOrEqual(13);
    });
  }
});

/**
 * NIST StRD, linear regression without a constant, average difficulty. The certified values are those of sums of whole
 * numbers, which are formed here, too.
 */
describe("NIST StRD, NoInt 1 and 2", () => {
  it.each([
    [
      "NoInt1",
      Array.from({ length: 11 }, (_, i) => 60 + i),
      Array.from({ length: 11 }, (_, i) => 130 + i),
      [2.07438016528926, 0.0165289256198347, 3.56753034006338, 0.999365492298663, 15750.25],
    ],
    [
      "NoInt2",
      [4, 5, 6],
      [3, 4, 4],
      [0.727272727272727, 0.0420827318078432, 0.369274472937998, 0.993348115299335, 298.666666666667],
    ],
  ] as const)("%s", (_, x, response, certified) => {
    const sum = (of: (x: number, y: number) => number) => x.reduce((total, one, i) => total + of(one, response[i]!), 0);
    const [xx, xy, yy] = [sum((a) => a * a), sum((a, b) => a * b), sum((__, b) => b * b)];
    const ms = (xx * yy - xy * xy) / xx / (x.length - 1);
    const byHand = [xy / xx, Math.sqrt(ms / xx), Math.sqrt(ms), (xy * xy) / (xx * yy), (xy * xy) / xx / ms];
    byHand.forEach((value, i) => expect(digits(value, certified[i]!)).toBeGreaterThan(14));
    const { terms, residual, rSquared, F } = regress({
      response,
      drivers: [{ kind: "number", name: "x", values: x, degree: 1 }],
      constant: false,
    });
    [terms[0].estimate!, terms[0].standardError!, residual.sd!, rSquared!, F.value!].forEach((value, i) =>
      expect(digits(value, certified[i])).toBeGreaterThanOrEqual(13),
    );
  });
});

describe("NIST StRD, sets with measured data", () => {
  it("Norris stands here as it is published", () => {
    const { x, y, coefficients, errors, sd, rSquared, F } = REFERENCE_SETS.Norris!;
    const published = nistFile("Norris");
    expect(published.rows).toEqual(y.map((value, i) => [value, x[0]![i]]));
    expect(published.coefficients).toEqual(coefficients.map((value, i) => [value, errors[i]]));
    expect([published.sd, published.rSquared, published.F]).toEqual([sd, rSquared, F]);
  });

  it.each(Object.keys(REFERENCE_SETS))("%s", (name) => {
    const { x, y, degree, coefficients, errors, sd, rSquared: share, F: ratio } = REFERENCE_SETS[name];
    const { terms, residual, rSquared, F } = regress({
      response: y,
      drivers: x.map((values, i) => ({ kind: "number", name: `x${i}`, values, degree })),
    });
    terms.forEach(({ estimate, standardError }, i) => {
      expect(digits(estimate!, coefficients[i])).toBeGreaterThanOrEqual(13);
      expect(digits(standardError!, errors[i])).toBeGreaterThanOrEqual(13);
    });
    expect(digits(residual.sd!, sd)).toBeGreaterThanOrEqual(13);
    expect(digits(rSquared!, share)).toBeGreaterThanOrEqual(13);
    expect(digits(F.value!, ratio)).toBeGreaterThanOrEqual(13);
  });
});

/**
 * What of the sets is quoted from memory, computed by R from the data on the spot. Orthogonal polynomials change
 * neither the residual nor what is explained, and keep R's least squares from losing Filip's digits.
 */
describe("what is quoted of the measured sets is what R finds", () => {
  let R: R;
  beforeAll(async () => void (R = await startR()));
  afterAll(() => R.close());

  it("in Longley's errors of coefficients", async () => {
    const { x, y, errors } = REFERENCE_SETS.Longley;
    const found = await R.numbers(`sqrt(diag(vcov(lm(${vector(y)} ~ ${x.map(vector).join(" + ")}))))`);
    found.forEach((error, i) => expect(digits(error, errors[i])).toBeGreaterThan(10));
  });

  it.each(["Pontius", "Filip"])("in %s's deviation, share and F", async (name) => {
    const { x, y, degree, sd, rSquared, F } = REFERENCE_SETS[name];
    const found = await R.numbers(`{
      s <- summary(lm(${vector(y)} ~ poly(${vector(x[0])}, ${degree})))
      c(s$sigma, s$r.squared, s$fstatistic[1])
    }`);
    found.forEach((value, i) => expect(digits(value, [sd, rSquared, F][i])).toBeGreaterThan(9));
  });
});

/**
 * NIST StRD, one-way analysis of variance, the nine sets of Simon & Lesage ("Assessing the accuracy of ANOVA
 * calculations in statistical software", Computational Statistics & Data Analysis 8 (1989) 325–332), from their closed
 * form: nine groups whose means lie 0.4, 0.3, 0.5, 0.3, 0.5 … above a base, in each one
 * value at the mean and the others 0.1 below and above it in turn. So the certified values follow by hand: a squared
 * residual deviation of 0.01, and F equal to the number of values in a group. The form gives the published files of all
 * nine value by value; those of 21 values a group stand in reference/nist and are compared here.
 */
describe("NIST StRD, SmLs01 to SmLs09", () => {
  const middles = [4, 3, 5, 3, 5, 3, 5, 3, 5];
  /** Of 21 values a group, by the base. */
  const PUBLISHED: Readonly<Record<number, string>> = { 1: "SmLs01", 1e6: "SmLs04", 1e12: "SmLs07" };
  for (const [base, values] of [1, 1e6, 1e12].flatMap((base) =>
    [21, 201, 2001].map((values) => [base, values] as const),
  )) {
    const groups = middles.flatMap((_, g) => new Array<number>(values).fill(g));
    // Tenths first, so that each is the double nearest to its decimal.
    const response = middles.flatMap((middle) =>
      Array.from({ length: values }, (_, i) => (base * 10 + middle + (i === 0 ? 0 : i % 2 ? -1 : 1)) / 10),
    );
    const fit = regress({
      response,
      drivers: [{ kind: "category", name: "group", values: groups, levels: middles.map((_, g) => `group ${g + 1}`) }],
    });

    it(`base ${base}, ${values} in a group: what the doubles say`, () => {
      const exact = exactAnova(response, values);
      for (const F of [fit.F, termTests(fit)[0].test]) {
        expect([F.df1, F.df2]).toEqual([8, 9 * (values - 1)]);
        expect(digits(F.value!, exact.F)).toBeGreaterThanOrEqual(13);
      }
      expect(digits(fit.residual.sd! ** 2, exact.within)).toBeGreaterThanOrEqual(13);
      expect(digits(fit.rSquared!, exact.share)).toBeGreaterThanOrEqual(13);
    });

    const name = PUBLISHED[base];
    if (values === 21 && name !== undefined)
      it(`base ${base}: the form and its values are those of the published file`, () => {
        const published = nistFile(name);
        expect(published.rows).toEqual(response.map((value, i) => [groups[i]! + 1, value]));
        expect(digits(21, published.F)).toBeGreaterThan(14);
        expect(digits(0.1, published.sd)).toBeGreaterThan(14);
        // NIST prints 15 digits, the last cut off.
        expect(digits(168 / 348, published.rSquared)).toBeGreaterThan(13.9);
      });

    it(`base ${base}, ${values} in a group: the certified values`, () => {
      // Half a unit in the last place of the base, over the spread of 0.1, is what rounding to doubles may have changed
      // before we see the numbers: 1e-15 at 1, 6e-10 at 1e6 and 6e-4 at 1e12; twice that, as squares are compared.
      const least = -Math.log10((base * Number.EPSILON) / 0.1) - 0.6;
      const certified = [values, 0.01, (8 * values) / (8 * values + 9 * (values - 1))];
      [fit.F.value!, fit.residual.sd! ** 2, fit.rSquared!].forEach((value, i) =>
        expect(digits(value, certified[i])).toBeGreaterThanOrEqual(Math.min(13, least)),
      );
    });
  }
});

/** Analysis of variance of equal groups in whole numbers: the doubles times a power of two. */
function exactAnova(response: readonly number[], values: number): { F: number; within: number; share: number } {
  const scale = 2n ** 60n;
  const exact = response.map((value) => {
    const below = Math.floor(value);
    return BigInt(below) * scale + BigInt((value - below) * 2 ** 60);
  });
  const n = BigInt(values);
  const sums = Array.from({ length: exact.length / values }, (_, g) =>
    exact.slice(g * values, (g + 1) * values).reduce((total, value) => total + value, 0n),
  );
  const groups = BigInt(sums.length);
  const squares = exact.reduce((total, value) => total + value * value, 0n);
  const ofSums = sums.reduce((total, sum) => total + sum * sum, 0n);
  const all = sums.reduce((total, sum) => total + sum, 0n);
  // Times n·groups: between and within.
  const between = groups * ofSums - all * all;
  const within = groups * (n * squares - ofSums);
  const ratio = (a: bigint, b: bigint) => Number((a * 10n ** 30n) / b) / 1e30;
  return {
    F: ratio(between * groups * (n - 1n), within * (groups - 1n)),
    within: ratio(within, n * groups * groups * (n - 1n) * scale * scale),
    share: ratio(between, between + within),
  };
}

describe("R's own data sets, fitted by R's lm in the same run", () => {
  let r: R;
  beforeAll(async () => {
    r = await startR();
  });
  afterAll(() => r.close());

  /** Columns of an R data frame, and lm's coefficient table, row by row, then sigma, R² and F. */
  async function compare(response: string, drivers: Driver[], formula: string, least: number) {
    const y = await r.numbers(response);
    const expected = await r.numbers(
      `{ s <- summary(lm(${formula})); c(t(s$coefficients), s$sigma, s$r.squared, s$fstatistic[1]) }`,
    );
    const { terms, residual, rSquared, F } = regress({ response: y, drivers });
    const found = [
      ...terms.flatMap(({ estimate, standardError, t, p }) => [estimate!, standardError!, t!, p!]),
      residual.sd!,
      rSquared!,
      F.value!,
    ];
    expect(found.length).toBe(expected.length);
    found.forEach((value, i) => expect(digits(value, expected[i])).toBeGreaterThanOrEqual(least));
  }
  const number = async (name: string, code: string, degree = 1): Promise<Driver> => ({
    kind: "number",
    name,
    values: await r.numbers(code),
    degree,
  });

  it("longley: six collinear drivers", async () => {
    const names = ["GNP.deflator", "GNP", "Unemployed", "Armed.Forces", "Population", "Year"];
    const drivers = await Promise.all(names.map((name) => number(name, `longley$${name}`)));
    // lm works in doubles: on this design (condition about 5e9 unscaled) it keeps some 9 digits itself.
    await compare("longley$Employed", drivers, "Employed ~ ., longley", 8);
  });

  it("mtcars: weighted by a column, plain and with the errors of HC3 from their definition", async () => {
    const response = await r.numbers("mtcars$mpg");
    const weights = await r.numbers("mtcars$qsec");
    const drivers = [await number("wt", "mtcars$wt"), await number("hp", "mtcars$hp")];
    const model = "m <- lm(mpg ~ wt + hp, mtcars, weights = qsec); s <- summary(m)";
    const plain = await r.numbers(
      `{ ${model}; c(s$coefficients[, 1], s$coefficients[, 2], s$sigma, s$r.squared, s$fstatistic[1]) }`,
    );
    const { terms, residual, rSquared, F } = regress({ response, drivers, weights });
    // R works in doubles.
    [
      ...terms.map(({ estimate }) => estimate!),
      ...terms.map(({ standardError }) => standardError!),
      residual.sd!,
      rSquared!,
      F.value!,
    ].forEach((value, i) => expect(digits(value, plain[i])).toBeGreaterThan(12));
    // HC3 (MacKinnon & White 1985): squared residuals over (1 − leverage)² between (XᵀWX)⁻¹XᵀW on both sides.
    const robust = await r.numbers(
      `{ ${model}; X <- model.matrix(m); w <- m$weights; b <- solve(t(X) %*% (w * X)); u <- w * residuals(m) / (1 - hatvalues(m)); sqrt(diag(b %*% t(X * u) %*% (X * u) %*% b)) }`,
    );
    regress({ response, drivers, weights, errors: { kind: "robust" } }).terms.forEach(({ standardError }, i) =>
      expect(digits(standardError!, robust[i])).toBeGreaterThan(11),
    );
  });

  it("cars: one driver that curves", async () => {
    await compare("cars$dist", [await number("speed", "cars$speed", 2)], "dist ~ speed + I(speed^2), cars", 11);
  });

  it("iris: a category of three levels beside a number", async () => {
    const species: Driver = {
      kind: "category",
      name: "Species",
      values: (await r.numbers("as.integer(iris$Species)")).map((level) => level - 1),
      levels: ["setosa", "versicolor", "virginica"],
    };
    await compare(
      "iris$Sepal.Length",
      [await number("Petal.Length", "iris$Petal.Length"), species],
      "Sepal.Length ~ Petal.Length + Species, iris",
      12,
    );
  });

  it("a p-value far out in the tail stays what it is", async () => {
    const x = Array.from({ length: 40 }, (_, i) => i);
    const y = x.map((v) => 3 * v + (v % 2 ? 1e-4 : -1e-4));
    const [expected] = await r.numbers(
      `summary(lm(y ~ x, list(x = ${vector(x)}, y = ${vector(y)})))$coefficients[2, 4]`,
    );
    const { p } = regress({ response: y, drivers: [{ kind: "number", name: "x", values: x, degree: 1 }] }).terms[1];
    expect(expected).toBeLessThan(1e-150);
    // R's residual in doubles carries a relative error of some 1e-11 here, and p goes as its 38th power.
    expect(digits(p!, expected)).toBeGreaterThanOrEqual(7);
  });
});
