/**
 * Profile likelihood: what a quantity may be, every other parameter at its best for it.
 *
 * In (γ, θ, λ) = (β/σ, 1/σ, τ/σ) every quantity that is asked for is held by a tie that is straight but for √(1 + λ²),
 * so that each point of a profile is one climb.
 */
import { inner } from "../numeric/symmetric";
import { climb, MOST_LAMBDA, type Summit, type Tie } from "./climb";
import type { CensoredRows } from "./likelihood";

/** Something that the parameters say, and the tie that holds it at a value. */
export interface ProfiledQuantity {
  at(place: readonly number[]): number;
  tie(value: number): Tie;
  /** The least value that there is; none when left out. */
  readonly least?: number;
  /** Whether its lower end is none where λ is at the end of its range: what falls then is the range, not the rows. */
  readonly openAtMost?: boolean;
}

/** Places of θ and λ behind the directions. */
const thetaAt = ({ directions }: CensoredRows) => directions;
const lambdaAt = ({ directions }: CensoredRows) => directions + 1;
const sizeOf = (data: CensoredRows) => data.directions + (data.sessions ? 2 : 1);

/** What may take the pivot: the direction that counts most, so that nothing is divided by a small number. */
function tieOf(data: CensoredRows, along: readonly number[], theta: number, constant: number, root: number): Tie {
  const pivot = along.reduce((best, value, j) => (Math.abs(value) > Math.abs(along[best]) ? j : best), 0);
  const factors = new Array<number>(sizeOf(data)).fill(0);
  along.forEach((value, j) => {
    if (j !== pivot) factors[j] = -value / along[pivot];
  });
  factors[thetaAt(data)] = theta / along[pivot];
  return { pivot, constant: constant / along[pivot], factors, root: root / along[pivot] };
}

/**
 * What a row at a setting surpasses with the chance whose normal deviate is `deviate`: (xᵀγ − deviate·w)/θ.
 * @param along the setting's combination of the directions
 * @param everySession with the scatter of sessions (w = √(1 + λ²)), or in an average session (w = 1)
 */
export function surpassed(
  data: CensoredRows,
  along: readonly number[],
  deviate: number,
  everySession: boolean,
): ProfiledQuantity {
  const wide = everySession && data.sessions !== undefined;
  return {
    at: (place) =>
      (inner(along, place) - deviate * (wide ? Math.hypot(1, place[lambdaAt(data)]) : 1)) / place[thetaAt(data)],
    tie: (value) => tieOf(data, along, value, wide ? 0 : deviate, wide ? deviate : 0),
  };
}

/** The normal deviate of the chance that a row at a setting surpasses a bound. */
export function chanceDeviate(
  data: CensoredRows,
  along: readonly number[],
  bound: number,
  everySession: boolean,
): ProfiledQuantity {
  const wide = everySession && data.sessions !== undefined;
  return {
    at: (place) =>
      (inner(along, place) - bound * place[thetaAt(data)]) / (wide ? Math.hypot(1, place[lambdaAt(data)]) : 1),
    tie: (value) => tieOf(data, along, bound, wide ? 0 : value, wide ? value : 0),
  };
}

/** The logarithm of the scatter σ. */
export function logScatter(data: CensoredRows): ProfiledQuantity {
  return {
    openAtMost: true,
    at: (place) => -Math.log(place[thetaAt(data)]),
    tie: (value) => ({
      pivot: thetaAt(data),
      constant: Math.exp(-value),
      factors: new Array<number>(sizeOf(data)).fill(0),
      root: 0,
    }),
  };
}

/** The standard deviation between sessions, τ. */
export function betweenSessions(data: CensoredRows): ProfiledQuantity {
  return {
    least: 0,
    at: (place) => Math.abs(place[lambdaAt(data)]) / place[thetaAt(data)],
    tie: (value) => ({
      pivot: lambdaAt(data),
      constant: 0,
      factors: Array.from({ length: sizeOf(data) }, (_, j) => (j === thetaAt(data) ? value : 0)),
      root: 0,
    }),
  };
}

/** One end of an interval: where the profile has fallen by `fall`, or null where it never falls so far. */
export type End = number | null;

/**
 * The interval of the values whose profile lies less than `fall` below the top.
 * @param fall of twice the log likelihood
 * @param unit a length of the quantity to begin with, such as its standard error
 */
export function profileInterval(
  data: CensoredRows,
  top: Summit,
  quantity: ProfiledQuantity,
  fall: number,
  unit: number,
): { readonly low: End; readonly high: End } {
  const middle = quantity.at(top.place);
  // Where the likelihood rises on to θ = 0, no value of the quantity is nearest.
  if (!(top.place[thetaAt(data)] > 0) || !Number.isFinite(middle)) return { low: null, high: null };
  return {
    low: profileEnd(data, top, quantity, { middle, side: -1, fall, unit }),
    high: profileEnd(data, top, quantity, { middle, side: 1, fall, unit }),
  };
}

