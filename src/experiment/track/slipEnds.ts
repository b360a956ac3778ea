/** When the slip may have ended: fits over a grid that grows finer where the points can tell. */
import { there } from "../../there";
import { fitMotion, type MotionFit, type Situation } from "./fitMotion";
import { logEvidence } from "./badPoints";
import type { TrackMotion } from "./motion";

export interface SlipEnds {
  /** The fit with the smallest loss. */
  best(): MotionFit;
  /** Every end that counts, with its share of the likelihood, the other numbers and the scatter integrated out. */
  all(df: number): readonly WeighedFit[];
}

export interface WeighedFit {
  readonly fit: MotionFit;
  /** Natural logarithm of how likely it is; see badPoints.ts for what can be compared. */
  readonly log: number;
}

/** Shares of the time seen after the contact that are tried first. */
const SHARES = [0.97, 0.9, 0.8, 0.7, 0.6, 0.5, 0.42, 0.34, 0.27, 0.2, 0.14, 0.08, 0.05];
/** Natural logarithm of the likelihood that is as good as none. */
const NONE = 12;
/** So many ends are to stand where the likelihood is. */
const ENOUGH = 9;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** The end of the slip at a place in the list; at its first or last where the place lies beyond. */
function endAt(sorted: readonly MotionFit[], place: number): number {
  return there(sorted[Math.min(sorted.length - 1, Math.max(0, place))], "a fit that was made").motion.slipEnd;
}

/**
 * Closes in on the best end between its neighbours (golden section; Kiefer, Proc. Am. Math. Soc. 4 (1953) 502).
 * @param sorted fits by their ends
 * @param nearest ends closer than this are one
 */
function closeIn(
  sorted: readonly MotionFit[],
  lossAt: (slipEnd: number) => number,
  rounds: number,
  nearest: number,
): void {
  if (sorted.length === 0) return;
  const at = sorted.indexOf(sorted.reduce((least, fit) => (fit.loss < least.loss ? fit : least)));
  let low = endAt(sorted, at - 1);
  let high = endAt(sorted, at + 1);
  let [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [lossA, lossB] = [lossAt(a), lossAt(b)];
  for (let round = 0; round < rounds && high - low > nearest; round++) {
    if (lossA < lossB) {
      [high, b, lossB] = [b, a, lossA];
      a = high - GOLDEN * (high - low);
      lossA = lossAt(a);
    } else {
      [low, a, lossA] = [a, b, lossB];
      b = low + GOLDEN * (high - low);
      lossB = lossAt(b);
    }
  }
}

/** @param roughly whether the ends that are tried first are enough */
export function slipEnds(situation: Situation, start: TrackMotion, roughly = false): SlipEnds {
  const { origin } = start;
  const seen = there(situation.points.at(-1), "a last point").time - origin;
  /** By when the slip ends; Infinity for a slip that outlasts the track. */
  const fits = new Map<number, MotionFit>();
  const fitAt = (slipEnd: number, from: TrackMotion) => {
    const known = fits.get(slipEnd);
    if (known) return known;
    const fit = fitMotion(situation, { ...from, slipEnd });
    if (fit) fits.set(slipEnd, fit);
    return fit;
  };
  // From the longest slip, where a parabola is the answer, to shorter ones, each beginning where the one before ended.
  let motion = fitAt(Infinity, start)?.motion ?? start;
  for (const share of roughly ? SHARES.filter((_, i) => i % 2 === 1) : SHARES)
    motion = fitAt(origin + share * seen, motion)?.motion ?? motion;
  if (fits.size === 0) throw new RangeError("the points lie too close together to tell how the ball moved");

  const best = () => [...fits.values()].reduce((least, fit) => (fit.loss < least.loss ? fit : least));
  const finite = () =>
    [...fits.values()]
      .filter(({ motion: { slipEnd } }) => slipEnd < Infinity)
      .sort((a, b) => a.motion.slipEnd - b.motion.slipEnd);

  const lossAt = (slipEnd: number) => fitAt(slipEnd, best().motion)?.loss ?? Infinity;
  closeIn(finite(), lossAt, 5, 1e-6 * seen);

  const all = (df: number) => {
    closeIn(finite(), lossAt, 24, 1e-6 * seen);
    const log = (fit: MotionFit) => logEvidence(fit, df);
    for (let round = 0; round < 6; round++) {
      const sorted = finite();
      if (sorted.length === 0) break;
      const top = Math.max(...sorted.map(log));
      const inside = sorted.flatMap((fit, i) => (log(fit) > top - NONE ? [i] : []));
      if (inside.length >= ENOUGH) break;
      const low = endAt(sorted, Math.min(...inside) - 1);
      const high = endAt(sorted, Math.max(...inside) + 1);
      for (let i = 1; i < 12; i++) fitAt(low + ((high - low) * i) / 12, best().motion);
    }
    const sorted = finite();
    const weighed = sorted.map((fit, i) => {
      const [before, after] = [endAt(sorted, i - 1), endAt(sorted, i + 1)];
      return { fit, log: log(fit) + Math.log((after - before) / (2 * seen)) };
    });
    const longest = fits.get(Infinity);
    return longest ? [...weighed, { fit: longest, log: log(longest) }] : weighed;
  };
  return { best, all };
}
