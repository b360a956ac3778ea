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
  const begun = earlier && begins(earlier, design, response) ? earlier : undefined;
  const columns = new Orthogonal(begun);
  for (const column of design.slice(columns.lengths.length)) columns.add(column);
  const { orthogonal, squares } = columns;
  const left = copyColumn(begun ? begun.left : response);
  const projections = [...(begun?.projections ?? [])];
  for (let j = projections.length; j < orthogonal.length; j++)
    projections.push(takeOut(orthogonal[j], squares[j], left));
  return {
    design,
    response,
    orthogonal,
    lengths: columns.lengths,
    left,
    kept: columns.kept,
    dependent: columns.dependent,
    above: columns.above,
    squares,
    projections,
    residualSquares: dot(left, left)[0],
    residuals: () => left.high,
    directions: () => orthogonal.map(({ high }, j) => high.map((value) => value / Math.sqrt(squares[j][0]))),
  };
}

/** Whether the same cells, by their identity, come first in the design. */
function begins(earlier: GramSchmidt, design: readonly Column[], response: Column): boolean {
  return (
    earlier.response.high === response.high &&
    earlier.design.length <= design.length &&
    earlier.design.every((column, i) => column.high === design[i].high)
  );
}

/** Takes a direction out of a column, in place. @returns the multiple of the direction that was in it */
function takeOut(direction: PairColumn, square: Pair, rest: PairColumn): Pair {
  const multiple = divide(dot(direction, rest), square);
  subtractMultiple(rest, multiple, direction);
  return multiple;
}

/** The columns of a design made orthogonal to each other, one after another; see Factored and GramSchmidt. */
class Orthogonal {
  readonly orthogonal: PairColumn[];
  readonly squares: Pair[];
  readonly kept: number[];
  readonly dependent: DependentColumn[];
  readonly above: (readonly Pair[])[];
  readonly lengths: number[];

  constructor(begun: GramSchmidt | undefined) {
    this.orthogonal = [...(begun?.orthogonal ?? [])];
    this.squares = [...(begun?.squares ?? [])];
    this.kept = [...(begun?.kept ?? [])];
    this.dependent = [...(begun?.dependent ?? [])];
    this.above = [...(begun?.above ?? [])];
    this.lengths = [...(begun?.lengths ?? [])];
  }

  add(column: Column): void {
    const { orthogonal, squares, kept, dependent, above, lengths } = this;
    const rest = copyColumn(column);
    const index = lengths.push(Math.sqrt(dot(rest, rest)[0])) - 1;
    const multiples = orthogonal.map((direction, j) => takeOut(direction, squares[j], rest));
    const square = dot(rest, rest);
    const factors = backSubstitute(above, multiples);
    const rowsExhausted = kept.length >= column.high.length;
    if (rowsExhausted || Math.sqrt(Math.max(square[0], 0)) <= DEPENDENCE * this.cancelling(index, factors)) {
      dependent.push({ column: index, rowsExhausted, combination: this.combination(index, factors) });
      return;
    }
    orthogonal.push(rest);
    squares.push(square);
    above.push(multiples);
    kept.push(index);
  }

  /** Length of the parts that cancelled when factors of the kept columns were taken out of a column. */
  private cancelling(index: number, factors: readonly Pair[]): number {
    const { kept, lengths } = this;
    return factors.reduce((total, factor, j) => total + Math.abs(factor[0]) * lengths[kept[j]], lengths[index]);
  }

  /** The kept columns that make up a dependent one. */
  private combination(index: number, factors: readonly Pair[]): DependentColumn["combination"] {
    const { kept, lengths } = this;
    if (lengths[index] === 0) return [];
    return factors
      .map((factor, j) => ({ column: kept[j], factor: factor[0] }))
      .filter(({ column, factor }) => Math.abs(factor) * lengths[column] > 1e-9 * lengths[index]);
  }
}
