/** The likelihood of made and missed by drivers: the way to its top, with Firth's penalty or without; its profile. */
import { addOuter, inner, invertDefinite, timesVector, zeroMatrix } from "../numeric/symmetric";

/** Rows along the orthonormal directions of a design, and what became of them. */
export interface Shots {
  readonly directions: readonly Float64Array[];
  /** 1 for made, 0 for missed. */
  readonly made: ArrayLike<number>;
}

/** Where the climb ended. */
export interface Summit {
  readonly place: readonly number[];
  readonly inverse: readonly (readonly number[])[];
  readonly logLikelihood: number;
  /** What was climbed: the likelihood's logarithm, with the penalty if there is one. */
  readonly height: number;
}

/** What there is to know at one place of the climb. */
interface Height {
  readonly logLikelihood: number;
  readonly height: number;
  readonly inverse: readonly (readonly number[])[];
  readonly shares: readonly { readonly chance: number; readonly missing: number; readonly weight: number }[];
}

/** exp(x) / (1 + exp(x)). */
export function share(x: number): number {
  return x >= 0 ? 1 / (1 + Math.exp(-x)) : Math.exp(x) / (1 + Math.exp(x));
}

/** log(1 + exp(x)). */
function softplus(x: number): number {
  return x > 0 ? x + Math.log1p(Math.exp(-x)) : Math.log1p(Math.exp(x));
}

/** What is climbed: the rows, each across the directions. */
interface Slope {
  readonly across: readonly (readonly number[])[];
  readonly made: ArrayLike<number>;
  readonly penalised: boolean;
}

/** Undefined where the information has no inverse. */
function heightAt({ across, made, penalised }: Slope, place: readonly number[]): Height | undefined {
  let logLikelihood = 0;
  const information = zeroMatrix(place.length);
  const shares = across.map((row, i) => {
    const odds = inner(row, place);
    logLikelihood += made[i] * odds - softplus(odds);
    const chance = share(odds);
    addOuter(information, row, chance * share(-odds));
    // As a difference from 1 the chance of a miss would vanish, and with it the slope that tells separation.
    return { chance, missing: made[i] === 1 ? share(-odds) : -chance, weight: chance * share(-odds) };
  });
  const solved = place.length === 0 ? { inverse: [], logDeterminant: 0 } : invertDefinite(information);
  return (
    solved && {
      logLikelihood,
      height: logLikelihood + (penalised ? solved.logDeterminant / 2 : 0),
      inverse: solved.inverse,
      shares,
    }
  );
}

/** Newton's step; along the slice on which a fixed combination keeps its value, where there is one. */
function newtonStep({ across, penalised }: Slope, { inverse, shares }: Height, fixed?: readonly number[]): number[] {
  const slope = new Array<number>(inverse.length).fill(0);
  across.forEach((row, i) => {
    const { chance, missing, weight } = shares[i];
    const pull = missing + (penalised ? weight * inner(row, timesVector(inverse, row)) * (0.5 - chance) : 0);
    row.forEach((value, j) => (slope[j] += value * pull));
  });
  const move = timesVector(inverse, slope);
  if (!fixed) return move;
  const back = timesVector(inverse, fixed);
  const part = inner(fixed, move) / inner(fixed, back);
  return move.map((value, j) => value - part * back[j]);
}

/** A place along a move that is no lower, the move being halved until there is one. */
function noLower(slope: Slope, place: readonly number[], here: Height, whole: readonly number[]) {
  let move = whole;
  for (let half = 0; half < 40; half++) {
    const tried = place.map((value, j) => value + move[j]);
    const next = heightAt(slope, tried);
    if (next && next.height >= here.height - 1e-10 * Math.abs(here.height)) return { place: tried, here: next };
    move = move.map((value) => value / 2);
  }
  return undefined;
}

/**
 * Climbs to the top of the likelihood, or of Firth's with half the logarithm of the information's determinant added.
 * @param from where to start, and a combination that must keep the value it has there; everything at 0, and free,
 * unless said
 * @returns undefined when there is no top: on a separated likelihood every step moves some row's log odds by about 1,
 * for ever, where towards a top the steps shrink with the square of their length
 */
export function climb(
  { directions, made }: Shots,
  penalised: boolean,
  from?: { readonly start: readonly number[]; readonly fixed: readonly number[] },
): Summit | undefined {
  const across = Array.from({ length: made.length }, (_, row) => directions.map((direction) => direction[row]));
  const slope = { across, made, penalised };
  const reach = (list: readonly number[]) =>
    across.reduce((most, row) => Math.max(most, Math.abs(inner(row, list))), 0);
  let place: readonly number[] = from?.start ?? new Array<number>(directions.length).fill(0);
  let here = heightAt(slope, place);
  let damping = 1;
  let before: readonly number[] = place;
  for (let step = 0; step < (penalised ? 2000 : 60) && here; step++) {
    const move = newtonStep(slope, here, from?.fixed);
    const length = reach(move);
    // The information is not the penalised curve itself: steps that swing to and fro are shortened.
    if (penalised && inner(move, before) < 0 && damping > 0.1) damping /= 2;
    before = move;
    const next = noLower(
      slope,
      place,
      here,
      move.map((value) => value * damping),
    );
    if (!next) return undefined;
    ({ place, here } = next);
    if (length <= 1e-11 * (1 + reach(place)))
      return { place, inverse: here.inverse, logLikelihood: here.logLikelihood, height: here.height };
  }
  return undefined;
}

/** The highest place of the penalised likelihood where a combination has a value, climbed to from a place near it. */
export function slice(shots: Shots, near: Summit, along: readonly number[], value: number): Summit | undefined {
  const back = timesVector(near.inverse, along);
  const step = (value - inner(along, near.place)) / inner(along, back);
  return climb(shots, true, { start: near.place.map((at, j) => at + step * back[j]), fixed: along });
}

/** How far one place lies below the summit, as a normal deviate. */
export function depth(summit: Summit, best: Summit | undefined): number {
  return best ? Math.sqrt(2 * Math.max(0, summit.height - best.height)) : NaN;
}

/**
 * Where the profile of a combination has fallen by as much as the quantile says, on one side.
 * @returns null where it never falls so far, or cannot be followed
 */
export function profileEnd(
  shots: Shots,
  summit: Summit,
  along: readonly number[],
  side: 1 | -1,
  quantile: number,
): number | null {
  const value = inner(along, summit.place);
  const error = Math.sqrt(inner(along, timesVector(summit.inverse, along)));
  let near = summit;
  const short = (distance: number) => {
    const best = slice(shots, near, along, value + side * distance * error);
    if (best) near = best;
    return depth(summit, best) - quantile;
  };
  let [low, high] = [0, quantile / 2];
  let [atLow, atHigh] = [-quantile, short(high)];
  for (let i = 0; atHigh < 0 && i < 30; i++) {
    [low, atLow, high] = [high, atHigh, 1.4 * high];
    atHigh = short(high);
  }
  if (!(atHigh >= 0)) return null;
  for (let i = 0; i < 60 && high - low > 1e-10 * high; i++) {
    // Halving every third time keeps the secant from creeping.
    const next = i % 3 === 2 ? (low + high) / 2 : low + ((high - low) * atLow) / (atLow - atHigh);
    const at = short(next);
    if (Number.isNaN(at)) return null;
    if (Math.abs(at) < 1e-10) return value + side * next * error;
    if (at < 0) [low, atLow] = [next, at];
    else [high, atHigh] = [next, at];
  }
  return value + (side * (low + high) * error) / 2;
}
