/** Uncertainty of measurement against the guide's own worked example. */
import { describe, expect, it } from "vitest";
import { bendUncertainty } from "../../src/experiment/measure/bendUncertainty";
import { combinedUncertainty, expandedUncertainty, probabilityAbove } from "../../src/statistics/measure/uncertainty";
import { digits, startR, vector } from "./r";

/**
 * JCGM 100:2008, H.1, end-gauge calibration. Contributions in nm with their degrees of freedom as in its table H.1,
 * quoted from memory; the printed results are u_c = 32 nm, 16 effective degrees of freedom (truncated), U_99 = 93 nm,
 * which R computes from them.
 */
describe("GUM H.1, end gauge", () => {
  const parts = [
    { standard: 25, df: 18 },
    { standard: 9.7, df: 25.6 },
    { standard: 2.9, df: 50 },
    { standard: 16.6, df: 2 },
  ];
  const combined = combinedUncertainty(parts);
  it("is combined as R does", async () => {
    const R = await startR();
    const [standard, df, expanded] = await R.numbers(`{
      u <- ${vector(parts.map((part) => part.standard))}
      c(sqrt(sum(u^2)), sum(u^2)^2 / sum(u^4 / ${vector(parts.map((part) => part.df))}), 32 * qt(0.995, 16))
    }`);
    expect(digits(combined.standard, standard)).toBeGreaterThan(14);
    expect(digits(combined.df, df)).toBeGreaterThan(14);
    expect(digits(expandedUncertainty({ standard: 32, df: 16 }, 0.99), expanded)).toBeGreaterThan(13);
    await R.close();
  });
  it("u_c is 32 nm on 16 degrees of freedom", () => {
    expect(Math.round(combined.standard)).toBe(32);
    expect(Math.floor(combined.df)).toBe(16);
  });
  it("U_99 is 93 nm", () => {
    // The guide multiplies the rounded 32 nm by t on the truncated 16 degrees of freedom.
    expect(Math.round(expandedUncertainty({ standard: 32, df: 16 }, 0.99))).toBe(93);
  });
});

describe("exact relations", () => {
  it("a ruler read to d alone is uniform: d/√12", () => {
    expect(
      bendUncertainty({
        readings: [0.5],
        ballDiameter: 2.25,
        rulerDivision: 1 / 16,
        markError: 0,
        ballTolerance: 0,
        alignmentError: 0,
      }),
    ).toMatchObject({ bend: 0.625, standard: 1 / 16 / Math.sqrt(12), df: Infinity });
  });
  it("repeated readings lower it: s/√n beside the rest", () => {
    const { standard, df } = bendUncertainty({
      readings: [0.5, 0.5625, 0.5, 0.4375],
      ballDiameter: 2.25,
      rulerDivision: 0,
      markError: 0,
      ballTolerance: 0,
      alignmentError: 0,
    });
    expect(standard).toBeCloseTo(Math.sqrt((2 * 0.0625 ** 2) / 3) / 2, 14);
    expect(df).toBeCloseTo(3, 12);
  });
  it("half of the probability lies above the estimate; 97.5 % above 1.96 standard uncertainties below it", () => {
    expect(probabilityAbove(1, { standard: 0.1, df: 5 }, 1)).toBe(0.5);
    expect(probabilityAbove(1, { standard: 0.1, df: Infinity }, 1 - 0.1959963984540054)).toBeCloseTo(0.975, 10);
    // Student's t on 1 degree of freedom: P(T > 1) = 1/4 exactly.
    expect(probabilityAbove(0, { standard: 1, df: 1 }, 1)).toBeCloseTo(0.25, 14);
  });
});
