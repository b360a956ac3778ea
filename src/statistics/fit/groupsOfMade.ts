/**
 * Errors of the chance of a shot where shots come in groups. CR2 errors of the likelihood fit are taken along the
 * weighted rows of the last of Newton's steps, as Pustejovsky & Tipton (2018) do for generalised linear models. The
 * penalty belongs to no group, so errors of the penalised fit come from leaving out each group in turn (the jackknife,
 * about the estimates of all rows), with Student's t on groups less one. Groups that are shifted take one more step:
 * the same weighted rows with a random shift of each group (Breslow & Clayton, Journal of the American Statistical
 * Association 88 (1993) 9–25), with the intervals of randomIntercept.ts; for either likelihood.
 */
import { clusterErrors } from "../errors/clusterErrors";
import type { Grouping, Scatter } from "../errors/errorModel";
import { onlyBetween, splitByGroup } from "../errors/groupParts";
import { randomIntercept } from "../errors/randomIntercept";
import { eigen, inner, mapEigenvalues, timesVector } from "../numeric/symmetric";
import { climb, share, type Shots, type Summit } from "./likelihoodOfMade";

/** Variance and degrees of freedom of a combination along the directions; undefined where the groups cannot give it. */
export interface Grouped {
  /** How far groups that are shifted lie apart, where that is estimated. */
  readonly between?: number;
  /** What the groups add to the combination's value; nothing where it is left out. */
  shift?(along: readonly number[]): number;
  variance(along: readonly number[]): number | undefined;
  df(along: readonly number[]): number;
}

export function groupedErrors(
  shots: Shots,
  { plain, summit }: { readonly plain: Summit | undefined; readonly summit: Summit },
  by: Grouping,
  shifted: boolean,
): Grouped {
  if (!shifted && !plain) return leftOutGroups(shots, summit, by);
  const { scatter, root } = weighedRows(shots, summit);
  const errors = shifted ? randomIntercept(scatter, by) : clusterErrors(scatter, by);
  const { shift } = errors;
  // Weights make what stays all session vary a little within it; what only the groups tell is seen without them.
  const parts = splitByGroup({ directions: shots.directions, residuals: scatter.residuals, df: scatter.df }, by);
  const tooFew = shifted && parts.present.length <= parts.still.length;
  return {
    ...(errors.spread && { between: errors.spread.between }),
    variance: (along) => (tooFew && onlyBetween(parts, along) ? undefined : errors.variance(timesVector(root, along))),
    df: (along) => errors.df(timesVector(root, along)),
    ...(shift && { shift: (along: readonly number[]) => inner(timesVector(root, along), shift) }),
  };
}

/**
 * The rows times the roots of their weights at the summit, made orthonormal by the root of the information's inverse.
 */
function weighedRows(
  { directions, made }: Shots,
  { place, inverse }: Summit,
): { scatter: Scatter; root: readonly (readonly number[])[] } {
  const root = mapEigenvalues(eigen(inverse), (value) => Math.sqrt(Math.max(0, value)));
  const rows = made.length;
  const weighed = directions.map(() => new Float64Array(rows));
  const residuals = new Float64Array(rows);
  for (let row = 0; row < rows; row++) {
    const across = directions.map((direction) => direction[row]);
    const odds = inner(across, place);
    const size = Math.sqrt(share(odds) * share(-odds));
    residuals[row] = size > 0 ? (made[row] === 1 ? share(-odds) : -share(odds)) / size : 0;
    timesVector(root, across).forEach((value, j) => (weighed[j][row] = size * value));
  }
  return { scatter: { directions: weighed, residuals, df: rows - directions.length }, root };
}

/** The jackknife over groups for the penalised fit. */
function leftOutGroups({ directions, made }: Shots, { place }: Summit, { groups, levels }: Grouping): Grouped {
  const present = levels.flatMap((_, group) => (Array.prototype.includes.call(groups, group) ? [group] : []));
  const moves = present.map((group) => {
    const kept = Array.from({ length: made.length }, (_, row) => row).filter((row) => groups[row] !== group);
    const others = {
      directions: directions.map((direction) => Float64Array.from(kept, (row) => direction[row])),
      made: kept.map((row) => made[row]),
    };
    const summit = climb(others, true);
    return summit?.place.map((value, j) => value - place[j]);
  });
  const count = present.length;
  return {
    variance: (along) =>
      moves.reduce<number | undefined>(
        (total, move) =>
          total === undefined || !move ? undefined : total + ((count - 1) / count) * inner(along, move) ** 2,
        0,
      ),
    df: () => count - 1,
  };
}
