/**
 * Least squares from sums over the rows instead of the rows: what a set that no machine holds leaves behind. Seber and
 * Lee, Linear Regression Analysis (2003), section 11.5: with the deviations from the means, S = Σ (x − x̄)(x − x̄)ᵀ and
 * s = Σ (x − x̄)(y − ȳ), the slopes are S⁻¹ s and the constant is ȳ − x̄ᵀ S⁻¹ s.
 */
import { fisherUpper, studentQuantile, studentTwoSided } from "../distributions/distributions";
import { inner, invertDefinite, timesVector } from "../numeric/symmetric";
import type { FTest, Term } from "./estimates";

export interface SetSums {
  readonly rows: number;
  readonly drivers: readonly { readonly name: string; readonly mean: number }[];
  readonly responseMean: number;
  /** SetSums of products of deviations from the means, driver by driver. */
  readonly products: readonly (readonly number[])[];
  /** The same, each driver with the response. */
  readonly withResponse: readonly number[];
  /** The response with itself. */
  readonly responseSquares: number;
}

export interface SummedFit {
  readonly rows: number;
  readonly confidence: number;
  readonly terms: readonly Term[];
  readonly residual: { readonly sd: number | null; readonly df: number };
  readonly rSquared: number | null;
  readonly F: FTest;
}

/**
 * The fit with a constant; rows are taken as apart from each other and scattering alike.
 * @throws RangeError where the sums cannot be those of any rows, or the drivers determine each other
 * @example fitSums({ rows: 3, drivers: [{ name: "x", mean: 1 }], responseMean: 2, products: [[2]], withResponse: [3], responseSquares: 4.5 }, 0.95).terms[1].estimate // 1.5
 */
export function fitSums(sums: SetSums, confidence: number): SummedFit {
  const { rows, drivers, responseMean, products, withResponse, responseSquares } = sums;
  if (!(Number.isSafeInteger(rows) && rows > 0)) throw new RangeError(`there must be at least one row, not ${rows}`);
  const still = drivers.find((_, j) => !(products[j][j] > 0));
  if (still) throw new RangeError(`${still.name} never varies, so it has no effect that could be told`);
  const definite = drivers.length === 0 ? { inverse: [] } : invertDefinite(products);
  if (!definite)
    throw new RangeError(`${drivers.map(({ name }) => name).join(", ")} determine each other: leave one of them out`);
  const { inverse } = definite;
  const slopes = timesVector(inverse, withResponse);
  const means = drivers.map(({ mean }) => mean);
  const explained = inner(slopes, withResponse);
  const df = rows - drivers.length - 1;
  const residualSquares = Math.max(0, responseSquares - explained);
  const variance = df > 0 ? residualSquares / df : null;
  const term = (label: string, own: readonly number[], estimate: number, factor: number): Term => {
    const standardError = variance === null ? null : Math.sqrt(variance * factor);
    if (standardError === null)
      return { label, drivers: own, estimate, standardError, t: null, df: null, p: null, low: null, high: null };
    const t = standardError > 0 ? estimate / standardError : null;
    const reach = studentQuantile(confidence, df) * standardError;
    const p = t === null ? null : studentTwoSided(t, df);
    return { label, drivers: own, estimate, standardError, t, df, p, low: estimate - reach, high: estimate + reach };
  };
  const value =
    variance === null || variance === 0 || slopes.length === 0 ? null : explained / slopes.length / variance;
  return {
    rows,
    confidence,
    terms: [
      term("constant", [], responseMean - inner(slopes, means), 1 / rows + inner(means, timesVector(inverse, means))),
      ...drivers.map(({ name }, j) => term(name, [j], slopes[j], inverse[j][j])),
    ],
    residual: { sd: variance === null ? null : Math.sqrt(variance), df },
    rSquared: responseSquares > 0 ? explained / responseSquares : null,
    F: {
      value,
      df1: slopes.length,
      df2: df > 0 ? df : null,
      p: value === null ? null : fisherUpper(value, slopes.length, df),
    },
  };
}
