/** A fit in which each group of rows is shifted by a random amount. */
import { chiSquareQuantile, fisherQuantile } from "../distributions/distributions";
import type { Grouping, Scatter, SpreadIntervals, Uncertainty } from "./errorModel";
import { splitByGroup } from "./groupParts";
import {
  eigen,
  inner,
  invertDefinite,
  timesVector,
  traceOfProduct,
  zeroMatrix,
  type Definite,
} from "../numeric/symmetric";

/**
 * Random intercept by restricted maximum likelihood (Patterson & Thompson, Biometrika 58 (1971) 545–554), with
 * Satterthwaite's degrees of freedom from the curvature of the restricted likelihood (Giesbrecht & Burns, Biometrics 41
 * (1985) 477–486), and for several combinations together those of Fai & Cornelius (Journal of Statistical Computation
 * and Simulation 54 (1996) 363–378).
 *
 * The likelihood is profiled to one number, the ratio of the variances between and within groups. Every quantity splits
 * exactly into a part within groups and one between, weighted 1 / (1 + ratio · rows of the group), so nothing cancels
 * when the ratio is large, and all derivatives are closed forms. The variance between groups may come out as 0.
 */
export function randomIntercept(scatter: Scatter, by: Grouping): Uncertainty {
  const { df, directions, residuals } = scatter;
  const size = directions.length;
  const { counts, present, directionSums, residualSums, crossWithin, pullWithin, squaresWithin, leftWithin, between } =
    splitByGroup(scatter, by);
  if (present.length <= between) {
    throw new RangeError(
      `${present.length} groups of ${by.name} for ${between} coefficients that only change from group to group: how groups differ by themselves cannot be told, more groups are needed`,
    );
  }

  if (residuals.length - present.length - (size - between) <= 0) {
    throw new RangeError(
      `${residuals.length} rows in ${present.length} groups of ${by.name}: too few rows share a group to tell the scatter within groups from the differences between them`,
    );
  }

  const squares = inner(residuals, residuals);
  if (squares > 0 && leftWithin <= 1e-24 * squares) {
    throw new RangeError(
      `rows within one group of ${by.name} do not scatter at all about the fit: there is no scatter to set the differences between groups against`,
    );
  }

  // Groups with equally many rows have equal weights at any ratio, so their cross products are summed once.
  const sizes = [...new Set(present.map((g) => counts[g]))].map((count) => {
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

  /** The fit at one ratio; undefined where the ratio leaves a coefficient without any information. */
  const at = (ratio: number) => {
    const cross = crossWithin.map((row) => [...row]);
    const pull = [...pullWithin];
    let squares = squaresWithin;
    let logVolume = 0;
    for (const one of sizes) {
      const weight = 1 / (1 + ratio * one.count) / one.count;
      cross.forEach((row, i) => row.forEach((_, k) => (row[k] += weight * one.cross[i][k])));
      pull.forEach((_, k) => (pull[k] += weight * one.pull[k]));
      squares += weight * one.squares;
      logVolume += one.groups.length * Math.log1p(ratio * one.count);
    }
    const solved: Definite | undefined = size === 0 ? { inverse: [], logDeterminant: 0 } : invertDefinite(cross);
    if (!solved) return undefined;
    const shift = timesVector(solved.inverse, pull);
    const left = Math.max(0, squares - inner(shift, pull));
    /** −2 log restricted likelihood, less a constant, at the best residual variance. */
    const deviance = df * Math.log(left / df) + logVolume + solved.logDeterminant;
    return { inverse: solved.inverse, shift, left, deviance };
  };

  /** The fit at one ratio with its derivatives by the ratio. */
  const slopeAt = (ratio: number) => {
    const solved = at(ratio);
    if (!solved) return undefined;
    const { shift, left } = solved;
    // First and second derivatives by the ratio, from Zᵀ·P·y and Zᵀ·P·Z with P the projection that REML works with.
    const spreadCross = zeroMatrix(size);
    const mixed = new Array<number>(size).fill(0);
    let trace = 0;
    let traceSquare = 0;
    let pullSquare = 0;
    let curve = 0;
    for (const { count, groups, cross: ofSize } of sizes) {
      const scale = 1 / (1 + ratio * count);
      const own = count * scale;
      const back = scale * scale * traceOfProduct(solved.inverse, ofSize);
      trace += groups.length * own - back;
      traceSquare += groups.length * own * own - 2 * own * back;
      ofSize.forEach((row, i) => row.forEach((value, k) => (spreadCross[i][k] += scale * scale * value)));
      let pulls = 0;
      for (const g of groups) {
        let moved = residualSums[g];
        for (let k = 0; k < size; k++) moved -= directionSums[k][g] * shift[k];
        moved *= scale;
        pulls += moved * moved;
        for (let k = 0; k < size; k++) mixed[k] += scale * directionSums[k][g] * moved;
      }
      pullSquare += pulls;
      curve += own * pulls;
    }
    const half = solved.inverse.map(
      (row) =>
        spreadCross[0]?.map((_, j) =>
          inner(
            row,
            spreadCross.map((other) => other[j]),
          ),
        ) ?? [],
    );
    const transposed = half.map((_, i) => half.map((row) => row[i]));
    traceSquare += traceOfProduct(half, transposed);
    curve -= inner(mixed, timesVector(solved.inverse, mixed));
    return { ...solved, spreadCross, slope: (-df * pullSquare) / left + trace, pullSquare, traceSquare, curve };
  };

  const ratio = bestRatio(at, (one) => slopeAt(one)?.slope ?? 1);
  const best = slopeAt(ratio);
  if (!best) throw new RangeError("the groups leave no information on the coefficients");
  const variance = best.left / df;

  // Curvature of the deviance in (ratio, residual variance); its inverse, doubled, is the covariance of the two.
  const curvature = [
    [-best.traceSquare + (2 * best.curve) / variance, best.pullSquare / variance ** 2],
    [best.pullSquare / variance ** 2, df / variance ** 2],
  ];
  const determinant = curvature[0][0] * curvature[1][1] - curvature[0][1] ** 2;
  const plain = ratio === 0 || !(determinant > 0) || !(curvature[0][0] > 0);

  const factor = (along: readonly number[]) => inner(along, timesVector(best.inverse, along));
  const freedom = (along: readonly number[]) => {
    if (plain) return df;
    const backed = timesVector(best.inverse, along);
    const value = variance * factor(along);
    const byRatio = variance * inner(backed, timesVector(best.spreadCross, backed));
    const byVariance = factor(along);
    const [[a, b], [, d]] = curvature;
    const spreadOfVariance =
      (2 * (byRatio * (d * byRatio - b * byVariance) + byVariance * (a * byVariance - b * byRatio))) / determinant;
    return (2 * value * value) / spreadOfVariance;
  };
  return {
    shift: best.shift,
    variance: (along) => variance * factor(along),
    df: freedom,
    joint(along, values) {
      const parted = eigen(along.map((a) => along.map((b) => variance * inner(a, timesVector(best.inverse, b)))));
      if (!parted.values.every((value) => value > 0)) return undefined;
      const count = along.length;
      let total = 0;
      let share = 0;
      const frees: number[] = [];
      parted.values.forEach((value, j) => {
        const turned = along[0].map((_, i) => along.reduce((sum, row, s) => sum + parted.vectors[j][s] * row[i], 0));
        total += inner(parted.vectors[j], values) ** 2 / value;
        const free = freedom(turned);
        frees.push(free);
        share += free > 2 ? free / (free - 2) : 0;
      });
      const alike = frees.every((free) => Math.abs(free - frees[0]) < 1e-8 * frees[0]);
      const df2 = alike ? frees[0] : share > count ? (2 * share) / (share - count) : Math.min(...frees);
      return { value: total / count, df2 };
    },
    spread: { between: Math.sqrt(ratio * variance), within: Math.sqrt(variance) },
    spreadIntervals: (confidence) => {
      const dfWithin = residuals.length - present.length - (size - between);
      return spreadIntervals((one) => at(one)?.left, leftWithin, dfWithin, df - dfWithin, confidence);
    },
  };
}

/**
 * Intervals of the two standard deviations for normal scatter. Within: chi-square on what the groups leave. Between: the
 * ratio of the variances has an exact interval, because at the true ratio the squares that the groups add, over those
 * they leave, are F (Wald, Annals of Mathematical Statistics 11 (1940) 96–100; Seely & El-Bassiouni, Annals of Statistics
 * 11 (1983) 197–201); each end times the variance that the added squares then stand for gives the interval of Williams
 * (Biometrika 49 (1962) 278–281), which covers at least as often as it says but for twice the chance left out.
 * @param left residual squares at a ratio
 * @param leftWithin squares that the groups leave, on dfWithin
 * @param dfBetween degrees of freedom that the groups add
 */
function spreadIntervals(
  left: (ratio: number) => number | undefined,
  leftWithin: number,
  dfWithin: number,
  dfBetween: number,
  confidence: number,
): SpreadIntervals | undefined {
  if (!(dfWithin > 0 && dfBetween > 0 && leftWithin > 0)) return undefined;
  const tail = (1 - confidence) / 2;
  const mean = leftWithin / dfWithin;
  const fisher = (ratio: number) => ((left(ratio) ?? NaN) - leftWithin) / dfBetween / mean;
  const end = (probability: number) => {
    const target = fisherQuantile(probability, dfBetween, dfWithin);
    if (!(fisher(0) > target)) return 0;
    let [low, high] = [-12, 16];
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (fisher(10 ** middle) > target) low = middle;
      else high = middle;
    }
    return Math.sqrt((10 ** low * mean * dfBetween * target) / chiSquareQuantile(probability, dfBetween));
  };
  return {
    between: { low: end(1 - tail), high: end(tail) },
    within: {
      low: Math.sqrt(leftWithin / chiSquareQuantile(1 - tail, dfWithin)),
      high: Math.sqrt(leftWithin / chiSquareQuantile(tail, dfWithin)),
    },
  };
}

/**
 * The ratio with the least deviance. A grid over 25 powers of ten finds the valley, because the profile may have
 * more than one; secants of its slope, held in a shrinking bracket, then find the bottom to the last digits. 0 when the deviance rises from 0.
 */
function bestRatio(
  at: (ratio: number) => { deviance: number; left: number } | undefined,
  slope: (ratio: number) => number,
): number {
  const zero = at(0);
  if (zero?.left === 0) return 0;
  const steps = 125;
  const grid = Array.from({ length: steps + 1 }, (_, i) => 10 ** (-9 + (25 * i) / steps));
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
