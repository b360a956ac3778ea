/**
 * Fits of drawn rows without their rows: what each unit that is drawn as a whole adds to the normal equations.
 */
import type { Draw } from "../numeric/drawer";
import { invertDefinite, timesVector, zeroMatrix } from "../numeric/symmetric";

/** How far the coefficients along the directions move from those of all rows. */
export type Move = readonly number[];

/** The normal equations along the orthonormal directions of the whole fit, where cross products in doubles are safe. */
export class UnitSums {
  /** How many directions there are. */
  private readonly size: number;
  /** Numbers below and on the diagonal of the cross products; one for each direction follows. */
  private readonly triangle: number;
  private readonly width: number;
  /** Per unit: the triangle of its cross products along the directions, and its products with the residuals. */
  private readonly table: Float64Array;
  /** Those of one draw. */
  private readonly sums: Float64Array;

  /** @param units the rows of each */
  constructor(
    private readonly units: readonly (readonly number[])[],
    directions: readonly Float64Array[],
    residuals: Float64Array,
  ) {
    const size = (this.size = directions.length);
    this.triangle = (size * (size + 1)) / 2;
    const width = (this.width = this.triangle + size);
    const table = (this.table = new Float64Array(units.length * width));
    this.sums = new Float64Array(width);
    units.forEach((rows, u) => {
      for (const row of rows) {
        let place = u * width;
        for (let i = 0; i < size; i++)
          for (let j = 0; j <= i; j++) table[place++] += directions[i][row] * directions[j][row];
        for (let i = 0; i < size; i++) table[place++] += directions[i][row] * residuals[row];
      }
    });
  }

  /**
   * The fit to as many units as there are, drawn with replacement; undefined where they do not determine every
   * coefficient.
   */
  drawn(draw: Draw): Move | undefined {
    const { units, width, table, sums } = this;
    sums.fill(0);
    for (let i = 0; i < units.length; i++) {
      const start = draw(units.length) * width;
      for (let j = 0; j < width; j++) sums[j] += table[start + j];
    }
    return this.solve(sums);
  }

  /** The fits to all units but one, for each that can be left out. */
  leftOut(): Move[] {
    const { size, width, table } = this;
    return this.units.flatMap((_, u) => {
      const rest = new Float64Array(width);
      let place = 0;
      for (let i = 0; i < size; i++)
        for (let j = 0; j <= i; j++, place++) rest[place] = (i === j ? 1 : 0) - table[u * width + place];
      for (; place < width; place++) rest[place] = -table[u * width + place];
      const move = this.solve(rest);
      return move ? [move] : [];
    });
  }

  private solve(sums: Float64Array): Move | undefined {
    const { size } = this;
    const cross = zeroMatrix(size);
    let place = 0;
    for (let i = 0; i < size; i++) for (let j = 0; j <= i; j++) cross[i][j] = cross[j][i] = sums[place++];
    const solved = invertDefinite(cross);
    return solved && timesVector(solved.inverse, sums.subarray(this.triangle));
  }
}
