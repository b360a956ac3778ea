/**
 * The likelihood of values that are known, or known only to be at least or less than a bound, and its derivatives.
 *
 * Value = xᵀβ + session + scatter, both normal, with standard deviations τ and σ. Written in γ = β/σ, θ = 1/σ and
 * λ = τ/σ, every row is a function of η = ±(xᵀγ + λz − θ·bound) with z standard normal, and for a given λ the logarithm
 * of the likelihood is concave in (γ, θ) (Olsen, Econometrica 46 (1978) 1211–1215; with sessions integrated out, as
 * integrals of log-concave functions are log-concave: Prékopa, Acta Sci. Math. 34 (1973) 335–343).
 */
import type { Rule } from "../numeric/gaussHermite";
import { zeroMatrix } from "../numeric/symmetric";
import { seenHazard, seenLog } from "./seen";
import { shiftNodes, type ShiftNodes } from "./shiftNodes";

/** What is known of a row: its value, or that it is at least or less than the bound. */
export type Known = "value" | "at least" | "less than";

/** Rows as the likelihood takes them. */
export interface CensoredRows {
  readonly rows: number;
  /** Directions of the design; θ has the place behind them, λ the one behind θ. */
  readonly directions: number;
  /** Row by row ±(directions, −bound): its product with (γ, θ) is η without the session. */
  readonly across: Float64Array;
  /** 1 for at least, −1 otherwise. */
  readonly signs: Int8Array;
  /** 1 where the value itself is known. */
  readonly exact: Uint8Array;
  readonly exactCount: number;
  /** Share of the other rows that are taken for the opposite of what they are (see seen.ts). */
  readonly misjudged: number;
  /** Rows of each session, and the rule to integrate over it; absent where every row is on its own. */
  readonly sessions?: { readonly members: readonly (readonly number[])[]; readonly rule: Rule };
}

/** Height, slope and curvature of the log likelihood at (γ, θ) or (γ, θ, λ). */
export interface Height {
  readonly value: number;
  readonly slope: number[];
  readonly curvature: number[][];
}

const HALF_LOG_2PI = Math.log(2 * Math.PI) / 2;

/** @example rowsOf([[1, 1]], [0, 1], ["at least", "less than"]).rows // 2 */
export function rowsOf(
  directions: readonly ArrayLike<number>[],
  bounds: ArrayLike<number>,
  known: readonly Known[],
  { sessions, misjudged = 0 }: Partial<Pick<CensoredRows, "sessions" | "misjudged">> = {},
): CensoredRows {
  const width = directions.length + 1;
  const across = new Float64Array(known.length * width);
  const signs = new Int8Array(known.length);
  const exact = new Uint8Array(known.length);
  known.forEach((what, i) => {
    const sign = what === "at least" ? 1 : -1;
    signs[i] = sign;
    exact[i] = what === "value" ? 1 : 0;
    directions.forEach((direction, j) => (across[i * width + j] = sign * direction[i]));
    across[i * width + width - 1] = -sign * bounds[i];
  });
  return {
    rows: known.length,
    directions: directions.length,
    across,
    signs,
    exact,
    exactCount: exact.reduce((total, one) => total + one, 0),
    misjudged,
    ...(sessions && { sessions }),
  };
}

/** η of every row without its session. */
export function withoutSession({ rows, directions, across }: CensoredRows, place: readonly number[]): Float64Array {
  const width = directions + 1;
  const eta = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    let total = 0;
    for (let j = 0; j < width; j++) total += across[i * width + j] * place[j];
    eta[i] = total;
  }
  return eta;
}

/** The height at a place; its value is −Infinity where θ is not above 0 although values are known. */
export function heightAt(data: CensoredRows, place: readonly number[]): Height {
  const theta = place[data.directions];
  const size = place.length;
  const slope = new Array<number>(size).fill(0);
  const curvature = zeroMatrix(size);
  if (data.exactCount > 0 && !(theta > 0)) return { value: -Infinity, slope, curvature };
  const eta = withoutSession(data, place);
  const sum = { value: 0, slope, curvature };
  if (data.sessions) addSessions(data, data.sessions, eta, place, sum);
  else addRows(data, eta, sum);
  if (data.exactCount > 0) {
    sum.value += data.exactCount * Math.log(theta);
    slope[data.directions] += data.exactCount / theta;
    curvature[data.directions][data.directions] -= data.exactCount / (theta * theta);
  }
  for (let j = 0; j < size; j++) for (let k = 0; k < j; k++) curvature[k][j] = curvature[j][k];
  return sum;
}

interface Sum {
  value: number;
  readonly slope: number[];
  /** Its lower half; mirrored at the end. */
  readonly curvature: number[][];
}

