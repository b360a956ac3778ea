/**
 * Small symmetric matrices: eigenvalues, functions of them, solving.
 *
 * For matrices as large as a fit has coefficients, a dozen or so; rows × rows matrices are never formed.
 */

export type Matrix = readonly (readonly number[])[];

export function zeroMatrix(size: number): number[][] {
  return Array.from({ length: size }, () => new Array<number>(size).fill(0));
}

/** target ← target + factor · v·vᵀ, in place. */
export function addOuter(target: number[][], v: ArrayLike<number>, factor = 1): void {
  for (let i = 0; i < v.length; i++) for (let j = 0; j < v.length; j++) target[i][j] += factor * v[i] * v[j];
}

export function timesVector(matrix: Matrix, v: ArrayLike<number>): number[] {
  return matrix.map((row) => row.reduce((total, entry, j) => total + entry * v[j], 0));
}

export function inner(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < a.length; i++) total += a[i] * b[i];
  return total;
}

/** Σ aᵢⱼ·bᵢⱼ: the trace of a·b for symmetric a and b. */
export function traceOfProduct(a: Matrix, b: Matrix): number {
  return a.reduce((total, row, i) => total + inner(row, b[i]), 0);
}

export interface Eigen {
  readonly values: readonly number[];
  /** vectors[j] belongs to values[j]; they are orthonormal. */
  readonly vectors: Matrix;
}

/**
 * Eigenvalues and eigenvectors by Jacobi's rotations (Journal für die reine und angewandte Mathematik 30 (1846) 51–94),
 * cyclic, until every entry off the diagonal is zero to rounding.
 * @example eigen([[2, 1], [1, 2]]).values // [1, 3]
 */
export function eigen(matrix: Matrix): Eigen {
  const n = matrix.length;
  const a = matrix.map((row) => [...row]);
  const vectors = zeroMatrix(n);
  for (let i = 0; i < n; i++) vectors[i][i] = 1;
  const size = Math.sqrt(traceOfProduct(a, a));
  for (let sweep = 0; sweep < 60; sweep++) {
    let off = 0;
    for (let i = 0; i < n; i++) for (let j = i + 1; j < n; j++) off = Math.max(off, Math.abs(a[i][j]));
    if (off <= 1e-17 * size) break;
    for (let p = 0; p < n; p++) {
      for (let q = p + 1; q < n; q++) {
        if (a[p][q] === 0) continue;
        const half = (a[q][q] - a[p][p]) / (2 * a[p][q]);
        const t = (half < 0 ? -1 : 1) / (Math.abs(half) + Math.hypot(1, half));
        const c = 1 / Math.hypot(1, t);
        const s = t * c;
        for (let k = 0; k < n; k++) [a[k][p], a[k][q]] = [c * a[k][p] - s * a[k][q], s * a[k][p] + c * a[k][q]];
        for (let k = 0; k < n; k++) [a[p][k], a[q][k]] = [c * a[p][k] - s * a[q][k], s * a[p][k] + c * a[q][k]];
        for (let k = 0; k < n; k++)
          [vectors[p][k], vectors[q][k]] = [
            c * vectors[p][k] - s * vectors[q][k],
            s * vectors[p][k] + c * vectors[q][k],
          ];
      }
    }
  }
  return { values: a.map((row, i) => row[i]), vectors };
}

/** The symmetric matrix with the same eigenvectors and f of the eigenvalues. */
export function mapEigenvalues({ values, vectors }: Eigen, f: (value: number) => number): number[][] {
  const result = zeroMatrix(values.length);
  values.forEach((value, j) => addOuter(result, vectors[j], f(value)));
  return result;
}

export interface Definite {
  readonly inverse: number[][];
  /** Natural logarithm of the determinant. */
  readonly logDeterminant: number;
}

/** Inverse and determinant of a positive definite matrix; undefined when it is singular to rounding. */
export function invertDefinite(matrix: Matrix): Definite | undefined {
  const scale = matrix.map((row, i) => 1 / Math.sqrt(row[i]));
  const n = matrix.length;
  const lower: number[][] = [];
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    lower.push([]);
    for (let j = 0; j <= i; j++) {
      let entry = matrix[i][j] * scale[i] * scale[j];
      for (let k = 0; k < j; k++) entry -= lower[i][k] * lower[j][k];
      if (i === j && !(entry > 1e-15)) return undefined;
      lower[i].push(i === j ? Math.sqrt(entry) : entry / lower[j][j]);
    }
    logDeterminant += 2 * Math.log(lower[i][i] / scale[i]);
  }
  const inverse = zeroMatrix(n);
  for (let column = 0; column < n; column++) {
    const x = new Array<number>(n).fill(0);
    for (let i = column; i < n; i++) {
      let rest = i === column ? 1 : 0;
      for (let k = column; k < i; k++) rest -= lower[i][k] * x[k];
      x[i] = rest / lower[i][i];
    }
    for (let i = n - 1; i >= 0; i--) {
      for (let k = i + 1; k < n; k++) x[i] -= lower[k][i] * x[k];
      x[i] /= lower[i][i];
    }
    for (let i = 0; i < n; i++) inverse[i][column] = x[i] * scale[i] * scale[column];
  }
  return { inverse, logDeterminant };
}
