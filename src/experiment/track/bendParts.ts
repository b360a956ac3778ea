/** The bend as a mixture: each end of the slip with each likely choice of points is a part of it. */
import type { StudentPart } from "../../statistics/distributions/studentMixture";
import { inner, timesVector } from "../../statistics/numeric/symmetric";
import { logEvidence, overBadPoints, type LoggedPart } from "./badPoints";
import { FEWEST_POINTS, NUMBERS, type GoodFit } from "./goodFit";
import { changedMotion, type TrackMotion } from "./motion";
import type { SlipEnds } from "./slipEnds";

/** @param bend of a motion */
export function bendParts(
  { ends, weights, size, endsWith, fitWith }: GoodFit,
  bend: (motion: TrackMotion) => number,
): StudentPart[] {
  const dfOf = (some: readonly number[]) => 2 * some.filter((weight) => weight > 0).length - NUMBERS;
  return overBadPoints(
    { weights, size, coordinates: 2, fewest: FEWEST_POINTS },
    (some) => {
      const fit = fitWith(some);
      return fit && logEvidence(fit, dfOf(some));
    },
    (some) => partsWith(some === weights ? ends : endsWith(some), dfOf(some), bend),
  );
}

function partsWith(ends: SlipEnds, df: number, bend: (motion: TrackMotion) => number): LoggedPart[] {
  return ends.all(df).map(({ fit, log }) => {
    const { motion, covariance, loss } = fit;
    const slopes = motion.numbers.map((value, j) => {
      const step = 1e-4 * Math.max(1, Math.abs(value));
      const other = (by: number) => changedMotion(motion, (one, k) => (k === j ? one + by : one));
      return (bend(other(step)) - bend(other(-step))) / (2 * step);
    });
    const variance = inner(slopes, timesVector(covariance, slopes));
    return { log, centre: bend(motion), scale: Math.sqrt(Math.max(0, variance) * (loss / df)), df };
  });
}

/**
 * The same with an error besides that scatters normally and has nothing to do with the points, such as the corners'.
 * Student's t and a normal part together have the degrees of freedom of Welch and Satterthwaite (JCGM 100:2008, G.4).
 */
export function withOther(parts: readonly StudentPart[], deviation: number): StudentPart[] {
  if (deviation === 0) return [...parts];
  return parts.map(({ scale, df, ...part }) => {
    const variance = scale * scale + deviation * deviation;
    return { ...part, scale: Math.sqrt(variance), df: scale > 0 ? (df * variance ** 2) / scale ** 4 : MANY };
  });
}

/** Degrees of freedom of what is as good as normal. */
const MANY = 1e6;
