/**
 * Where the straight part of a path without times may begin: fits over a grid that grows finer where the points can
 * tell, as slipEnds.ts does for a path with times. With many points or little scatter they tell it to a hundredth of
 * the way, and a grid that is coarser than that would pass for certainty.
 */
import { there } from "../../there";
import { logEvidence } from "./badPoints";
import type { BentFit } from "./bentPath";

/** Shares of the way that are tried first, from late to early; 1, before them, is for no straight part at all. */
const BEGINNINGS = Array.from({ length: 24 }, (_, i) => 0.97 - 0.036 * i);
/** Of these, every so many are enough while points are chosen. */
const ROUGHLY = 4;
/** Natural logarithm of the likelihood that is as good as none. */
const NONE = 12;
/** So many beginnings are to stand where the likelihood is, and so many are put where there are fewer. */
const [ENOUGH, PIECES] = [9, 12];
const ROUNDS = 4;

export interface WeighedPath {
  readonly fit: BentFit;
  /** Natural logarithm of how likely it is; see badPoints.ts for what can be compared. */
  readonly log: number;
}

/** Fits at one beginning, starting from another fit's numbers. */
export type FitAt = (knot: number, near: BentFit | undefined) => BentFit | undefined;

/** The path that fits best, roughly. @param free whether there may be a straight part */
export function bestPath(fitAt: FitAt, free: boolean, roughly: boolean): BentFit {
  const fits = coarse(fitAt, free, roughly ? ROUGHLY : 1);
  return there(fits, "a path through the points").reduce((least, fit) => (fit.loss < least.loss ? fit : least));
}

function coarse(fitAt: FitAt, free: boolean, every: number): BentFit[] | undefined {
  const fits: BentFit[] = [];
  for (const knot of [1, ...(free ? BEGINNINGS : []).filter((_, i) => i % every === every - 1)]) {
    const fit = fitAt(knot, fits.at(-1));
    if (fit) fits.push(fit);
  }
  return fits.length > 0 ? fits : undefined;
}

/**
 * Every path that counts. All beginnings are as likely beforehand, and no straight part is as likely as all of them.
 */
export function allPaths(fitAt: FitAt, free: boolean, df: number): WeighedPath[] {
  const found = coarse(fitAt, free, 1) ?? [];
  const log = (fit: BentFit) => logEvidence(fit, df);
  const whole = found.filter(({ knot }) => knot === 1);
  let bent = found.filter(({ knot }) => knot < 1).sort((a, b) => a.knot - b.knot);
  for (let round = 0; round < ROUNDS && bent.length > 0; round++) {
    const top = Math.max(...[...bent, ...whole].map(log));
    const inside = bent.flatMap((fit, i) => (log(fit) > top - NONE ? [i] : []));
    if (inside.length === 0 || inside.length >= ENOUGH) break;
    const [low, high] = [knotAt(bent, Math.min(...inside) - 1), knotAt(bent, Math.max(...inside) + 1)];
    const near = bent.reduce((best, fit) => (fit.loss < best.loss ? fit : best));
    const more = Array.from({ length: PIECES - 1 }, (_, i) => fitAt(low + ((high - low) * (i + 1)) / PIECES, near));
    const known = new Set(bent.map(({ knot }) => knot));
    bent = [...bent, ...more.flatMap((fit) => (fit && !known.has(fit.knot) ? [fit] : []))].sort(
      (a, b) => a.knot - b.knot,
    );
  }
  const range = knotAt(bent, Infinity) - knotAt(bent, -Infinity);
  return [
    ...whole.map((fit) => ({ fit, log: log(fit) })),
    ...bent.map((fit, i) => ({
      fit,
      log: log(fit) + Math.log((knotAt(bent, i + 1) - knotAt(bent, i - 1)) / (2 * range)),
    })),
  ];
}

/** The beginning at a place in the list; its first or last where the place lies beyond. */
function knotAt(sorted: readonly BentFit[], place: number): number {
  return sorted[Math.min(sorted.length - 1, Math.max(0, place))]?.knot ?? NaN;
}
