/**
 * Non-linear least squares against a certified set: NIST Statistical Reference Datasets, Misra1a (monomolecular
 * adsorption, y = b₁ (1 − e^(−b₂ x)), 14 observations; certified to 11 digits). Rows and values are from memory: the
 * certified sum of squares, which any wrong digit of a row would change, says that the rows are right, and R computes
 * the rest.
 */
import { describe, expect, it } from "vitest";
import { digits, startR, vector } from "./r";
import { nonlinearFit } from "../../src/statistics/fit/nonlinearFit";

const X = [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0];
const Y = [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78];
const CERTIFIED = {
  b1: 238.94212918,
  b2: 5.5015643181e-4,
  squares: 0.12455138894,
  sd1: 2.7070075241,
  sd2: 7.2668688436e-6,
};

const residual = (b1: number, b2: number, i: number) => Y[i]! - b1 * (1 - Math.exp(-b2 * X[i]!));
const from = (b1: number, b2: number) => [
  { start: b1, low: 0, high: 1e4, scale: 100 },
  { start: b2, low: 0, high: 1, scale: 1e-4 },
];

describe("Misra1a", () => {
  it("is certified as R fits it", async () => {
    const R = await startR();
    const found = await R.numbers(`{
      x <- ${vector(X)}
      y <- ${vector(Y)}
      curve <- deriv(~ a * (1 - exp(-b * x)), c("a", "b"), function(a, b, x) NULL)
      fit <- nls(y ~ curve(a, b, x), start = list(a = 250, b = 5e-4), control = nls.control(tol = 1e-7))
      c(coef(fit), deviance(fit), sqrt(diag(vcov(fit))))
    }`);
    const { b1, b2, squares, sd1, sd2 } = CERTIFIED;
    [b1, b2, squares, sd1, sd2].forEach((value, i) => expect(digits(found[i], value)).toBeGreaterThan(9));
    await R.close();
  });

  // NIST's own two starts, the far one and the near one.
  it.each([
    [500, 0.0001],
    [250, 0.0005],
  ])("comes out as certified from (%f, %f)", (b1, b2) => {
    const fit = nonlinearFit(([a = 0, b = 0]) => X.map((_, i) => residual(a, b, i)), from(b1, b2));
    // A fit rests where a step is 1e-8 of a scale; seven digits are what the curvature leaves of that.
    expect(fit.estimates[0]! / CERTIFIED.b1).toBeCloseTo(1, 6);
    expect(fit.estimates[1]! / CERTIFIED.b2).toBeCloseTo(1, 6);
    expect(fit.squares / CERTIFIED.squares).toBeCloseTo(1, 9);
    // The certified standard deviations, from the Jacobian that is given per scale.
    const [[a, b], [, d]] = [0, 1].map((k) =>
      [0, 1].map((l) => fit.jacobian.reduce((sum, row) => sum + row[k]! * row[l]!, 0)),
    ) as [number[], number[]];
    const variance = fit.squares / (X.length - 2);
    const whole = a! * d! - b! * b!;
    expect((100 * Math.sqrt((variance * d!) / whole)) / CERTIFIED.sd1).toBeCloseTo(1, 5);
    expect((1e-4 * Math.sqrt((variance * a!) / whole)) / CERTIFIED.sd2).toBeCloseTo(1, 5);
  });

  it("is the same with a row counted four times and with a row of four times the weight", () => {
    const rows = [...X.keys(), 13, 13, 13];
    const repeated = nonlinearFit(([a = 0, b = 0]) => rows.map((i) => residual(a, b, i)), from(250, 0.0005));
    const weighted = nonlinearFit(
      ([a = 0, b = 0]) => X.map((_, i) => (i === 13 ? 2 : 1) * residual(a, b, i)),
      from(250, 0.0005),
    );
    expect(weighted.estimates[0]! / repeated.estimates[0]!).toBeCloseTo(1, 7);
    expect(weighted.squares / repeated.squares).toBeCloseTo(1, 9);
    expect(weighted.estimates[0]).not.toBeCloseTo(CERTIFIED.b1, 2);
  });
});
