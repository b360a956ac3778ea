/** Tails, quantiles and the intervals made of them against R, run in the test. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  betaQuantile,
  chiSquareQuantile,
  chiSquareUpper,
  fisherUpper,
  normalQuantile,
  studentQuantile,
  studentTwoSided,
} from "../../src/statistics/distributions/distributions";
import { normalTwoSided } from "../../src/statistics/distributions/normal";
import { proportion } from "../../src/statistics/measure/proportion";
import { spread } from "../../src/statistics/measure/spread";
import { digits, startR, vector, type R } from "./r";

let r: R;
beforeAll(async () => {
  r = await startR();
});
afterAll(() => r.close());

describe("tails and quantiles", () => {
  // Both sides work in doubles by different algorithms; 10 digits is far more than any printed interval shows.
  const least = 10;

  it.each([
    [2, 5],
    [40, 3],
    [40, 100],
    [0.001, 7],
    [8, 1e6],
    [300, 50],
    [2.5, 2.3],
  ])("Student's t = %f on %f", async (t, df) => {
    expect(digits(studentTwoSided(t, df), (await r.numbers(`2 * pt(-${t}, ${df})`))[0])).toBeGreaterThan(least);
  });
  it.each([
    [0.95, 1],
    [0.95, 4.5],
    [0.99, 29],
    [0.99, 31],
    [0.9999, 100],
    [0.5, 5000],
    [0.95, 1e6],
  ])("Student's quantile, %f on %f", async (confidence, df) => {
    expect(
      digits(
        studentQuantile(confidence, df),
        (await r.numbers(`qt(${1 - confidence} / 2, ${df}, lower.tail = FALSE)`))[0],
      ),
    ).toBeGreaterThan(least);
  });
  it.each([
    [2, 3, 50],
    [100, 5, 20],
    [1e5, 3, 40],
    [0.01, 2, 9],
    [5000, 4, 300],
  ])("Fisher's F = %f on %f and %f", async (f, df1, df2) => {
    expect(
      digits(fisherUpper(f, df1, df2), (await r.numbers(`pf(${f}, ${df1}, ${df2}, lower.tail = FALSE)`))[0]),
    ).toBeGreaterThan(least);
  });
  it.each([
    [0.025, 1],
    [0.975, 3],
    [0.025, 100],
    [0.995, 5000],
  ])("chi-square quantile %f on %f", async (p, df) => {
    expect(digits(chiSquareQuantile(p, df), (await r.numbers(`qchisq(${p}, ${df})`))[0])).toBeGreaterThan(least);
  });
  it.each([
    [0.025, 3, 8],
    [0.975, 50, 51],
    [0.5, 300, 700],
  ])("beta quantile %f of (%f, %f)", async (p, a, b) => {
    expect(digits(betaQuantile(p, a, b), (await r.numbers(`qbeta(${p}, ${a}, ${b})`))[0])).toBeGreaterThan(least);
  });
  it("1e-300 stays 1e-300", async () => {
    const found = [
      studentTwoSided(7e6, 50),
      studentTwoSided(440, 200),
      fisherUpper(1e13, 3, 50),
      chiSquareUpper(1370, 1),
      chiSquareUpper(1390, 5),
      normalTwoSided(37),
    ];
    const expected = await r.numbers(
      "c(2 * pt(-7e6, 50), 2 * pt(-440, 200), pf(1e13, 3, 50, lower.tail = FALSE), pchisq(1370, 1, lower.tail = FALSE), pchisq(1390, 5, lower.tail = FALSE), 2 * pnorm(-37))",
    );
    expect(Math.max(...expected)).toBeLessThan(1e-280);
    expect(Math.min(...expected)).toBeGreaterThan(0);
    found.forEach((value, i) => expect(digits(value, expected[i])).toBeGreaterThan(least));
  });
  it.each([0.975, 0.5, 0.01])("normal quantile %f", async (p) => {
    expect(normalQuantile(p)).toBeCloseTo((await r.numbers(`qnorm(${p})`))[0], 9);
  });
});

describe("intervals", () => {
  it.each([
    [7, 10, 0.95],
    [0, 12, 0.95],
    [12, 12, 0.9],
    [123, 240, 0.99],
    [1, 1, 0.95],
  ])("success rate %i of %i at %f: R's binom.test", async (made, tries, confidence) => {
    const [low, high] = await r.numbers(`binom.test(${made}, ${tries}, conf.level = ${confidence})$conf.int`);
    const found = proportion(made, tries, confidence);
    // R solves for the limits with uniroot, whose stated tolerance is about 1e-8 relative.
    expect(found.low).toBeCloseTo(low, 7);
    expect(found.high).toBeCloseTo(high, 7);
  });

  it("mean and standard deviation of a sample: R's t.test and the chi-square interval", async () => {
    const values = [1.02, 0.87, 1.11, 0.95, 1.2, 0.78, 1.05, 0.99];
    const expected = await r.numbers(
      `{ x <- ${vector(values)}; n <- length(x); c(mean(x), t.test(x, conf.level = 0.9)$conf.int, sd(x), sd(x) * sqrt((n - 1) / qchisq(c(0.95, 0.05), n - 1))) }`,
    );
    const { mean, meanInterval, standardDeviation, standardDeviationInterval } = spread(values, 0.9);
    const found = [
      mean,
      meanInterval.low,
      meanInterval.high,
      standardDeviation,
      standardDeviationInterval.low,
      standardDeviationInterval.high,
    ];
    found.forEach((value, i) => expect(digits(value, expected[i])).toBeGreaterThan(10));
  });
});
