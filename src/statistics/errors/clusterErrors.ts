/** Standard errors for rows that come in groups. */
import { membersOf, type Grouping, type Scatter, type Uncertainty } from "./errorModel";
import {
  addOuter,
  eigen,
  inner,
  invertDefinite,
  mapEigenvalues,
  timesVector,
  traceOfProduct,
  zeroMatrix,
} from "../numeric/symmetric";

/**
 * The bias-reduced cluster-robust covariance CR2 (Bell & McCaffrey, Survey Methodology 28 (2002) 169–181) with equal
 * and unrelated scatter as working model, Satterthwaite's degrees of freedom for each combination of coefficients, and
 * the approximate Hotelling test for several (Pustejovsky & Tipton, Journal of Business & Economic Statistics 36 (2018)
 * 672–683, sections 3.2 and 4).
 *
 * With Q the rows of one group along the orthonormal directions, the group's adjustment (I − QQᵀ)^(−1/2) only ever
 * stands before Q, and Qᵀ(I − QQᵀ)^(−1/2) = (I − QᵀQ)^(−1/2)Qᵀ: so a matrix of the size of the coefficients is taken
 * apart, not one of the size of the group. Where it is singular the pseudo-inverse serves.
 */
export function clusterErrors(scatter: Scatter, by: Grouping): Uncertainty {
  const { parts, covariance } = partsOf(scatter, by);
  /** Rows of a single group determine the combination: how groups differ in it cannot be seen. */
  const known = (along: readonly number[]) => moments(parts, along).mean > 1e-9 * inner(along, along);
  return {
    variance: (along) => (known(along) ? inner(along, timesVector(covariance, along)) : undefined),
    df: (along) => moments(parts, along).df,
    joint: (along, values) => (along.every(known) ? hotelling(parts, covariance, along, values) : undefined),
  };
}

type Matrix = readonly (readonly number[])[];

/** A group: its adjustment B and its cross product G. */
interface Part {
  readonly adjust: Matrix;
  readonly cross: Matrix;
}

/** What a combination is to a group: B·along and G·B·along. */
interface Passed {
  readonly adjusted: readonly number[];
  readonly crossed: readonly number[];
}

function partsOf({ directions, residuals }: Scatter, by: Grouping): { parts: readonly Part[]; covariance: Matrix } {
  const size = directions.length;
  const covariance = zeroMatrix(size);
  const parts = membersOf(by)
    .filter((rows) => rows.length > 0)
    .map((rows) => {
      const cross = zeroMatrix(size);
      const pull = new Array<number>(size).fill(0);
      for (const row of rows) {
        const across = directions.map((direction) => direction[row]);
        addOuter(cross, across);
        across.forEach((value, j) => (pull[j] += value * residuals[row]));
      }
      const adjust = mapEigenvalues(eigen(cross), (value) => (1 - value > 1e-10 ? 1 / Math.sqrt(1 - value) : 0));
      addOuter(covariance, timesVector(adjust, pull));
      return { adjust, cross };
    });
  return { parts, covariance };
}

function through(parts: readonly Part[], along: readonly number[]): Passed[] {
  return parts.map(({ adjust, cross }) => {
    const adjusted = timesVector(adjust, along);
    return { adjusted, crossed: timesVector(cross, adjusted) };
  });
}

/** Mean of the variance estimate and its degrees of freedom, for scatter of variance 1. */
function moments(parts: readonly Part[], along: readonly number[]) {
  const cross = zeroMatrix(along.length);
  let mean = 0;
  let own = 0;
  for (const { adjusted, crossed } of through(parts, along)) {
    const alone = inner(adjusted, crossed);
    const lost = inner(crossed, crossed);
    mean += alone - lost;
    own += alone * alone - 2 * alone * lost;
    addOuter(cross, crossed);
  }
  return { mean, df: (mean * mean) / (own + traceOfProduct(cross, cross)) };
}

/** The approximate Hotelling test of several combinations; undefined where the groups are too few for it. */
function hotelling(
  parts: readonly Part[],
  covariance: Matrix,
  along: readonly (readonly number[])[],
  values: readonly number[],
) {
  const count = along.length;
  const estimated = invertDefinite(along.map((a) => along.map((b) => inner(a, timesVector(covariance, b)))))?.inverse;
  // Expected under the working model, and its symmetric square root to make the combinations alike.
  const first = along.map((one) => through(parts, one));
  const expected = first.map((s) =>
    first.map((t) =>
      s.reduce((total, one, g) => total + inner(one.adjusted, t[g].crossed) - inner(one.crossed, t[g].crossed), 0),
    ),
  );
  const parted = eigen(expected);
  if (!estimated || !parted.values.every((value) => value > 1e-12 * Math.max(...parted.values))) return undefined;
  const alike = mapEigenvalues(parted, (value) => 1 / Math.sqrt(value)).map((row) =>
    along[0].map((_, j) => row.reduce((total, factor, s) => total + factor * along[s][j], 0)),
  );
  const eta = (count * (count + 1)) / scatterOf(alike.map((one) => through(parts, one)));
  const df2 = eta - count + 1;
  if (!(df2 > 0)) return undefined;
  return { value: ((df2 / eta) * inner(values, timesVector(estimated, values))) / count, df2 };
}

/** How much the estimated covariance of alike combinations scatters, summed over its entries (section 3.2). */
function scatterOf(passed: readonly (readonly Passed[])[]): number {
  const mixed = passed.map((s) => passed.map((t) => mixedOf(s, t)));
  let scatter = 0;
  passed.forEach((s, i) =>
    passed.forEach((t, j) => {
      s.forEach((one, g) => {
        const other = t[g];
        const pair = inner(one.adjusted, other.crossed);
        const lost = inner(one.crossed, other.crossed);
        const ss = inner(one.adjusted, one.crossed) * inner(other.adjusted, other.crossed);
        const lostS = inner(one.crossed, one.crossed);
        const lostT = inner(other.crossed, other.crossed);
        scatter += pair * pair - 2 * pair * lost + inner(one.crossed, timesVector(mixed[j][i], other.crossed));
        scatter +=
          ss -
          inner(one.adjusted, one.crossed) * lostT -
          inner(other.adjusted, other.crossed) * lostS +
          inner(one.crossed, timesVector(mixed[i][j], other.crossed));
      });
    }),
  );
  return scatter;
}

/** Σ over groups of (G·B·s)(G·B·t)ᵀ. */
function mixedOf(s: readonly Passed[], t: readonly Passed[]): number[][] {
  const total = zeroMatrix(s[0].crossed.length);
  s.forEach(({ crossed }, g) =>
    crossed.forEach((value, i) => t[g].crossed.forEach((other, j) => (total[i][j] += value * other))),
  );
  return total;
}
