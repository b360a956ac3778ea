/**
 * The evening that docs/evening.md works through: invented attempts, drawn from a stated model with a seed. The
 * pictures press them into the page, tests/evening.test.ts asks the sources what they say, and both say the same.
 */
import type { Outcome } from "../../src/experiment/log/outcome";
import { seededRandom } from "./random";

const SEED = 20261127;
const MIDDLE = 0.79;
const SCATTER = 0.09;
const BALL_RADIUS = 1.125;
export const EVENING_ATTEMPTS = 30;
/** The bend that is looked for, in inches, as typed. */
export const EVENING_TARGET = "3/4";
/** The model in words, with its seed. */
export const EVENING_MODEL = `bend of an attempt = ${MIDDLE} in + scatter (normal, sd ${SCATTER} in); an attempt whose bend is at least the required one gets by, 2 in 5 of these are pocketed; 1 in 20 misses for another reason; seed ${SEED}`;

/** Draws how the next attempt ends with the obstacle at a gap in inches. */
export function eveningOutcomes(): (gap: number) => Outcome {
  const random = seededRandom(SEED);
  return (gap) => {
    const bend = MIDDLE + SCATTER * random.normal();
    const [missed, pocketed] = [random.uniform() < 0.05, random.uniform() < 0.4];
    if (missed) return "missed";
    if (bend < BALL_RADIUS - gap) return "hit obstacle";
    return pocketed ? "made" : "cleared";
  };
}
