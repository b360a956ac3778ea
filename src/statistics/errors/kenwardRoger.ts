/** What it costs, with few groups, that the variances between and within them are estimates themselves. */
import type { GroupParts } from "./groupParts";
import type { RatioFit } from "./restrictedLikelihood";
import { addOuter, inner, timesVector, zeroMatrix, type Matrix } from "../numeric/symmetric";

/** Covariance of the estimates, enlarged, and the degrees of freedom that each combination has for it. */
export interface SmallSample {
  /** The second never below the first: the plain variance of restricted maximum likelihood. */
  covariance(a: readonly number[], b: readonly number[]): number;
  /** Of the variance of one combination. */
  df(along: readonly number[]): number;
}

/**
 * Kenward & Roger (Biometrics 53 (1997) 983–997), equations 2.4 to 2.6 and section 3, for two variances in which the
 * covariance of the rows is linear, so that their second derivatives are none: the covariance plus twice
 * Φ·ΣΣ wᵢⱼ(Qᵢⱼ − PᵢΦPⱼ)·Φ, with w the inverse of the expected information. For a single combination their degrees of
 * freedom are 2v²/var(v), from the same information. Nothing of it breaks down where the variance between groups is
 * estimated as 0. Within groups the rows' covariance is the variance σ², between σ² + rows·τ², so every matrix is a sum
 * of the cross products within and one term for each group.
 * @param rows number of rows
 */
export function kenwardRoger(parts: GroupParts, rows: number, fit: RatioFit, variance: number): SmallSample {
  const size = fit.inverse.length;
  // In units of the residual variance, so that tiny responses do not overflow.
  const phi = fit.inverse;
  const { P, Q, traces } = derivatives(parts, rows, fit.ratio);
  const PhiP = P.map((one) => product(phi, one));
  const information = [0, 1].map((i) =>
    [0, 1].map((j) => (traces[i + j] - 2 * trace(phi, Q[i + j]) + trace(PhiP[i], PhiP[j])) / 2),
  );
  const determinant = information[0][0] * information[1][1] - information[0][1] ** 2;
  const w = [
    [information[1][1] / determinant, -information[0][1] / determinant],
    [-information[0][1] / determinant, information[0][0] / determinant],
  ];
  const added = zeroMatrix(size);
  for (const i of [0, 1])
    for (const j of [0, 1]) {
      const through = product(product(P[i], phi), P[j]);
      added.forEach((row, a) => row.forEach((_, b) => (row[b] += 2 * w[i][j] * (Q[i + j][a][b] - through[a][b]))));
    }
  return {
    covariance(a, b) {
      const [left, right] = [timesVector(phi, a), timesVector(phi, b)];
      const plain = inner(a, right);
      const extra = inner(left, timesVector(added, right));
      return variance * (a === b ? plain + Math.max(0, extra) : plain + extra);
    },
    df(along) {
      const moved = timesVector(phi, along);
      const slopes = P.map((one) => -inner(moved, timesVector(one, moved)));
      const spread = slopes.reduce((total, a, i) => total + slopes.reduce((sum, b, j) => sum + a * b * w[i][j], 0), 0);
      return (2 * inner(along, moved) ** 2) / spread;
    },
  };
}

/**
 * Kenward & Roger's P (by σ² and by τ²) and Q (by σ²σ², σ²τ², τ²τ²) in the directions of the fit, and the traces of the
 * products of the two derivatives of the rows' covariance, each times its inverse.
 */
function derivatives(
  { crossWithin, present, counts, directionSums }: GroupParts,
  rows: number,
  ratio: number,
): { P: Matrix[]; Q: Matrix[]; traces: number[] } {
  const P = [crossWithin.map((row) => row.map((value) => -value)), zeroMatrix(crossWithin.length)];
  const Q = [crossWithin.map((row) => [...row]), zeroMatrix(crossWithin.length), zeroMatrix(crossWithin.length)];
  const traces = [rows - present.length, 0, 0];
  for (const g of present) {
    const count = counts[g];
    const whole = 1 + ratio * count;
    const sums = directionSums.map((ofGroup) => ofGroup[g]);
    // One more τ² brings one more factor of the group's rows.
    P.forEach((one, i) => addOuter(one, sums, -(count ** i) / count / whole ** 2));
    Q.forEach((one, i) => addOuter(one, sums, count ** i / count / whole ** 3));
    traces.forEach((_, i) => (traces[i] += count ** i / whole ** 2));
  }
  return { P, Q, traces };
}

function product(a: Matrix, b: Matrix): number[][] {
  return a.map((row) => b.map((_, j) => row.reduce((total, value, k) => total + value * b[k][j], 0)));
}

/** Trace of a·b for any two square matrices. */
function trace(a: Matrix, b: Matrix): number {
  return a.reduce((total, row, i) => total + row.reduce((sum, value, k) => sum + value * b[k][i], 0), 0);
}
