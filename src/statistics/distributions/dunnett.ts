/**
 * The largest of several comparisons with one reference, in standard errors.
 *
 * Dunnett (Journal of the American Statistical Association 50 (1955) 1096–1121; Biometrics 20 (1964) 482–491), by our
 * own quadrature from the definition: with correlations ρij = λi·λj the comparisons are Ti = (λi·Z + √(1 − λi²)·Zi) / s
 * with independent standard normals, so that for given Z and s they are independent. The upper tail is summed from
 * positive parts alone, so a p-value of 1e−300 keeps its digits.
 */
import { normalDensity, normalLower } from "./normal";
import { overLogScale } from "../numeric/overScale";
import { upperQuantile } from "../numeric/upperQuantile";

export interface Dunnett {
  /** P(largest |Ti| > q). @param df degrees of freedom of the standard errors, above 0, or Infinity */
  upper(q: number, df: number): number;
  /** The q that all |Ti| stay below with this probability. */
  quantile(confidence: number, df: number): number;
}

/**
 * The two-sided distribution for comparisons with these loadings λ.
 * @param loadings one per comparison, above −1 and below 1; for a one-way layout λi = √(ni / (ni + n0))
 * @throws RangeError when there is none, or one is out of range
 * @example dunnett([0]).quantile(0.95, 1) // 12.706204736174694
 * @example dunnett([Math.SQRT1_2, Math.SQRT1_2]).upper(0, 5) // 1
 */
export function dunnett(loadings: readonly number[]): Dunnett {
  // Loadings that differ in rounding alone share what has been worked out.
  const key = loadings.map((loading) => loading.toPrecision(13)).join();
  let found = recent.get(key);
  if (!found) {
    found = make(loadings);
    if (recent.size >= 64) recent.clear();
    recent.set(key, found);
  }
  return found;
}

const recent = new Map<string, Dunnett>();

function make(loadings: readonly number[]): Dunnett {
  if (loadings.length === 0) throw new RangeError("no comparison is given");
  for (const loading of loadings)
    if (!(Math.abs(loading) < 1)) throw new RangeError(`a loading is ${loading}: it must lie between −1 and 1`);
  const parts = loadings.map((loading) => ({
    loading: Math.abs(loading),
    rest: Math.sqrt((1 - loading) * (1 + loading)),
  }));
  // The transform of the integrand falls like a normal density with this many times the unit's square frequency.
  const sharpness = parts.reduce((total, { loading, rest }) => total + (loading / rest) ** 2, 1);
  const step = 0.7 / Math.sqrt(sharpness);
  const reach = Math.max(...parts.map(({ loading }) => loading));
  /** P(largest > width) for known s. */
  const known = (width: number) => {
    if (width <= 0) return 1;
    let total = 0;
    // Even in z. Far out in the tail the likeliest z lies towards λ·width.
    for (let i = 0; i * step <= 9 + reach * width; i++) {
      const z = i * step;
      let inside = 0;
      for (const { loading, rest } of parts) {
        const outside = normalLower((loading * z - width) / rest) + normalLower((-loading * z - width) / rest);
        inside += Math.log1p(-Math.min(1, outside));
      }
      total += (i === 0 ? 1 : 2) * normalDensity(z) * -Math.expm1(inside);
    }
    return Math.min(1, step * total);
  };
  const remembered = new Map<number, number>();
  const at = (logWidth: number) => {
    let found = remembered.get(logWidth);
    if (found === undefined) remembered.set(logWidth, (found = known(Math.exp(logWidth))));
    return found;
  };
  const upper = (q: number, df: number) => {
    if (!(q > 0)) return Number.isNaN(q) ? NaN : 1;
    if (q === Infinity) return 0;
    return df === Infinity ? known(q) : Math.min(1, overLogScale(df, Math.log(q), at));
  };
  return { upper, quantile: (confidence, df) => upperQuantile(1 - confidence, (q) => upper(q, df)) };
}

/**
 * Loadings λ whose products come nearest to the correlations, in the sense of least squares (Hsu, Journal of
 * Computational and Graphical Statistics 1 (1992) 151–168); exact where the correlations are such products.
 * @param correlations symmetric with unit diagonal
 * @example nearestLoadings([[1, 0.5], [0.5, 1]]) // [0.7071067811865476, 0.7071067811865476]
 */
export function nearestLoadings(correlations: readonly (readonly number[])[]): number[] {
  const count = correlations.length;
  if (count === 1) return [0];
  if (count === 2) {
    const loading = Math.min(Math.sqrt(Math.abs(correlations[0][1])), 0.9999);
    return [loading, correlations[0][1] < 0 ? -loading : loading];
  }
  const loadings = correlations.map(() => Math.SQRT1_2);
  for (let round = 0; round < 5000; round++) {
    let moved = 0;
    for (let i = 0; i < count; i++) {
      let [pull, squares] = [0, 0];
      for (let j = 0; j < count; j++) {
        if (j === i) continue;
        pull += correlations[i][j] * loadings[j];
        squares += loadings[j] ** 2;
      }
      const next = Math.min(Math.max(squares > 0 ? pull / squares : 0, -0.9999), 0.9999);
      moved = Math.max(moved, Math.abs(next - loadings[i]));
      loadings[i] = next;
    }
    if (moved < 1e-15) break;
  }
  return loadings;
}
