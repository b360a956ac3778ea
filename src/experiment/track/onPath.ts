/**
 * Which points of a track lie on one path. Fits with all points, far ones counting less (Huber, Ann. Math. Statist. 35
 * (1964) 73), give way to fits with the points that a sound fit would leave so near; the scatter comes from the median
 * distance, which bad points hardly move.
 */
import { chiSquareQuantile, fisherQuantile } from "../../statistics/distributions/distributions";
import { median } from "../../statistics/numeric/median";

/** Points nearer than this, in standard deviations, count in full while it is not settled which are good. */
const NEAR = 1.5;
const SOFT_ROUNDS = 4;
/** Choosing good points anew comes to rest in three or four rounds more. */
const ROUNDS = 14;
/** A good point lies farther off than this only once in 2000. */
const FAR = 0.9995;
/** Scatter below this share of the whole track is not told from rounding and from how closely a fit is found. */
const ROUNDING = 1e-5;

export interface PathFit<Fit> {
  readonly fit: Fit;
  /** Squared distance of each point from the path. */
  readonly distances: readonly number[];
}

export interface OnPath<Fit> {
  readonly fit: Fit;
  /** 1 for points on the path, 0 for those that were left out. */
  readonly weights: readonly number[];
  readonly used: number;
}

/**
 * @param rough squared distances from a path that bad points do not move, one a point
 * @param size how far the track goes, in the unit of the fits' distances
 * @param coordinates how many of a point's coordinates scatter, 1 or 2
 * @param numbers how many numbers a fit has
 * @param fitWith fits with these weights and this variance of a coordinate; roughly while points are chosen
 * @returns undefined when fewer points are left than `fewest`
 */
export function pointsOnPath<Fit>(
  rough: readonly number[],
  { size, coordinates, numbers, fewest }: { size: number; coordinates: 1 | 2; numbers: number; fewest: number },
  fitWith: (weights: readonly number[], variance: number, roughly: boolean) => PathFit<Fit>,
): OnPath<Fit> | undefined {
  const floor = (ROUNDING * size) ** 2;
  const middle = chiSquareQuantile(0.5, coordinates);
  const all = coordinates * rough.length;
  // A slip that ends early is no parabola: good points may lie far from a rough path, and none may be lost for it.
  let spread = Math.max(median(rough) / middle, floor);
  const softly = (distance: number) => Math.min(1, NEAR * Math.sqrt(spread / Math.max(distance, floor)));
  let weights: readonly number[] = rough.map(softly);
  for (let round = 0; ; round++) {
    const { fit, distances } = fitWith(weights, spread, round < SOFT_ROUNDS);
    const used = weights.filter((weight) => weight > 0).length;
    spread = Math.max((median(distances) / middle) * (all / Math.max(1, all - numbers)), floor);
    if (round < SOFT_ROUNDS) {
      weights = distances.map(softly);
      continue;
    }
    const far = coordinates * fisherQuantile(FAR, coordinates, Math.max(1, coordinates * used - numbers)) * spread;
    const next = distances.map((distance) => (distance <= far ? 1 : 0));
    if (next.filter((weight) => weight > 0).length < fewest) return undefined;
    if (round > SOFT_ROUNDS && (round >= ROUNDS || next.every((weight, i) => weight === weights[i])))
      return { fit, weights, used };
    weights = next;
  }
}
