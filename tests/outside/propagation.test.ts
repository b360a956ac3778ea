/**
 * Propagation of distributions and conformity against the guides' own examples. Printed values quoted from memory;
 * those of the sums, R computes from the distribution of a sum of rectangular parts.
 */
import { describe, expect, it } from "vitest";
import { startR } from "./r";
import { drawnBend, bendUncertainty } from "../../src/experiment/measure/bendUncertainty";
import { completed } from "../../src/experiment/language/completed";
import {
  agreement,
  numericalTolerance,
  propagate,
  type Input,
  type Propagated,
} from "../../src/statistics/measure/propagation";
import { expandedUncertainty, guardBand, probabilityAbove } from "../../src/statistics/measure/uncertainty";
import { studentQuantile } from "../../src/statistics/distributions/distributions";

const DRAWS = 1_000_000;
function drawn(inputs: readonly Input[], seed = 1): Propagated {
  return completed(
    propagate(inputs, (values) => values.reduce((sum, value) => sum + value, 0), {
      draws: DRAWS,
      seed,
      confidence: 0.95,
    }),
  );
}
const flat = (halfWidth: number): Input => ({ kind: "uniform", low: -halfWidth, high: halfWidth });
const bell: Input = { kind: "normal", mean: 0, standard: 1 };
const ROOT = Math.sqrt(3);

describe("JCGM 101:2008, 9.2, the sum of four inputs", () => {
  // Table 2: four standard normals. u = 2.00, interval ± 3.92.
  it("of four normals", () => {
    const found = drawn([bell, bell, bell, bell]);
    // A million draws: standard error of u is 2/√(2·10⁶) = 0.0014, of the ends about 0.006.
    expect(found.standard).toBeCloseTo(2, 2);
    expect(found.low).toBeCloseTo(-3.92, 1);
    expect(found.high).toBeCloseTo(3.92, 1);
  });
  // Table 3: four rectangular of unit variance. u = 2.00, ± 3.88 where the law of propagation gives ± 3.92.
  it("of four rectangular", () => {
    const found = drawn([flat(ROOT), flat(ROOT), flat(ROOT), flat(ROOT)]);
    expect(found.standard).toBeCloseTo(2, 2);
    expect(Math.abs(found.high - 3.88)).toBeLessThan(0.02);
    expect(Math.abs(found.low + 3.88)).toBeLessThan(0.02);
    expect(Math.abs(found.shortest[1] - found.shortest[0] - 2 * 3.88)).toBeLessThan(0.03);
  });
  // Table 4: one of them ten times as wide. u = 10.1, ± 17.0 where the law of propagation gives ± 19.9.
  it("is printed as the exact distribution of a sum has it", async () => {
    const R = await startR();
    // Irwin, Biometrika 19 (1927) 225–239, and Hall, ibid. 240–244: the sum of n parts between 0 and 1.
    const found = await R.numbers(`{
      part <- function(x, n, power) {
        t <- (x / sqrt(3) + n) / 2
        sum((-1)^(0:n) * choose(n, 0:n) * pmax(t - 0:n, 0)^power) / factorial(power)
      }
      wide <- 10 * sqrt(3)
      four <- function(q) part(q, 4, 4)
      below <- function(q) (part(q + wide, 3, 4) - part(q - wide, 3, 4)) * 2 * sqrt(3) / (2 * wide)
      upper <- function(cdf) uniroot(function(q) cdf(q) - 0.975, c(0, 20), tol = 1e-9)$root
      c(upper(pnorm) * 2, upper(four), sqrt(3 + 100), upper(below), qnorm(0.975) * sqrt(103))
    }`);
    expect(found.map((value, i) => Number(value.toFixed(i < 2 ? 2 : 1)))).toEqual([3.92, 3.88, 10.1, 17, 19.9]);
    await R.close();
  });
  it("with one that is ten times as wide", () => {
    const found = drawn([flat(ROOT), flat(ROOT), flat(ROOT), flat(10 * ROOT)]);
    expect(Math.abs(found.standard - 10.1)).toBeLessThan(0.06);
    expect(Math.abs(found.high - 17)).toBeLessThan(0.06);
    expect(agreement(0, 1.96 * 10.15, 10.15, found, 2).agrees).toBe(false);
  });
  it("numerical tolerances, 7.9.2: 0.000 35 g to two digits gives 0.000 005 g, 2 K to one digit 0.5 K", () => {
    expect(numericalTolerance(0.00035, 2)).toBe(0.000005);
    expect(numericalTolerance(2, 1)).toBe(0.5);
  });
});

describe("exact distributions", () => {
  // A million draws; the ends of the interval of t on 3 degrees of freedom have a standard error of about 0.02.
  it("Student's t on few degrees of freedom", () => {
    const found = drawn([{ kind: "t", mean: 0, scale: 1, df: 3 }]);
    expect(Math.abs(found.high - studentQuantile(0.95, 3))).toBeLessThan(0.08);
    const one = drawn([{ kind: "t", mean: 0, scale: 1, df: 1 }]);
    expect(Math.abs(one.high / studentQuantile(0.95, 1) - 1)).toBeLessThan(0.03);
  });
  it("a bend's budget by drawing and by the law of propagation, where one rectangular part rules", () => {
    const budget = {
      readings: [0.25],
      ballDiameter: 2.25,
      rulerDivision: 1 / 16,
      markError: 0,
      ballTolerance: 0,
      alignmentError: 0,
    };
    const found = completed(drawnBend(budget, { draws: 200_000, seed: 3, confidence: 0.95 }));
    const { bend, standard, df } = bendUncertainty(budget);
    // A rectangle of half-width 1/32 holds 95 % within 0.95/32; the bell says 1.96/(32√3).
    expect(found.high - bend).toBeCloseTo(0.95 / 32, 3);
    expect(agreement(bend, expandedUncertainty({ standard, df }, 0.95), standard, found, 2).agrees).toBe(false);
  });
});

describe("JCGM 106:2012", () => {
  // Section 7, example of a Zener diode: y = −5.47 V, u = 0.05 V, at most −5.40 V wanted; the printed probability is
  // Φ(1.40) = 0.92.
  it("a breakdown voltage against one limit", () =>
    expect(1 - probabilityAbove(-5.47, { standard: 0.05, df: Infinity }, -5.4)).toBeCloseTo(0.919, 3));
  // 8.3.2: a guard band of U = 2u keeps the risk of accepting wrongly at or below 2.3 %.
  it("a guard band of 2u leaves 2.3 %", () => {
    expect(guardBand({ standard: 1, df: Infinity }, 0.97725)).toBeCloseTo(2, 4);
    expect(probabilityAbove(2, { standard: 1, df: Infinity }, 0)).toBeCloseTo(0.97725, 5);
  });
  it("beyond its guard band a target is beaten with just the probability, on any degrees of freedom", () => {
    for (const df of [2, 7, Infinity])
      for (const p of [0.8, 0.95, 0.999])
        expect(probabilityAbove(1 + guardBand({ standard: 0.03, df }, p), { standard: 0.03, df }, 1)).toBeCloseTo(p, 9);
  });
});
