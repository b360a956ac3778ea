/** A picked reading joined with what was to be expected. */
import { describe, expect, it } from "vitest";
import { joined } from "../../../src/statistics/measure/expected";
import { normalLower } from "../../../src/statistics/distributions/normal";
import { randomOf } from "../../../src/statistics/numeric/drawer";

const expected = { value: 0.8, standard: 0.12 };

describe("joined", () => {
  it("is the precision-weighted mean of a reading and the expectation", () => {
    const one = joined({ expected, reading: { value: 1.1, standard: 0.05 } });
    const share = 0.12 ** 2 / (0.12 ** 2 + 0.05 ** 2);
    expect(one.value).toBeCloseTo(0.8 + share * 0.3, 6);
    expect(one.standard).toBeCloseTo(Math.sqrt(share) * 0.05, 6);
    expect(one.chanceOf(1)).toBeCloseTo(normalLower((one.value - 1) / one.standard), 5);
    expect(one.quantile(0.975)).toBeCloseTo(one.value + 1.959964 * one.standard, 4);
  });

  it("is the truncated normal where an exact bound was passed", () => {
    // E(Y | Y ≥ b) = μ + σ·φ(z)/(1 − Φ(z)), z = (b − μ)/σ: Johnson, Kotz & Balakrishnan (1994), 13.10.
    const z = (1 - 0.8) / 0.12;
    const hazard = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI) / (1 - normalLower(z));
    const one = joined({ expected, atLeast: { value: 1, standard: 0 } });
    expect(one.value).toBeCloseTo(0.8 + 0.12 * hazard, 3);
    expect(one.chanceOf(1)).toBeGreaterThan(0.99);
    expect(one.chanceOf(1.1)).toBeCloseTo((1 - normalLower(0.3 / 0.12)) / (1 - normalLower(z)), 2);
  });

  it("holds what it says when the largest of many readings is picked, where the reading alone does not", () => {
    const random = randomOf(5);
    const times = 2000;
    let [own, alone] = [0, 0];
    for (let k = 0; k < times; k++) {
      const tries = Array.from({ length: 200 }, () => 0.8 + 0.12 * random.normal());
      const read = tries.map((y) => y + 0.08 * random.normal());
      const best = read.indexOf(Math.max(...read));
      const one = joined({ expected, reading: { value: read[best]!, standard: 0.08 } });
      if (tries[best]! >= one.quantile(0.1)) own++;
      if (tries[best]! >= read[best]! - 1.2815516 * 0.08) alone++;
    }
    // Standard error of a share of 0.9 over 2000: 0.007.
    expect(Math.abs(own / times - 0.9)).toBeLessThan(0.025);
    expect(alone / times).toBeLessThan(0.5);
  });

  it("stays finite where the bound lies far beyond what was expected", () => {
    const one = joined({ expected, atLeast: { value: 3, standard: 0.02 } });
    expect(one.value).toBeGreaterThan(2.5);
    expect(one.value).toBeLessThan(3.1);
    expect(() => joined({ expected: { value: 1, standard: 0 } })).toThrow("spread of 0");
  });
});
