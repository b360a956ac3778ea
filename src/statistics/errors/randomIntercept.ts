/** A fit in which each group of rows is shifted by a random amount. */
import type { Grouping, Scatter, Uncertainty } from "./errorModel";
import { onlyBetween, splitByGroup, type GroupParts } from "./groupParts";
import { groupMeans } from "./groupMeans";
import { kenwardRoger } from "./kenwardRoger";
import { restrictedLikelihood, type RatioFit } from "./restrictedLikelihood";
import { spreadIntervals } from "./spreadIntervals";
import { eigen, inner, timesVector } from "../numeric/symmetric";

/** Variance of combinations, their degrees of freedom, and whether the rows give them at all. */
interface Judged {
  covariance(a: readonly number[], b: readonly number[]): number;
  df(along: readonly number[]): number;
}

/**
 * Estimates by restricted maximum likelihood (restrictedLikelihood.ts), with intervals that hold for few groups; why
 * these and no others stands in README.md.
 *
 * What rows within groups can tell has the covariance of Kenward and Roger and the fewer of two degrees of freedom:
 * theirs, and those of the groups and the rows shared by how much of the information comes from either. What only
 * changes from group to group is judged by the groups' means, on groups less the coefficients of that kind. Where those
 * are as many as the groups, nothing can be said of it, and of the rest what the rows within groups say.
 * @throws RangeError when too few rows share a group, or rows do not scatter within groups
 */
export function randomIntercept(scatter: Scatter, by: Grouping): Uncertainty {
  const parts = splitByGroup(scatter, by);
  const { df, residuals, directions } = scatter;
  const dfWithin = residuals.length - parts.present.length - (directions.length - parts.still.length);
  refuseTooLittle(scatter, by, parts, dfWithin);
  const varianceWithin = parts.leftWithin / dfWithin;
  const dfBetween = parts.present.length - parts.still.length;
  if (dfBetween <= 0) return withinOnly(parts, varianceWithin, dfWithin);

  const { at, best } = restrictedLikelihood(parts, df);
  const variance = best.left / df;
  const { covariance, meanSquare } = groupMeans(parts, best, varianceWithin, dfBetween, dfWithin);
  const means: Judged = { covariance, df: () => dfBetween };
  const rows = judgedByRows(parts, residuals.length, best, variance, dfBetween, dfWithin);
  const judge = (...along: readonly (readonly number[])[]) =>
    along.some((one) => onlyBetween(parts, one)) ? means : rows;
  return {
    shift: best.shift,
    variance: (along) => judge(along).covariance(along, along),
    df: (along) => judge(along).df(along),
    joint: (along, values) => jointTest(judge(...along), along, values),
    spread: { between: Math.sqrt(best.ratio * variance), within: Math.sqrt(variance) },
    newGroup: { standard: Math.sqrt(meanSquare), df: dfBetween },
    spreadIntervals: (confidence) =>
      spreadIntervals((ratio) => at(ratio)?.left, parts.leftWithin, dfWithin, df - dfWithin, confidence),
  };
}

function refuseTooLittle({ residuals }: Scatter, by: Grouping, { present, leftWithin }: GroupParts, dfWithin: number) {
  if (dfWithin <= 0) {
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
}

/** Groups that the drivers use up: the least squares fit is that of the rows within groups. */
function withinOnly(parts: GroupParts, variance: number, df: number): Uncertainty {
  return {
    variance: (along) => (onlyBetween(parts, along) ? undefined : variance * inner(along, along)),
    df: () => df,
    joint(along, values) {
      if (along.some((one) => onlyBetween(parts, one))) return undefined;
      return jointTest({ covariance: (a, b) => variance * inner(a, b), df: () => df }, along, values);
    },
  };
}

/** By Kenward and Roger, on degrees of freedom that never count more than the information's sources have. */
function judgedByRows(
  parts: GroupParts,
  rows: number,
  best: RatioFit,
  variance: number,
  dfBetween: number,
  dfWithin: number,
): Judged {
  const { covariance, df } = kenwardRoger(parts, rows, best, variance);
  return {
    covariance,
    df(along) {
      const moved = timesVector(best.inverse, along);
      const within = Math.min(1, inner(moved, timesVector(parts.crossWithin, moved)) / inner(along, moved));
      const shared = 1 / ((1 - within) / dfBetween + within / dfWithin);
      // Groups that are told apart at all leave one degree of freedom at the least.
      return Math.min(shared, Math.max(1, df(along)));
    },
  };
}

/**
 * Several combinations at once, the degrees of freedom after Fai & Cornelius (Journal of Statistical Computation and
 * Simulation 54 (1996) 363–378): from those of the covariance's own directions.
 */
function jointTest(
  { covariance, df }: Judged,
  along: readonly (readonly number[])[],
  values: readonly number[],
): { value: number; df2: number } | undefined {
  const count = along.length;
  const matrix = along.map((a, i) => along.map((b, j) => covariance(a, i === j ? a : b)));
  const parted = eigen(matrix);
  const most = Math.max(...parted.values);
  if (!parted.values.every((value) => value > 1e-12 * most)) return undefined;
  let total = 0;
  let share = 0;
  const frees = parted.values.map((value, j) => {
    const turned = along[0].map((_, i) => along.reduce((sum, row, s) => sum + parted.vectors[j][s] * row[i], 0));
    total += inner(parted.vectors[j], values) ** 2 / value;
    const free = df(turned);
    share += free > 2 ? free / (free - 2) : 0;
    return free;
  });
  const alike = frees.every((free) => Math.abs(free - frees[0]) < 1e-8 * frees[0]);
  const least = Math.min(...frees);
  return { value: total / count, df2: alike || least <= 2 || share <= count ? least : (2 * share) / (share - count) };
}
