/** Residuals as a fit would leave them if its assumptions held. */
import type { Regression } from "../fit/regression";
import { randomOf } from "../numeric/drawer";

/** A row that has a residual to judge. */
export interface JudgedRow {
  readonly row: number;
  /** 1 less its leverage. */
  readonly rest: number;
}

/**
 * Sets of normal scatter put through the same fit: what the drivers can take up is taken out, and the residuals are in
 * units of their standard errors. They are the same ones each time that they are gone through, so that none need be
 * kept.
 */
export class DrawnResiduals {
  private readonly directions: readonly Float64Array[];
  private readonly errors: Float64Array;
  private readonly sorted: Float64Array;

  constructor(
    private readonly regression: Regression,
    private readonly judged: readonly JudgedRow[],
    /** How many sets there are. */
    readonly draws: number,
    private readonly seed: number,
  ) {
    this.directions = regression.fit.directions();
    this.errors = new Float64Array(regression.fit.rows);
    this.sorted = new Float64Array(judged.length);
  }

  /** Residuals in a set. */
  get ranks(): number {
    return this.judged.length;
  }

  /** One set after another, each ascending and in the place of the one before. */
  *[Symbol.iterator](): Generator<Float64Array> {
    const { normal } = randomOf(this.seed);
    for (let i = 0; i < this.draws; i++) yield this.draw(normal);
  }

  private draw(normal: () => number): Float64Array {
    const { directions, errors, judged, sorted } = this;
    const { df } = this.regression.residual;
    for (let row = 0; row < errors.length; row++) errors[row] = normal();
    let squares = 0;
    for (const direction of directions) {
      let along = 0;
      for (let row = 0; row < errors.length; row++) along += direction[row] * errors[row];
      for (let row = 0; row < errors.length; row++) errors[row] -= along * direction[row];
    }
    for (let row = 0; row < errors.length; row++) squares += errors[row] ** 2;
    for (let i = 0; i < sorted.length; i++) {
      const { row, rest } = judged[i];
      const e = errors[row];
      sorted[i] = e / Math.sqrt(((squares - (e * e) / rest) / (df - 1)) * rest);
    }
    return sorted.sort();
  }
}
