/** When the slip may have ended: fits over a grid that grows finer where the points can tell. */
import { fitMotion, type MotionFit, type Situation } from "./fitMotion";
import { there } from "../../there";
import { WHEN, type MotionParameters } from "./motion";

export interface SlipEnds {
  /** The fit with the smallest loss. */
  best(): MotionFit;
  /** Every end that counts, with its share of the likelihood, the other numbers and the scatter integrated out. */
  all(df: number): readonly { readonly fit: MotionFit; readonly weight: number }[];
}

/** Shares of the time seen after the contact that are tried first. */
const SHARES = [0.97, 0.9, 0.8, 0.7, 0.6, 0.5, 0.42, 0.34, 0.27, 0.2, 0.14, 0.08, 0.05];
/** Natural logarithm of the likelihood that is as good as none. */
const NONE = 12;
/** So many ends are to stand where the likelihood is. */
const ENOUGH = 9;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** The end of the slip at a place in the list; at its first or last where the place lies beyond. */
function slippingAt(sorted: readonly MotionFit[], place: number): number {
  return there(sorted[Math.min(sorted.length - 1, Math.max(0, place))], "a fit that was made").slipping;
}

/** @param roughly whether the ends that are tried first are enough */
export function slipEnds(situation: Omit<Situation, "slipping">, start: MotionParameters, roughly = false): SlipEnds {
  const { points } = situation;
  const seen = there(points.at(-1), "a last point").time - start[WHEN];
  /** By the slip's seconds; Infinity for a slip that outlasts the track. */
  const fits = new Map<number, MotionFit>();
  const fitAt = (slipping: number, from: MotionParameters) => {
    const known = fits.get(slipping);
    if (known) return known;
    const fit = fitMotion({ ...situation, slipping }, from);
    if (fit) fits.set(slipping, fit);
    return fit;
  };
  // From the longest slip, where a parabola is the answer, to shorter ones, each beginning where the one before ended.
  let motion = fitAt(Infinity, start)?.motion ?? start;
  for (const share of SHARES) motion = fitAt(share * seen, motion)?.motion ?? motion;
  if (fits.size === 0) throw new RangeError("the points lie too close together to tell how the ball moved");

  const best = () => [...fits.values()].reduce((least, fit) => (fit.loss < least.loss ? fit : least));
  const finite = () =>
    [...fits.values()].filter(({ slipping }) => slipping < Infinity).sort((a, b) => a.slipping - b.slipping);

  /** Closes in on the best end between its neighbours (golden section; Kiefer, Proc. Am. Math. Soc. 4 (1953) 502). */
  const closeIn = () => {
    const sorted = finite();
    if (sorted.length === 0) return;
    const at = sorted.indexOf(sorted.reduce((least, fit) => (fit.loss < least.loss ? fit : least)));
    let low = slippingAt(sorted, at - 1);
    let high = slippingAt(sorted, at + 1);
    const lossAt = (slipping: number) => fitAt(slipping, best().motion)?.loss ?? Infinity;
    for (let round = 0; round < 26 && high - low > 1e-6 * seen; round++) {
      const [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
      if (lossAt(a) < lossAt(b)) high = b;
      else low = a;
    }
  };
  if (!roughly) closeIn();

  const all = (df: number) => {
    const most = best();
    const least = Math.max(most.loss, Number.MIN_VALUE);
    const log = ({ loss, logDeterminant }: MotionFit) =>
      -0.5 * df * Math.log(Math.max(loss, Number.MIN_VALUE) / least) - 0.5 * (logDeterminant - most.logDeterminant);
    for (let round = 0; round < 6; round++) {
      const sorted = finite();
      if (sorted.length === 0) break;
      const top = Math.max(...sorted.map(log));
      const inside = sorted.flatMap((fit, i) => (log(fit) > top - NONE ? [i] : []));
      if (inside.length >= ENOUGH) break;
      const low = slippingAt(sorted, Math.min(...inside) - 1);
      const high = slippingAt(sorted, Math.max(...inside) + 1);
      for (let i = 1; i < 12; i++) fitAt(low + ((high - low) * i) / 12, best().motion);
    }
    const sorted = finite();
    const highest = Math.max(...[...fits.values()].map(log));
    const weighed = sorted.map((fit, i) => {
      const [before, after] = [slippingAt(sorted, i - 1), slippingAt(sorted, i + 1)];
      return { fit, weight: (Math.exp(log(fit) - highest) * (after - before)) / (2 * seen) };
    });
    const longest = fits.get(Infinity);
    const parts = longest ? [...weighed, { fit: longest, weight: Math.exp(log(longest) - highest) }] : weighed;
    return parts.filter(({ weight }) => weight > 1e-7);
  };
  return { best, all };
}
