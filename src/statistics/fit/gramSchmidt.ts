/**
 * Modified Gram–Schmidt in double-double arithmetic: slow, and right for any design.
 *
 * The response is carried through as the last column, which makes modified Gram–Schmidt backward stable (Björck,
 * "Solving linear least squares problems by Gram–Schmidt orthogonalization", BIT 7 (1967) 1–21). With 32 digits in
 * every step, coefficients and standard errors keep the digits that the given doubles determine, also on the hard
 * polynomials of the NIST StRD linear set.
 */
import {
  copyColumn,
  divide,
  dot,
  subtractMultiple,
  type Column,
  type Pair,
  type PairColumn,
} from "../numeric/doubleDouble";
import { backSubstitute, type DependentColumn, type Factored } from "./factored";

/** Rounding of the given doubles can leave this much, relative to the parts that cancel. */
const DEPENDENCE = 8 * Number.EPSILON;

export interface GramSchmidt extends Factored {
  readonly design: readonly Column[];
  readonly response: Column;
  readonly orthogonal: readonly PairColumn[];
  readonly lengths: readonly number[];
  /** What is left of the response. */
  readonly left: PairColumn;
}

/** @param earlier a factored design whose columns and response begin this one; only what is new is worked out */
export function gramSchmidt(design: readonly Column[], response: Column, earlier?: GramSchmidt): GramSchmidt {
  const rows = response.high.length;
  const begun =
    earlier &&
    earlier.response.high === response.high &&
    earlier.design.length <= design.length &&
    earlier.design.every((column, i) => column.high === design[i].high)
      ? earlier
      : undefined;
  const orthogonal: PairColumn[] = [...(begun?.orthogonal ?? [])];
  const squares: Pair[] = [...(begun?.squares ?? [])];
  const kept: number[] = [...(begun?.kept ?? [])];
  const dependent: DependentColumn[] = [...(begun?.dependent ?? [])];
  const above: (readonly Pair[])[] = [...(begun?.above ?? [])];
  const lengths: number[] = [...(begun?.lengths ?? [])];

  for (let index = lengths.length; index < design.length; index++) {
    const rest = copyColumn(design[index]);
    lengths.push(Math.sqrt(dot(rest, rest)[0]));
    const multiples = orthogonal.map((direction, j) => {
      const multiple = divide(dot(direction, rest), squares[j]);
      subtractMultiple(rest, multiple, direction);
      return multiple;
    });
    const square = dot(rest, rest);
    const factors = backSubstitute(above, multiples);
    const cancelling = factors.reduce(
      (total, factor, j) => total + Math.abs(factor[0]) * lengths[kept[j]],
      lengths[index],
    );
    const rowsExhausted = kept.length >= rows;
    if (rowsExhausted || Math.sqrt(Math.max(square[0], 0)) <= DEPENDENCE * cancelling) {
      const combination = factors
        .map((factor, j) => ({ column: kept[j], factor: factor[0] }))
        .filter(({ column: j, factor }) => Math.abs(factor) * lengths[j] > 1e-9 * lengths[index]);
      dependent.push({ column: index, rowsExhausted, combination: lengths[index] === 0 ? [] : combination });
      continue;
    }
    orthogonal.push(rest);
    squares.push(square);
    above.push(multiples);
    kept.push(index);
  }

  const left = copyColumn(begun ? begun.left : response);
  const projections = [...(begun?.projections ?? [])];
  for (let j = projections.length; j < orthogonal.length; j++) {
    const projection = divide(dot(orthogonal[j], left), squares[j]);
    subtractMultiple(left, projection, orthogonal[j]);
    projections.push(projection);
  }
  return {
    design,
    response,
    orthogonal,
    lengths,
    left,
    kept,
    dependent,
    above,
    squares,
    projections,
    residualSquares: dot(left, left)[0],
    residuals: () => left.high,
    directions: () => orthogonal.map(({ high }, j) => high.map((value) => value / Math.sqrt(squares[j][0]))),
  };
}
