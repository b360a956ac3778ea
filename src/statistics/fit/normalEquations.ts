/**
 * Normal equations of least squares where every observation is a place in the plane: JᵀWJ, and JᵀW times what is left
 * over.
 */

export class NormalEquations {
  /** Row by row; only what lies on and below the diagonal is summed. */
  private readonly matrix: Float64Array;
  private readonly side: Float64Array;

  /** @param size how many numbers are fitted */
  constructor(private readonly size: number) {
    this.matrix = new Float64Array(size * size);
    this.side = new Float64Array(size);
  }

  /**
   * Adds what a place tells.
   * @param slopesX of its first coordinate by every number, of which `restX` is left over; the same of the second
   */
  addPlace(weight: number, slopesX: Float64Array, restX: number, slopesY: Float64Array, restY: number): void {
    const { matrix, side, size } = this;
    for (let j = 0; j < size; j++) {
      const x = weight * slopesX[j];
      const y = weight * slopesY[j];
      side[j] += x * restX + y * restY;
      for (let k = 0; k <= j; k++) matrix[j * size + k] += x * slopesX[k] + y * slopesY[k];
    }
  }

  /** Adds what is known of one number beforehand: how closely, and that times how far off it is now. */
  addNumber(place: number, closeness: number, pull: number): void {
    this.matrix[place * this.size + place] += closeness;
    this.side[place] += pull;
  }

  /** The equations with both halves of the matrix. */
  whole(): { readonly matrix: readonly (readonly number[])[]; readonly side: readonly number[] } {
    const { matrix, side, size } = this;
    const rows = Array.from({ length: size }, (_, j) =>
      Array.from({ length: size }, (__, k) => matrix[Math.max(j, k) * size + Math.min(j, k)]),
    );
    return { matrix: rows, side: Array.from(side) };
  }
}
