/** Variance of what only changes from group to group, from how the groups' own means scatter. */
import { studentQuantile } from "../distributions/distributions";
import type { GroupParts } from "./groupParts";
import type { RatioFit } from "./restrictedLikelihood";
import { addOuter, inner, invertDefinite, timesVector, zeroMatrix } from "../numeric/symmetric";

/**
 * Covariance of combinations that the rows within groups cannot give. The groups' means, less what goes with the
 * drivers within groups, scatter about the drivers that only change from group to group; each group counts once,
 * however many rows it has, and the mean square of what is left stands for the scatter of every group's mean. With as
 * many rows in every group this is the exact answer of Student on the groups' means, whatever the variance between
 * groups is, and there is no estimate at 0 to fall back from. Means that happen to agree (a ruler's marks make them) do
 * not make an interval narrower than the one that counts every row on its own: the mean square has that floor, taken at
 * 95 %.
 * @param dfBetween groups less the coefficients that only change from group to group; above 0
 * @param varianceWithin of single rows within groups, on dfWithin
 */
export function groupMeans(
  parts: GroupParts,
  { ratio, inverse }: RatioFit,
  varianceWithin: number,
  dfBetween: number,
  dfWithin: number,
): {
  covariance(a: readonly number[], b: readonly number[]): number;
  /** Mean square of the groups' means, which is the variance between groups and what single rows add to a mean. */
  readonly meanSquare: number;
} {
  const { present, counts, directionSums, crossWithin, still } = parts;
  const alone = (varianceWithin * present.reduce((total, g) => total + 1 / counts[g], 0)) / present.length;
  const floor = alone * (studentQuantile(0.95, dfWithin) / studentQuantile(0.95, dfBetween)) ** 2;
  const meanSquare = Math.max(meansLeft(parts) / dfBetween, floor);
  /** How much of each group's mean goes into a combination, and how much of each direction within groups. */
  const weights = (along: readonly number[]) => {
    const moved = timesVector(inverse, along);
    // At a large ratio what only changes between groups is huge, and its rounding within them must not count.
    const within = still.reduce((rest, vector) => {
      const share = inner(vector, moved);
      return rest.map((value, k) => value - share * vector[k]);
    }, moved);
    return {
      within,
      ofGroups: present.map(
        (g) => directionSums.reduce((total, sums, k) => total + moved[k] * sums[g], 0) / (1 + ratio * counts[g]),
      ),
    };
  };
  return {
    meanSquare,
    covariance(a, b) {
      const [left, right] = [weights(a), a === b ? weights(a) : weights(b)];
      return (
        meanSquare * inner(left.ofGroups, right.ofGroups) +
        varianceWithin * inner(left.within, timesVector(crossWithin, right.within))
      );
    },
  };
}

/** Squares that the groups' means leave about the directions that only change from group to group. */
function meansLeft({ present, counts, directionSums, residualSums, solvedWithin, still }: GroupParts): number {
  const means = present.map((g) => ({
    value: directionSums.reduce((rest, sums, k) => rest - solvedWithin[k] * sums[g], residualSums[g]) / counts[g],
    at: still.map((vector) => vector.reduce((total, part, k) => total + part * directionSums[k][g], 0) / counts[g]),
  }));
  const cross = zeroMatrix(still.length);
  const pull = new Array<number>(still.length).fill(0);
  for (const { value, at } of means) {
    addOuter(cross, at);
    at.forEach((part, k) => (pull[k] += part * value));
  }
  const solved = still.length === 0 ? [] : timesVector(invertDefinite(cross)?.inverse ?? [], pull);
  return means.reduce((total, { value, at }) => total + (value - inner(at, solved)) ** 2, 0);
}
