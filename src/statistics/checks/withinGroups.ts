/**
 * A plain fit with each group's own level taken out, as if groups were a category of their own, without a column for
 * each: by what rows differ from their group's mean (Frisch & Waugh, Econometrica 1 (1933) 387–401; Lovell, Journal of
 * the American Statistical Association 58 (1963) 993–1010). Its cost grows with the rows, not with the groups.
 */
import type { Grouping } from "../errors/errorModel";
import { splitByGroup } from "../errors/groupParts";
import type { Regression } from "../fit/regression";
import { eigen, inner } from "../numeric/symmetric";

export interface WithinGroups {
  readonly rows: number;
  readonly residuals: Float64Array;
  readonly residualSquares: number;
  readonly df: number;
  /** Orthonormal, besides those of the groups' own levels: what the drivers say within groups. */
  readonly directions: readonly Float64Array[];
  /** The groups whose levels were taken out; absent for the plain fit as it is. */
  readonly by?: Grouping;
}

/** A direction's share of squares within groups below which it is rounding. */
const NOTHING = 1e-12;

/** The plain fit as it is. */
export function plainFit({ fit, residual }: Pick<Regression, "fit" | "residual">): WithinGroups {
  const { rows, residuals, residualSquares } = fit;
  return { rows, residuals, residualSquares, df: residual.df, directions: fit.directions() };
}

/** @param regression without weights; whatever errors it has, its fit is plain */
export function withinGroups({ fit, residual }: Pick<Regression, "fit" | "residual">, by: Grouping): WithinGroups {
  const directions = fit.directions();
  const scatter = { directions, residuals: fit.residuals, df: residual.df };
  const { counts, present, directionSums, residualSums, crossWithin } = splitByGroup(scatter, by);
  const about = (values: Float64Array, sums: Float64Array) =>
    Float64Array.from(values, (value, row) => value - sums[by.groups[row]] / counts[by.groups[row]]);
  const { values, vectors } = eigen(crossWithin);
  const within = directions.map((direction, j) => about(direction, directionSums[j]));
  const turned = values.flatMap((value, j) => {
    if (value < NOTHING) return [];
    const root = Math.sqrt(value);
    const turn = new Float64Array(fit.rows);
    within.forEach((one, k) => one.forEach((part, row) => (turn[row] += (vectors[j][k] * part) / root)));
    return [turn];
  });
  const residuals = about(fit.residuals, residualSums);
  for (const direction of turned) {
    const share = inner(direction, residuals);
    for (let row = 0; row < fit.rows; row++) residuals[row] -= share * direction[row];
  }
  return {
    rows: fit.rows,
    residuals,
    residualSquares: inner(residuals, residuals),
    df: fit.rows - present.length - turned.length,
    directions: turned,
    by,
  };
}