interface Way {
  readonly middle: number;
  readonly side: 1 | -1;
  readonly fall: number;
  readonly unit: number;
}

function profileEnd(
  data: CensoredRows,
  top: Summit,
  quantity: ProfiledQuantity,
  { middle, side, fall, unit }: Way,
): End {
  const cut = Math.sqrt(fall);
  const beyond = fallBeyond(data, top, cut, (distance) => quantity.tie(middle + side * distance));
  const furthest = side === -1 && quantity.least !== undefined ? middle - quantity.least : Infinity;
  if (furthest === 0) return quantity.least ?? null;
  let inside: Passed = { distance: 0, excess: -cut, lambda: 0 };
  let outside = beyond(Math.min(furthest, cut * unit));
  for (let i = 0; outside.excess < 0; i++) {
    if (outside.distance === furthest) return quantity.least ?? null;
    // A profile that hardly falls over a thousand standard errors has no end there.
    if (i > 22) return null;
    const most = (i < 6 ? 1.6 : 2.5) * outside.distance;
    const aimed = 1.05 * crossing(inside, outside);
    [inside, outside] = [
      outside,
      beyond(Math.min(furthest, aimed > 1.02 * outside.distance && aimed < most ? aimed : most)),
    ];
  }
  const { distance, lambda } = closedIn(inside, outside, beyond, 1e-9 * Math.abs(middle));
  if (side === -1 && quantity.openAtMost && lambda === MOST_LAMBDA) return null;
  return middle + side * distance;
}

/** A distance from the estimate, and how far its profile lies beyond the cut, on the scale of a normal deviate. */
interface Passed {
  readonly distance: number;
  readonly excess: number;
  /** λ at its best there. */
  readonly lambda: number;
}

/** Where the straight line through two places meets the cut. */
function crossing(one: Passed, other: Passed): number {
  return one.distance + ((other.distance - one.distance) * one.excess) / (one.excess - other.excess);
}

/** So small a rise of the log likelihood is no more climbed: a promise of it is true to 1e-12. */
const PROMISE = 1e-8;

/** The profile at a distance; each climb begins where the two before point to. */
function fallBeyond(data: CensoredRows, top: Summit, cut: number, tie: (distance: number) => Tie) {
  let [before, last] = [
    { distance: 0, place: top.place },
    { distance: 0, place: top.place },
  ];
  const theta = thetaAt(data);
  return (distance: number): Passed => {
    const step = last.distance - before.distance;
    const share = step === 0 ? 0 : (distance - last.distance) / step;
    const ahead = last.place.map((value, j) => value + share * (value - before.place[j]));
    const at = profileAt(data, ahead[theta] > 0 ? ahead : last.place, tie(distance));
    [before, last] = [last, { distance, place: at.place }];
    const lambda = Math.abs(at.place[lambdaAt(data)] ?? 0);
    return { distance, lambda, excess: Math.sqrt(Math.max(0, 2 * (top.value - at.value))) - cut };
  };
}

/**
 * The distance at which the profile meets the cut, by the false position, the end that stays being weighed less each
 * time (Dowell & Jarratt, BIT 11 (1971) 168–174): the profile's root is nearly straight, so a few steps do.
 */
function closedIn(inside: Passed, outside: Passed, beyond: (distance: number) => Passed, near: number): Passed {
  let [low, high] = [inside, outside];
  for (let i = 0; i < 60 && high.distance - low.distance > near + 1e-9 * high.distance; i++) {
    const at = beyond(crossing(low, high));
    if (Math.abs(at.excess) < 1e-7) return at;
    const kept = (end: Passed) => ({ ...end, excess: end.excess / 2 });
    if (at.excess < 0) [low, high] = [at, low.distance === inside.distance ? high : kept(high)];
    else [low, high] = [high.distance === outside.distance ? low : kept(low), at];
  }
  return low;
}

/**
 * The best height along a tie, from a place near it. θ is a length of the scatter and above 0: a climb that would go
 * beyond ends on θ = 0, as the surface is concave.
 */
function profileAt(data: CensoredRows, near: readonly number[], tie: Tie): Summit {
  const theta = thetaAt(data);
  const lambda = lambdaAt(data);
  // λ = 0 is level by symmetry, so a climb that starts there would never leave it.
  const start = near.map((value, j) => (j === lambda && tie.pivot !== lambda ? Math.max(Math.abs(value), 0.2) : value));
  const found = climb(data, { start, tie, enough: PROMISE });
  if (found.place[theta] > 0 || data.exactCount > 0) return found;
  return climb(data, {
    start: found.place.map((value, j) => (j === theta ? 0 : value)),
    tie,
    still: [theta],
    enough: PROMISE,
  });
}
