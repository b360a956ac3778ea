/** Do neighbouring shots of one session go together, beyond what the fit explains? */
import { membersOf } from "../errors/errorModel";
import { normalTwoSided } from "../distributions/normal";
import { inner, traceOfProduct, zeroMatrix } from "../numeric/symmetric";
import type { WithinGroups } from "./withinGroups";

export interface Neighbours {
  /** Σ of products of neighbouring residuals over Σ of their squares. */
  readonly share: number;
  /** What that share is where neighbours do not go together; below 0, because the fit ties residuals to each other. */
  readonly expected: number;
  /** The correlation of neighbours, the share less what is expected. */
  readonly correlation: number;
  readonly standardError: number;
  readonly p: number;
  /** Pairs of neighbours. */
  readonly pairs: number;
}

/**
 * The moments of Durbin & Watson (Biometrika 37 (1950) 409–428) for normal scatter, of the residuals' neighbours within
 * sessions, and p from the normal distribution.
 * @param within a fit with its sessions taken out, across which shots are no neighbours; the plain one where there are
 * none
 * @param order a number for each row: neighbours come next to each other in it
 * @returns undefined where there are too few rows or neighbours, or no scatter
 */
export function neighbours(within: WithinGroups, order: ArrayLike<number>): Neighbours | undefined {
  const { pairs, beside } = sideBySide(within, order);
  const { df, residuals, residualSquares } = within;
  if (pairs < 3 || df < 3 || !(residualSquares > 0)) return undefined;
  const { trace, squared, traceOfSquare } = alongDirections(within, beside);
  // Traces of M·A and M·A·M·A, with M the projection on the residuals: A has no diagonal, A² has 1/4 for each
  // neighbour.
  const first = -trace;
  const second = pairs / 2 - 2 * squared + traceOfSquare;
  const expected = first / df;
  const variance = (2 * (second - first ** 2 / df)) / (df * (df + 2));
  if (!(variance > 0)) return undefined;
  const share = inner(residuals, beside(residuals)) / residualSquares;
  const standardError = Math.sqrt(variance);
  return {
    share,
    expected,
    correlation: share - expected,
    standardError,
    p: normalTwoSided((share - expected) / standardError),
    pairs,
  };
}

type Beside = (values: Float64Array) => Float64Array;

/** The neighbours of each row: half of the next and half of the one before, the symmetric matrix A. */
function sideBySide({ rows, by }: WithinGroups, order: ArrayLike<number>): { pairs: number; beside: Beside } {
  const after = new Int32Array(rows).fill(-1);
  const before = new Int32Array(rows).fill(-1);
  let pairs = 0;
  for (const members of by ? membersOf(by) : [Array.from({ length: rows }, (_, row) => row)]) {
    const sorted = [...members].sort((a, b) => order[a] - order[b]);
    sorted.slice(1).forEach((row, place) => {
      after[sorted[place]] = row;
      before[row] = sorted[place];
      pairs++;
    });
  }
  return {
    pairs,
    beside: (values) =>
      Float64Array.from(values, (_, row) => {
        const next = after[row] < 0 ? 0 : values[after[row]];
        return (next + (before[row] < 0 ? 0 : values[before[row]])) / 2;
      }),
  };
}

/**
 * With Q the orthonormal directions, those of the sessions' own levels among them: the traces of QᵀAQ and of its
 * square, and |AQ|². A session's direction is level over its rows and meets no other session's.
 */
function alongDirections({ directions, by }: WithinGroups, beside: Beside) {
  const turned = directions.map(beside);
  const crossed = zeroMatrix(directions.length);
  directions.forEach((a, i) => turned.forEach((b, j) => (crossed[i][j] = inner(a, b))));
  let trace = crossed.reduce((total, row, i) => total + row[i], 0);
  let squared = turned.reduce((total, one) => total + inner(one, one), 0);
  let traceOfSquare = traceOfProduct(crossed, crossed);
  for (const members of by ? membersOf(by) : []) {
    const n = members.length;
    if (n === 0) continue;
    // A of a level session is 1, but 1/2 at its first and last shot.
    trace += (n - 1) / n;
    squared += n === 1 ? 0 : (n - 1.5) / n;
    traceOfSquare += ((n - 1) / n) ** 2;
    for (const one of turned) traceOfSquare += (2 * members.reduce((total, row) => total + one[row], 0) ** 2) / n;
  }
  return { trace, squared, traceOfSquare };
}
