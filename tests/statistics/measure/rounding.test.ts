/** Rounded readings: what rounding does to two of them, against sums over the ruler's lines. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { normalLower } from "../../../src/statistics/distributions/normal";
import { roundingOfMean, scatterBehind, sharedRounding, shownVariance } from "../../../src/statistics/measure/rounding";
import { carefullyCombined, expandedUncertainty } from "../../../src/statistics/measure/uncertainty";

/**
 * Mean over places of the value of what readings of one place are expected to be squared, by the chance of each line.
 */
function variancesOf(sd: number): { readonly shown: number; readonly ofMeanError: number } {
  const places = 2000;
  let [shown, ofMeanError] = [0, 0];
  for (let i = 0; i < places; i++) {
    const at = (i + 0.5) / places - 0.5;
    let [mean, square] = [0, 0];
    for (let line = -40; line <= 40; line++) {
      const chance = normalLower((line + 0.5 - at) / sd) - normalLower((line - 0.5 - at) / sd);
      mean += chance * line;
      square += chance * line * line;
    }
    shown += (square - mean * mean) / places;
    ofMeanError += (mean - at) ** 2 / places;
  }
  return { shown, ofMeanError };
}

describe("rounding", () => {
  // Readings of one place are independent given the place, so what two share is the mean square of their expected
  // error.
  it.each([0.05, 0.1, 0.25, 0.5, 1, 3])(
    "is shared by readings that scatter by %f divisions as their expected error says",
    (sd) => {
      const { shown, ofMeanError } = variancesOf(sd);
      expect(sharedRounding(sd, 1)).toBeCloseTo(ofMeanError, 6);
      expect(shownVariance(sd, 1)).toBeCloseTo(shown, 5);
    },
  );

  it("goes with the division squared, and is all shared without scatter", () => {
    expect(sharedRounding(0, 2)).toBeCloseTo(4 / 12, 12);
    expect(sharedRounding(1e-6, 1)).toBeCloseTo(1 / 12, 5);
    expect(sharedRounding(0.3, 2)).toBeCloseTo(4 * sharedRounding(0.15, 1), 12);
    expect(roundingOfMean(5, 1, 4)).toBeCloseTo(1 / 48, 12);
    expect(sharedRounding(1, 0)).toBe(0);
  });

  it("leads back from what is shown to what is behind it", () =>
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 5, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        (sd, division) => {
          fc.pre(division === 0 || sd > 0.1 * division);
          expect(scatterBehind(shownVariance(sd, division), division)).toBeCloseTo(sd, 6);
        },
      ),
      { seed: 3 },
    ));
});

describe("parts that rest on few readings", () => {
  it("have an interval that is the root of the sum of their own squared", () =>
    fc.assert(
      fc.property(
        fc.array(
          fc.record({ standard: fc.double({ min: 0.01, max: 10, noNaN: true }), df: fc.integer({ min: 1, max: 50 }) }),
          { minLength: 1, maxLength: 4 },
        ),
        fc.double({ min: 0, max: 10, noNaN: true }),
        (parts, known) => {
          const all = [...parts, { standard: known, df: Infinity }];
          const found = carefullyCombined(all);
          const wide = Math.hypot(...all.map((one) => expandedUncertainty(one, 0.95)));
          expect(expandedUncertainty(found, 0.95) / wide).toBeCloseTo(1, 6);
        },
      ),
      { seed: 4, numRuns: 50 },
    ));
  it("are known without end where every part is", () =>
    expect(
      carefullyCombined([
        { standard: 3, df: Infinity },
        { standard: 4, df: Infinity },
      ]),
    ).toEqual({ standard: 5, df: Infinity }));
});
