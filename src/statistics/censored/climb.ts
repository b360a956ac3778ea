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

/**
 * Sessions that differ by more than so many scatters are not told from ones that differ by more still: where every
 * session is a clean step of its own, the likelihood would rise for ever, if ever less. λ ends here.
 */
export const MOST_LAMBDA = 50;

const STEPS = 80;
/** A height that a step no longer adds to. */
const NOTHING = 1e-12;

/** Where a climb begins, and what holds it. */
export interface Climb {
  readonly start: readonly number[];
  readonly tie?: Tie;
  /** Parameters that keep the value they start with. */
  readonly still?: readonly number[];
  /**
   * A rise that is taken for granted and not climbed: where the next step promises less, the promise is added. Where
   * the height is asked for and not the place, it saves the last of the steps.
   */
  readonly enough?: number;
}

/**
 * Climbs by Newton's steps with exact derivatives, halved where they overshoot. Where the surface is not concave, as it
 * may be in λ, the step follows the size of each curvature and not its sign.
 */
export function climb(data: CensoredRows, { start, tie, still = [], enough = 0 }: Climb): Summit {
  const all = start.map((_, j) => j).filter((j) => j !== tie?.pivot && !still.includes(j));
  let place = tie ? tied(start, data, tie) : [...start];
  let here = heightAt(data, place);
  for (let step = 0; step < STEPS; step++) {
    const { free, slope, curvature } = inRange(reduced(here, place, all, data, tie), place, data.directions + 1);
    const found = newtonStep(slope, curvature);
    if (!found) return { ...here, place, settled: false };
    const { move } = found;
    const promised = inner(slope, move) / 2;
    if (found.concave && promised < enough)
      return { ...here, value: here.value + promised, place: moved(place, free, move, data, tie), settled: true };
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

interface Reduced {
  readonly free: readonly number[];
  readonly slope: number[];
  readonly curvature: number[][];
}

/** Without λ where it is at the end of its range and would go on. @param at the place of λ */
function inRange(all: Reduced, place: readonly number[], at: number): Reduced {
  const lambda = place[at] ?? 0;
  const index = all.free.indexOf(at);
  if (index < 0 || Math.abs(lambda) < MOST_LAMBDA || all.slope[index] * lambda <= 0) return all;
  const others = (_: unknown, j: number) => j !== index;
  return {
    free: all.free.filter(others),
    slope: all.slope.filter(others),
    curvature: all.curvature.filter(others).map((row) => row.filter(others)),
  };
}

/** The place after a step of the free parameters. */
function moved(
  place: readonly number[],
  free: readonly number[],
  move: readonly number[],
  data: CensoredRows,
  tie: Tie | undefined,
  share = 1,
): number[] {
  const next = [...place];
  free.forEach((j, a) => (next[j] += share * move[a]));
  const at = data.directions + 1;
  if (free.includes(at)) next[at] = Math.max(-MOST_LAMBDA, Math.min(MOST_LAMBDA, next[at]));
  return tie ? tied(next, data, tie) : next;
}

/** Slope and curvature by the free parameters, the pivot following the tie. */
function reduced(
  { slope, curvature }: Height,
  place: readonly number[],
  free: readonly number[],
  { directions }: CensoredRows,
  tie: Tie | undefined,
): Reduced {
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
  return { free, slope: free.map((j, a) => slope[j] + (tie ? along[a] * slope[pivot] : 0)), curvature: result };
}

interface Step {
  readonly move: number[];
  /** Whether the surface is concave here, so that half of slope · move is what the step will add. */
  readonly concave: boolean;
}

function newtonStep(slope: readonly number[], curvature: readonly (readonly number[])[]): Step | undefined {
  if (slope.length === 0) return { move: [], concave: true };
  const down = curvature.map((row) => row.map((entry) => -entry));
  if (!down.every((row) => row.every(Number.isFinite))) return undefined;
  const inverse = down.every((row, j) => row[j] > 0) ? invertDefinite(down)?.inverse : undefined;
  if (inverse) return { move: timesVector(inverse, slope), concave: true };
  const parts = eigen(down);
  const most = Math.max(...parts.values.map(Math.abs));
  if (!(most > 1e-200)) return undefined;
  const bounded = mapEigenvalues(parts, (value) => 1 / Math.max(Math.abs(value), 1e-9 * most));
  return { move: timesVector(bounded, slope), concave: false };
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
    const tried = moved(place, free, move, data, tie, share);
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
