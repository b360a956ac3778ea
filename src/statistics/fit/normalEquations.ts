/**
 * Normal equations of least squares where every observation is a place in the plane: JᵀWJ, and JᵀW times what is left
 * over.
 */
import { zeroMatrix } from "../numeric/symmetric";

export class NormalEquations {
  private readonly matrix: number[][];
  private readonly side: number[];

  /** @param size how many numbers are fitted */
  constructor(size: number) {
    this.matrix = zeroMatrix(size);
    this.side = new Array<number>(size).fill(0);
  }

  /**
   * Adds what a place tells.
   * @param slopesX of its first coordinate by every number, of which `restX` is left over; the same of the second
   */
  addPlace(weight: number, slopesX: ArrayLike<number>, restX: number, slopesY: ArrayLike<number>, restY: number): void {
    for (let j = 0; j < this.side.length; j++) {
      this.side[j] += weight * (slopesX[j] * restX + slopesY[j] * restY);
      for (let k = 0; k <= j; k++) this.matrix[j][k] += weight * (slopesX[j] * slopesX[k] + slopesY[j] * slopesY[k]);
    }
  }

  /** Adds what is known of one number beforehand: how closely, and that times how far off it is now. */
  addNumber(place: number, closeness: number, pull: number): void {
    this.matrix[place][place] += closeness;
    this.side[place] += pull;
  }

  /** The equations with both halves of the matrix. */
  whole(): { readonly matrix: readonly (readonly number[])[]; readonly side: readonly number[] } {
    const { matrix, side } = this;
    for (let j = 0; j < side.length; j++) for (let k = 0; k < j; k++) matrix[k][j] = matrix[j][k];
    return { matrix, side };
  }
}
