/** How well the rows tell the standard deviations between groups and within them. */
import { chiSquareQuantile, fisherQuantile } from "../distributions/distributions";
import type { SpreadIntervals } from "./errorModel";

/**
 * Intervals of the two standard deviations for normal scatter. Within: chi-square on what the groups leave. Between:
 * the ratio of the variances has an exact interval, because at the true ratio the squares that the groups add, over
 * those they leave, are F (Wald, Annals of Mathematical Statistics 11 (1940) 96–100; Seely & El-Bassiouni, Annals of
 * Statistics 11 (1983) 197–201); each end times the variance that the added squares then stand for gives the interval
 * of Williams (Biometrika 49 (1962) 278–281), which covers at least as often as it says but for twice the chance left
 * out.
 * @param left residual squares at a ratio
 * @param leftWithin squares that the groups leave, on dfWithin
 * @param dfBetween degrees of freedom that the groups add
 */
export function spreadIntervals(
  left: (ratio: number) => number | undefined,
  leftWithin: number,
  dfWithin: number,
  dfBetween: number,
  confidence: number,
): SpreadIntervals | undefined {
  if (!(dfWithin > 0 && dfBetween > 0 && leftWithin > 0)) return undefined;
  const tail = (1 - confidence) / 2;
  const mean = leftWithin / dfWithin;
  const fisher = (ratio: number) => ((left(ratio) ?? NaN) - leftWithin) / dfBetween / mean;
  const end = (probability: number) => {
    const target = fisherQuantile(probability, dfBetween, dfWithin);
    if (!(fisher(0) > target)) return 0;
    let [low, high] = [-12, 16];
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (fisher(10 ** middle) > target) low = middle;
      else high = middle;
    }
    return Math.sqrt((10 ** low * mean * dfBetween * target) / chiSquareQuantile(probability, dfBetween));
  };
  return {
    between: { low: end(1 - tail), high: end(tail) },
    within: {
      low: Math.sqrt(leftWithin / chiSquareQuantile(1 - tail, dfWithin)),
      high: Math.sqrt(leftWithin / chiSquareQuantile(tail, dfWithin)),
    },
  };
}
