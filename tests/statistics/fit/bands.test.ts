/** Bands for a whole curve, and the envelope of residuals: what they promise, by simulation. */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../scripts/samples/random";
import { curveBand, curveFactor } from "../../../src/statistics/fit/curveBand";
import { fisherQuantile, fisherUpper, studentQuantile } from "../../../src/statistics/distributions/distributions";
import { effectLine } from "../../../src/statistics/fit/effectLine";
import { regress } from "../../../src/statistics/fit/regression";
import { residualEnvelope, type EnvelopeQuestion } from "../../../src/statistics/checks/residualEnvelope";

describe("Fisher's quantile", () => {
  it.each([
    [0.95, 1, 10],
    [0.99, 3, 2.5],
    [0.5, 7, 400],
    [0.9, 2, 1e6],
  ])("at %d with %d and %d degrees of freedom undoes the tail", (probability, df1, df2) => {
    // The inverse incomplete beta is good to about 1e-14 of its argument, which df2 / df1 magnifies.
    expect(fisherUpper(fisherQuantile(probability, df1, df2), df1, df2)).toBeCloseTo(1 - probability, 9);
  });
});

describe("the band of a whole line", () => {
  it("for one direction is Student's interval", () => {
    expect(curveFactor(0.95, 1, 12)).toBeCloseTo(studentQuantile(0.95, 12), 10);
  });

  it("covers the whole true line as often as it says, where the interval at each place does not", () => {
    const { normal } = seededRandom(11);
    const x = Array.from({ length: 12 }, (_, i) => i);
    const runs = 2000;
    let [whole, pointwise] = [0, 0];
    for (let run = 0; run < runs; run++) {
      const regression = regress({
        response: x.map((at) => 3 - 0.5 * at + normal()),
        drivers: [{ kind: "number", name: "x", values: x, degree: 1 }],
      });
      const { x: places, estimates } = effectLine(regression, 0);
      const band = curveBand(regression, 0, estimates);
      const truth = places.map((at) => 3 - 0.5 * at);
      if (band.every((one, i) => one && one.low <= truth[i] && truth[i] <= one.high)) whole++;
      if (estimates.every((one, i) => one && one.low! <= truth[i] && truth[i] <= one.high!)) pointwise++;
    }
    // Four standard errors of a share of 0.95 over 2,000 runs are 0.02; over a stretch of the line the band covers a
    // little more.
    expect(whole / runs).toBeGreaterThan(0.93);
    expect(whole / runs).toBeLessThan(0.98);
    expect(pointwise / runs).toBeLessThan(0.92);
  });

  it("is not there without a spread, and refuses a category", () => {
    const regression = regress({
      response: [1, 2],
      drivers: [{ kind: "number", name: "x", values: [0, 1], degree: 1 }],
    });
    expect(curveBand(regression, 0, effectLine(regression, 0).estimates)).toEqual(new Array(41).fill(undefined));
    const levels = regress({
      response: [1, 2, 3],
      drivers: [{ kind: "category", name: "cloth", values: [0, 1, 1], levels: ["new", "worn"] }],
    });
    expect(() => curveBand(levels, 0, [])).toThrow("cloth is a category");
  });
});

describe("the envelope of residuals", () => {
  const made = (question: EnvelopeQuestion) => {
    const steps = residualEnvelope(question);
    for (;;) {
      const { done, value } = steps.next();
      if (done) return value;
    }
  };
  const x = Array.from({ length: 30 }, (_, i) => i % 10);
  const question = (noise: () => number) => ({
    response: x.map((at) => at + noise()),
    drivers: [{ kind: "number" as const, name: "x", values: x, degree: 1 }],
  });

  it("tells a share that grows with every draw and never reaches the whole", () => {
    const { normal } = seededRandom(6);
    const shares = [...residualEnvelope({ question: question(normal), seed: 3, draws: 19 })];
    // Each draw is made twice.
    expect(shares).toHaveLength(38);
    expect(shares.every((share, i) => share < 1 && (i === 0 || share > shares[i - 1]!))).toBe(true);
  });

  it("holds all points of normal scatter as often as it says", () => {
    const { normal } = seededRandom(5);
    const runs = 300;
    let inside = 0;
    for (let seed = 0; seed < runs; seed++)
      if (made({ question: question(normal), seed, draws: 199 })!.outside.length === 0) inside++;
    // Four standard errors of a share of 0.95 over 300 runs are 0.05.
    expect(inside / runs).toBeGreaterThan(0.9);
    expect(inside / runs).toBeLessThan(1);
  });

  it("points at a row unlike the rest, comes again from its seed, and keeps to the ranks that can be drawn", () => {
    const { normal } = seededRandom(6);
    let row = 0;
    const envelope = made({ question: question(() => normal() + (row++ === 17 ? 12 : 0)), seed: 1, draws: 199 })!;
    expect(envelope.outside).toContain(17);
    const longer = { response: Array.from({ length: 900 }, () => normal()), drivers: [] };
    const first = made({ question: longer, seed: 3, draws: 199 })!;
    expect(first.x).toHaveLength(400);
    expect(made({ question: longer, seed: 3, draws: 199 })).toEqual(first);
  });

  it("is not there with too few rows to spare", () => {
    expect(
      made({
        question: { response: [1, 2, 4, 5], drivers: [{ kind: "number", name: "x", values: [1, 2, 3, 4], degree: 1 }] },
        seed: 1,
      }),
    ).toBeUndefined();
  });
});
