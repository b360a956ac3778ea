/** Several possible shapes of an answer, each with its own Student's t: what is left to say of the answer. */
import { studentDensity, studentTwoSided } from "./distributions";

export interface StudentPart {
  /** How likely the part is; the weights need not add up to 1. */
  readonly weight: number;
  readonly centre: number;
  /** 0 for a part that is exact. */
  readonly scale: number;
  readonly df: number;
}

/** P(X ≤ x) over all parts. @example mixtureLower([{ weight: 2, centre: 1, scale: 0.5, df: 4 }], 1) // 0.5 */
export function mixtureLower(parts: readonly StudentPart[], x: number): number {
  let below = 0;
  let total = 0;
  for (const { weight, centre, scale, df } of parts) {
    total += weight;
    const t = scale > 0 ? (x - centre) / scale : Math.sign(x - centre) * Infinity;
    const tail = Number.isNaN(t) ? 0.5 : studentTwoSided(t, df) / 2;
    below += weight * (t > 0 ? 1 - tail : tail);
  }
  return below / total;
}

function mixtureDensity(parts: readonly StudentPart[], x: number): number {
  let density = 0;
  let total = 0;
  for (const { weight, centre, scale, df } of parts) {
    total += weight;
    if (scale > 0) density += (weight * studentDensity((x - centre) / scale, df)) / scale;
  }
  return density / total;
}

/** The x below which the share lies: Newton's steps, and halving where one leaves the bracket. @param share 0 to 1 */
export function mixtureQuantile(parts: readonly StudentPart[], share: number): number {
  const widest = Math.max(...parts.map(({ scale }) => scale));
  let low = Math.min(...parts.map(({ centre }) => centre)) - widest;
  let high = Math.max(...parts.map(({ centre }) => centre)) + widest;
  for (let step = widest; step > 0 && mixtureLower(parts, low) > share && step < Infinity; step *= 2) low -= step;
  for (let step = widest; step > 0 && mixtureLower(parts, high) < share && step < Infinity; step *= 2) high += step;
  const close = 1e-12 * (high - low);
  let x = low + (high - low) / 2;
  for (let round = 0; round < 100 && high - low > close; round++) {
    const beyond = mixtureLower(parts, x) - share;
    if (beyond < 0) low = x;
    else high = x;
    const step = -beyond / mixtureDensity(parts, x);
    if (Math.abs(step) < close) break;
    x = x + step > low && x + step < high ? x + step : low + (high - low) / 2;
  }
  return x;
}

/**
 * Mean and standard deviation over all parts; a part with 2 degrees of freedom or fewer spreads as far as its 68 %
 * does.
 */
export function mixtureMoments(parts: readonly StudentPart[]): { mean: number; sd: number } {
  const total = parts.reduce((sum, { weight }) => sum + weight, 0);
  const mean = parts.reduce((sum, { weight, centre }) => sum + (weight / total) * centre, 0);
  const variance = parts.reduce(
    (sum, { weight, centre, scale, df }) =>
      sum + (weight / total) * ((centre - mean) ** 2 + scale * scale * (df > 2 ? df / (df - 2) : 1)),
    0,
  );
  return { mean, sd: Math.sqrt(variance) };
}