function addRows({ rows, directions, across, exact, misjudged }: CensoredRows, eta: Float64Array, sum: Sum): void {
  const width = directions + 1;
  for (let i = 0; i < rows; i++) {
    const at = eta[i];
    const log = exact[i] ? (-at * at) / 2 - HALF_LOG_2PI : seenLog(at, misjudged);
    const hazard = exact[i] ? -at : seenHazard(at, misjudged, log);
    const bent = exact[i] ? -1 : -hazard * (hazard + at);
    sum.value += log;
    for (let j = 0; j < width; j++) {
      const x = across[i * width + j];
      sum.slope[j] += hazard * x;
      for (let k = 0; k <= j; k++) sum.curvature[j][k] += bent * x * across[i * width + k];
    }
  }
}

function addSessions(
  data: CensoredRows,
  { members, rule }: NonNullable<CensoredRows["sessions"]>,
  eta: Float64Array,
  place: readonly number[],
  sum: Sum,
): void {
  const { signs, exact, misjudged } = data;
  const lambda = place[data.directions + 1];
  for (const rows of members) {
    if (rows.length === 0) continue;
    const nodes = shiftNodes({ members: rows, signs, exact, misjudged, eta, lambda }, rule);
    addSession(data, rows, eta, lambda, nodes, sum);
  }
}

/**
 * A session's integral over its shift. Derivatives of the logarithm are means over the shift given the session's rows:
 * of the slopes, and of the curvatures plus the variance of the slopes (Louis, J. R. Statist. Soc. B 44 (1982)
 * 226–233).
 */
function addSession(
  { directions, across, signs, exact, misjudged }: CensoredRows,
  members: readonly number[],
  eta: Float64Array,
  lambda: number,
  { at: shifts, logWeights }: ShiftNodes,
  sum: Sum,
): void {
  const width = directions + 1;
  const size = width + 1;
  const count = shifts.length;
  /** Logarithm of the integrand, then its share of the integral. */
  const shares = new Float64Array(count);
  /** Slopes by node, one after another. */
  const slopes = new Float64Array(count * size);
  // Per row the means of curvature · (1, z, z²) need all shares first, so curvatures are kept by row and node.
  const bent = new Float64Array(members.length * count);
  for (let k = 0; k < count; k++) {
    const z = shifts[k];
    let log = logWeights[k] - (z * z) / 2;
    const base = k * size;
    for (let m = 0; m < members.length; m++) {
      const i = members[m];
      const at = eta[i] + signs[i] * lambda * z;
      const own = exact[i] ? (-at * at) / 2 - HALF_LOG_2PI : seenLog(at, misjudged);
      const hazard = exact[i] ? -at : seenHazard(at, misjudged, own);
      log += own;
      bent[m * count + k] = exact[i] ? -1 : -hazard * (hazard + at);
      for (let j = 0; j < width; j++) slopes[base + j] += hazard * across[i * width + j];
      slopes[base + width] += hazard * signs[i] * z;
    }
    shares[k] = log;
  }
  sum.value += sharesOf(shares) - HALF_LOG_2PI;
  addSlopes(shares, slopes, size, sum);
  for (let m = 0; m < members.length; m++)
    addCurvature(members[m], bent.subarray(m * count, (m + 1) * count), shifts, shares, { across, signs, width }, sum);
}

/** Turns logarithms into shares of their sum. @returns the logarithm of the sum */
function sharesOf(logs: Float64Array): number {
  let top = -Infinity;
  for (const log of logs) if (log > top) top = log;
  let total = 0;
  for (let k = 0; k < logs.length; k++) total += logs[k] = Math.exp(logs[k] - top);
  for (let k = 0; k < logs.length; k++) logs[k] /= total;
  return top + Math.log(total);
}

/** The mean of one row's curvature. @param bent the curvature by η at each node */
function addCurvature(
  i: number,
  bent: Float64Array,
  shifts: Float64Array,
  shares: Float64Array,
  { across, signs, width }: Pick<CensoredRows, "across" | "signs"> & { readonly width: number },
  sum: Sum,
): void {
  let [plain, once, twice] = [0, 0, 0];
  for (let k = 0; k < bent.length; k++) {
    const part = shares[k] * bent[k];
    plain += part;
    once += part * shifts[k];
    twice += part * shifts[k] * shifts[k];
  }
  for (let j = 0; j < width; j++) {
    const x = across[i * width + j];
    for (let l = 0; l <= j; l++) sum.curvature[j][l] += plain * x * across[i * width + l];
    sum.curvature[width][j] += once * x * signs[i];
  }
  sum.curvature[width][width] += twice;
}

/** The mean of the nodes' slopes, and to the curvature their variance. */
function addSlopes(shares: Float64Array, slopes: Float64Array, size: number, sum: Sum): void {
  const mean = new Float64Array(size);
  for (let k = 0; k < shares.length; k++) for (let j = 0; j < size; j++) mean[j] += shares[k] * slopes[k * size + j];
  for (let j = 0; j < size; j++) sum.slope[j] += mean[j];
  for (let k = 0; k < shares.length; k++)
    for (let j = 0; j < size; j++)
      for (let l = 0; l <= j; l++)
        sum.curvature[j][l] += shares[k] * (slopes[k * size + j] - mean[j]) * (slopes[k * size + l] - mean[l]);
}
