/** To the highest place of the likelihood, free or along a tie between its parameters. */
import { eigen, inner, invertDefinite, mapEigenvalues, timesVector, zeroMatrix } from "../numeric/symmetric";
import { heightAt, type CensoredRows, type Height } from "./likelihood";

/** One parameter as a combination of the others: constant + Σ factors·others + root·√(1 + λ²). */
export interface Tie {
  readonly pivot: number;
  readonly constant: number;
  /** One per parameter; the pivot's own is 0. */
  readonly factors: readonly number[];
  readonly root: number;
}

export interface Summit extends Height {
  readonly place: readonly number[];
  /** False where the likelihood goes on rising, if ever less, however far one goes. */
  readonly settled: boolean;
}

const STEPS = 80;
/** A height that a step no longer adds to. */
const NOTHING = 1e-12;

/** Where a climb begins, and what holds it. */
export interface Climb {
  readonly start: readonly number[];
  readonly tie?: Tie;
  /** Parameters that keep the value they start with. */
  readonly still?: readonly number[];
}

/**
 * Climbs by Newton's steps with exact derivatives, halved where they overshoot. Where the surface is not concave, as it
 * may be in λ, the step follows the size of each curvature and not its sign.
 */
export function climb(data: CensoredRows, { start, tie, still = [] }: Climb): Summit {
  const free = start.map((_, j) => j).filter((j) => j !== tie?.pivot && !still.includes(j));
  let place = tie ? tied(start, data, tie) : [...start];
  let here = heightAt(data, place);
  for (let step = 0; step < STEPS; step++) {
    const { slope, curvature } = reduced(here, place, free, data, tie);
    const move = newtonStep(slope, curvature);
    if (!move) return { ...here, place, settled: false };
    const next = shortened(data, place, here, free, move, tie);
    if (!next) return { ...here, place, settled: inner(slope, move) < 1e-6 };
    const length = largestChange(data, place, next.place);
    const gain = next.height.value - here.value;
    place = next.place;
    here = next.height;
    if (length <= 1e-9) return { ...here, place, settled: true };
    if (gain <= NOTHING && length > 1e-3) return { ...here, place, settled: false };
  }
  return { ...here, place, settled: false };
}

/** The place with its pivot put where the tie wants it. */
function tied(place: readonly number[], data: CensoredRows, { pivot, constant, factors, root }: Tie): number[] {
  const lambda = place[data.directions + 1] ?? 0;
  const value = constant + inner(factors, place) + (root === 0 ? 0 : root * Math.hypot(1, lambda));
  return place.map((old, j) => (j === pivot ? value : old));
}

/** Slope and curvature by the free parameters, the pivot following the tie. */
function reduced(
  { slope, curvature }: Height,
  place: readonly number[],
  free: readonly number[],
  { directions }: CensoredRows,
  tie: Tie | undefined,
): { slope: number[]; curvature: number[][] } {
  const at = directions + 1;
  const lambda = place[at] ?? 0;
  const along = free.map((j) =>
    tie ? tie.factors[j] + (j === at ? (tie.root * lambda) / Math.hypot(1, lambda) : 0) : 0,
  );
  const pivot = tie?.pivot ?? 0;
  const result = zeroMatrix(free.length);
  free.forEach((j, a) =>
    free.forEach((k, b) => {
      result[a][b] = curvature[j][k];
      if (tie)
        result[a][b] +=
          along[a] * curvature[pivot][k] +
          along[b] * curvature[j][pivot] +
          along[a] * along[b] * curvature[pivot][pivot];
      if (tie && j === at && k === at) result[a][b] += (slope[pivot] * tie.root) / Math.hypot(1, lambda) ** 3;
    }),
  );
  return { slope: free.map((j, a) => slope[j] + (tie ? along[a] * slope[pivot] : 0)), curvature: result };
}

function newtonStep(slope: readonly number[], curvature: readonly (readonly number[])[]): number[] | undefined {
  if (slope.length === 0) return [];
  const down = curvature.map((row) => row.map((entry) => -entry));
  if (!down.every((row) => row.every(Number.isFinite))) return undefined;
  const inverse = down.every((row, j) => row[j] > 0) ? invertDefinite(down)?.inverse : undefined;
  if (inverse) return timesVector(inverse, slope);
  const parts = eigen(down);
  const most = Math.max(...parts.values.map(Math.abs));
  if (!(most > 1e-200)) return undefined;
  return timesVector(
    mapEigenvalues(parts, (value) => 1 / Math.max(Math.abs(value), 1e-9 * most)),
    slope,
  );
}

function shortened(
  data: CensoredRows,
  place: readonly number[],
  here: Height,
  free: readonly number[],
  move: readonly number[],
  tie: Tie | undefined,
): { place: number[]; height: Height } | undefined {
  for (let half = 0, share = 1; half < 40; half++, share /= 2) {
    const moved = [...place];
    free.forEach((j, a) => (moved[j] += share * move[a]));
    const tried = tie ? tied(moved, data, tie) : moved;
    const height = heightAt(data, tried);
    if (height.value >= here.value - 1e-13 * Math.max(1, Math.abs(here.value))) return { place: tried, height };
  }
  return undefined;
}

/** The largest change of any row's η, and of λ. */
function largestChange(data: CensoredRows, from: readonly number[], to: readonly number[]): number {
  const width = data.directions + 1;
  let most = width < to.length ? Math.abs(Math.abs(to[width]) - Math.abs(from[width])) : 0;
  for (let i = 0; i < data.rows; i++) {
    let change = 0;
    for (let j = 0; j < width; j++) change += data.across[i * width + j] * (to[j] - from[j]);
    most = Math.max(most, Math.abs(change));
  }
  return most;
}
