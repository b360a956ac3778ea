/** The ratio of the variances between and within groups that the rows make likeliest, and the fit at it. */
import type { GroupParts } from "./groupParts";
import { inner, invertDefinite, timesVector, traceOfProduct } from "../numeric/symmetric";

/** The fit at one ratio of the variances. */
export interface RatioFit {
  readonly ratio: number;
  /** Inverse of the cross products at this ratio; times the residual variance, the covariance of the estimates. */
  readonly inverse: readonly (readonly number[])[];
  /** To be added to the least squares projections. */
  readonly shift: readonly number[];
  /** Residual squares. */
  readonly left: number;
  /** −2 log restricted likelihood, less a constant, at the best residual variance. */
  readonly deviance: number;
}

/** Groups with equally many rows: they have equal weights at any ratio, so their cross products are summed once. */
interface SizeClass {
  readonly count: number;
  readonly groups: readonly number[];
  readonly cross: readonly (readonly number[])[];
  readonly pull: readonly number[];
  readonly squares: number;
}

/**
 * Restricted maximum likelihood (Patterson & Thompson, Biometrika 58 (1971) 545–554), profiled to the ratio. Every
 * quantity splits exactly into a part within groups and one between, weighted 1 / (1 + ratio · rows of the group), so
 * nothing cancels when the ratio is large, and the slope is a closed form. The ratio may come out as 0.
 * @param df rows less coefficients
 * @returns how to fit at any ratio, and the ratio with the highest likelihood
 */
export function restrictedLikelihood(
  parts: GroupParts,
  df: number,
): { readonly at: (ratio: number) => RatioFit | undefined; readonly best: RatioFit } {
  const sizes = sizeClasses(parts);
  const at = (ratio: number) => fitAt(parts, sizes, df, ratio);
  const best = at(
    bestRatio(at, (ratio) => {
      const fit = at(ratio);
      return fit ? slopeOf(parts, sizes, df, fit) : 1;
    }),
  );
  if (!best) throw new RangeError("the groups leave no information on the coefficients");
  return { at, best };
}

function sizeClasses({ present, counts, directionSums, residualSums }: GroupParts): SizeClass[] {
  return [...new Set(present.map((g) => counts[g]))].map((count) => {
    const groups = present.filter((g) => counts[g] === count);
    const cross = directionSums.map((a, i) =>
      directionSums.map((b, j) => (j <= i ? groups.reduce((total, g) => total + a[g] * b[g], 0) : 0)),
    );
    cross.forEach((row, i) => row.forEach((_, k) => (row[k] = k <= i ? row[k] : cross[k][i])));
    return {
      count,
      groups,
      cross,
      pull: directionSums.map((a) => groups.reduce((total, g) => total + a[g] * residualSums[g], 0)),
      squares: groups.reduce((total, g) => total + residualSums[g] ** 2, 0),
    };
  });
}

/** The fit at one ratio; undefined where the ratio leaves a coefficient without any information. */
function fitAt(parts: GroupParts, sizes: readonly SizeClass[], df: number, ratio: number): RatioFit | undefined {
  const cross = parts.crossWithin.map((row) => [...row]);
  const pull = [...parts.pullWithin];
  let squares = parts.squaresWithin;
  let logVolume = 0;
  for (const one of sizes) {
    const weight = 1 / (1 + ratio * one.count) / one.count;
    cross.forEach((row, i) => row.forEach((_, k) => (row[k] += weight * one.cross[i][k])));
    pull.forEach((_, k) => (pull[k] += weight * one.pull[k]));
    squares += weight * one.squares;
    logVolume += one.groups.length * Math.log1p(ratio * one.count);
  }
  const solved = cross.length === 0 ? { inverse: [], logDeterminant: 0 } : invertDefinite(cross);
  if (!solved) return undefined;
  const shift = timesVector(solved.inverse, pull);
  const left = Math.max(0, squares - inner(shift, pull));
  const deviance = df * Math.log(left / df) + logVolume + solved.logDeterminant;
  return { ratio, inverse: solved.inverse, shift, left, deviance };
}

/** Derivative of the deviance by the ratio, from Zᵀ·P·y and Zᵀ·P·Z with P the projection that REML works with. */
function slopeOf(
  { directionSums, residualSums }: GroupParts,
  sizes: readonly SizeClass[],
  df: number,
  { ratio, inverse, shift, left }: RatioFit,
): number {
  let trace = 0;
  let pullSquare = 0;
  for (const { count, groups, cross } of sizes) {
    const scale = 1 / (1 + ratio * count);
    trace += groups.length * count * scale - scale * scale * traceOfProduct(inverse, cross);
    for (const g of groups) {
      const moved = directionSums.reduce((rest, sums, k) => rest - sums[g] * shift[k], residualSums[g]);
      pullSquare += (scale * moved) ** 2;
    }
  }
  return (-df * pullSquare) / left + trace;
}

/**
 * The ratio with the least deviance. A grid over 22 powers of ten finds the valley, because the profile may have
 * more than one; secants of its slope, held in a shrinking bracket, then find the bottom to the last digits. 0 when the
 * deviance rises from 0.
 */
function bestRatio(
  at: (ratio: number) => Pick<RatioFit, "deviance" | "left"> | undefined,
  slope: (ratio: number) => number,
): number {
  const zero = at(0);
  if (zero?.left === 0) return 0;
  const steps = 44;
  const grid = Array.from({ length: steps + 1 }, (_, i) => 10 ** (-9 + (22 * i) / steps));
  const found = grid.map(at);
  let place = -1;
  let least = zero?.deviance ?? Infinity;
  found.forEach((one, i) => {
    if (one && one.deviance < least) [least, place] = [one.deviance, i];
  });
  if (place < 0 && !(zero && slope(0) < 0)) return 0;
  let low = place > 0 ? grid[place - 1] : 0;
  let high = grid[Math.min(Math.max(place, 0) + 1, steps)];
  let atHigh = slope(high);
  if (atHigh < 0) return high;
  let atLow = slope(low);
  let next = high;
  for (let i = 0; i < 200 && high - low > 2 * Number.EPSILON * high; i++) {
    const before = next;
    // Every third step halves, so that a bracket whose one end stays put shrinks all the same.
    next = i % 3 === 2 ? (low + high) / 2 : low - (atLow * (high - low)) / (atHigh - atLow);
    if (!(next > low && next < high)) next = (low + high) / 2;
    const here = slope(next);
    if (here === 0 || Math.abs(next - before) <= Number.EPSILON * next) return next;
    if (here < 0) [low, atLow] = [next, here];
    else [high, atHigh] = [next, here];
  }
  return (low + high) / 2;
}
