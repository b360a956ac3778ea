/**
 * Which points are bad is itself uncertain: with few points one bad one can pass for a curve, and a good one for bad.
 * So the answers with each point put in or left out, one at a time, count too, each by how likely it makes what was
 * seen: a good point is as likely as the scatter says, a bad one lies anywhere nearby.
 */
import type { StudentPart } from "../../statistics/distributions/studentMixture";

/** How likely a point is to be bad, beforehand. */
const BAD = 0.05;
/** A bad point lies within a square of so much of the track's length about the path. */
const NEARBY = 0.12;
/** With more points than this a single one no longer matters. */
const FEW = 60;
/**
 * Natural logarithm of the share below which another choice of points is as good as none; generous, because it is first
 * judged for one end of the slip alone.
 */
const NONE = -8;
/** So many other choices count, the likeliest. */
const MOST = 6;

/**
 * Natural logarithm of how likely the points on the path are, the fit's numbers and the scatter integrated out; up to
 * what is the same for every choice of points and every path.
 */
export function logEvidence({ loss, logDeterminant }: { loss: number; logDeterminant: number }, df: number): number {
  return logGammaHalf(df) - 0.5 * df * Math.log(Math.PI * Math.max(loss, Number.MIN_VALUE)) - 0.5 * logDeterminant;
}

/** ln Γ(df/2) for whole df above 0. */
function logGammaHalf(df: number): number {
  let log = df % 2 === 0 ? 0 : 0.5 * Math.log(Math.PI);
  for (let x = df % 2 === 0 ? 1 : 0.5; x < df / 2 - 0.25; x++) log += Math.log(x);
  return log;
}

/** A part of the answer with the logarithm of its weight. */
export type LoggedPart = Omit<StudentPart, "weight"> & { readonly log: number };

interface Choice {
  /** 1 for points on the path, 0 for bad ones. */
  readonly weights: readonly number[];
  /** How far the track goes. */
  readonly size: number;
  readonly coordinates: 1 | 2;
  readonly fewest: number;
}

/**
 * The answer over the chosen points and those that differ by one.
 * @param roughly the logarithm of how likely a choice is, without the bad points
 * @param fully its parts
 */
export function overBadPoints(
  { weights, size, coordinates, fewest }: Choice,
  roughly: (weights: readonly number[]) => number | undefined,
  fully: (weights: readonly number[]) => readonly LoggedPart[],
): StudentPart[] {
  const bad = Math.log(BAD / (1 - BAD)) - coordinates * Math.log(NEARBY * size);
  const cost = (some: readonly number[]) => bad * some.filter((weight) => weight === 0).length;
  const others: { readonly other: readonly number[]; readonly gain: number }[] = [];
  // The points that were chosen are judged in the same way, for the same end.
  const known = weights.length <= FEW ? roughly(weights) : undefined;
  if (known !== undefined)
    weights.forEach((_, i) => {
      const other = weights.map((weight, j) => (j === i ? 1 - weight : weight));
      if (other.filter((weight) => weight > 0).length < fewest) return;
      const log = roughly(other);
      const gain = log === undefined ? -Infinity : log + cost(other) - known - cost(weights);
      if (gain > NONE) others.push({ other, gain });
    });
  const likely = others.sort((a, b) => b.gain - a.gain).slice(0, MOST);
  const parts = [weights, ...likely.map(({ other }) => other)].flatMap((some) =>
    fully(some).map((part) => ({ ...part, log: part.log + cost(some) })),
  );
  const most = Math.max(...parts.map(({ log }) => log));
  return parts
    .map(({ log, ...part }) => ({ ...part, weight: Math.exp(log - most) }))
    .filter(({ weight }) => weight > NEGLIGIBLE);
}

const NEGLIGIBLE = 1e-7;
