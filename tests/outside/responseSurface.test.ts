/**
 * A published response surface: yield of a chemical process over reaction time and temperature in a composite plan of
 * 13 runs. Montgomery, Design and Analysis of Experiments, 5th ed. (2001), table 11-6 and section 11-3: fitted surface
 * 79.94 + 0.995 x₁ + 0.515 x₂ − 1.376 x₁² − 1.001 x₂² + 0.250 x₁x₂, stationary point x₁ = 0.389, x₂ = 0.306 with a
 * predicted yield of 80.21. Data and results quoted from memory; R computes the printed results from the data.
 */
import { describe, expect, it } from "vitest";
import { findTrialLogs } from "../../src/experiment/log/trialLog";
import { whatNext } from "../../src/experiment/next/whatNext";
import { compositeDesign } from "../../src/statistics/design/compositeDesign";
import { startR, vector } from "./r";
import { sheetOf } from "../../scripts/evidence/sheetOf";

const A = 1.414;
const RUNS = [
  [-1, -1, 76.5],
  [-1, 1, 77],
  [1, -1, 78],
  [1, 1, 79.5],
  [0, 0, 79.9],
  [0, 0, 80.3],
  [0, 0, 80],
  [0, 0, 79.7],
  [0, 0, 79.8],
  [A, 0, 78.4],
  [-A, 0, 75.6],
  [0, A, 78.5],
  [0, -A, 77],
];

describe("Montgomery's chemical process", () => {
  const [log] = findTrialLogs(sheetOf([["Time", "Heat", "Yield"], ...RUNS], { sheet: "Runs" }));
  const choice = {
    response: "Yield",
    drivers: ["Time", "Heat"].map((heading) => ({ heading, as: "number" as const, degree: 1 })),
    joint: [],
    constant: true,
    confidence: 0.95,
  };
  const next = whatNext(log, choice, {
    aim: "most",
    limits: { Time: { low: -A, high: A }, Heat: { low: -A, high: A } },
    held: {},
    physics: undefined,
  });

  it("is printed as R computes it", async () => {
    const R = await startR();
    const found = await R.numbers(`{
      runs <- matrix(${vector(RUNS.flat())}, ncol = 3, byrow = TRUE)
      x <- runs[, 1]; z <- runs[, 2]
      b <- coef(lm(runs[, 3] ~ x + z + I(x^2) + I(z^2) + I(x * z)))
      top <- solve(matrix(c(2 * b[4], b[6], b[6], 2 * b[5]), 2), -b[2:3])
      c(b, top, b[1] + sum(b[2:3] * top) / 2)
    }`);
    const printed = [79.94, 0.995, 0.515, -1.376, -1.001, 0.25, 0.389, 0.306, 80.21];
    // To the digits that are printed; the point was computed from rounded coefficients.
    found.forEach((value, i) => expect(Math.abs(value - printed[i])).toBeLessThan([0, 8].includes(i) ? 0.0051 : 0.002));
    await R.close();
  });

  it("has the printed coefficients", () => {
    // Printed to three decimals, the constant to two; the star of the data to three, which moves the last.
    const printed = [79.94, 0.995, -1.376, 0.515, -1.001, 0.25];
    next.analysis.regression.terms.forEach(({ estimate }, i) =>
      expect(Math.abs(estimate! - printed[i])).toBeLessThan(0.0006 + (i === 0 ? 0.005 : 0)),
    );
  });

  it("has its highest prediction at the printed stationary point", () => {
    const [time, heat] = next.highest.settings.map(({ value }) => value as number);
    // Printed to three decimals from rounded coefficients.
    expect(Math.abs(time - 0.389)).toBeLessThan(0.002);
    expect(Math.abs(heat - 0.306)).toBeLessThan(0.002);
    expect(next.highest.mean.value).toBeCloseTo(80.21, 2);
  });

  it("was shot by a plan that this program makes: turnable, with five centres", () => {
    const { points } = compositeDesign(2, "turning", [5, 0]);
    const key = (place: readonly number[]) =>
      place.map((value) => value.toFixed(3).replace("-0.000", "0.000")).join(" ");
    expect(points.map(key).sort()).toEqual(RUNS.map(([x, y]) => key([x, y])).sort());
  });
});
