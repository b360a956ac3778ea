/** How many shots it takes to see a difference between two tables. May import: distributions.ts, noncentralT.ts. */
import { studentQuantile } from "./distributions";
import { noncentralTwoSided } from "./noncentralT";

export interface Plan {
  /** Difference of the two means to be seen, either sign, in any one unit. */
  readonly difference: number;
  /** Standard deviation of single shots on one table, in the same unit. */
  readonly spread: number;
  /** Chance of calling a difference where there is none; 0.05 unless said. */
  readonly level?: number;
}

/**
 * Chance that a two-sided t test of two tables finds a true difference, from the noncentral t distribution; both ends of
 * the test count, though the far one hardly adds.
 * @param shots shots per table, 2 or more
 * @throws RangeError naming what is out of range
 * @example power({ difference: 1, spread: 1 }, 17) // 0.8070367151472
 */
export function power(plan: Plan, shots: number): number {
  if (!(shots >= 2)) throw new RangeError(`shots is ${shots}: each table needs at least 2`);
  return effectPower(plan, Math.sqrt(2 / shots), 2 * (shots - 1));
}

/**
 * The same for any difference that a fit estimates.
 * @param errorFactor standard error of the difference in standard deviations of a single shot
 * @param df degrees of freedom of the residual, above 0
 * @throws RangeError naming what is out of range
 * @example effectPower({ difference: 1, spread: 1 }, Math.sqrt(2 / 17), 32) // 0.8070367151472
 */
export function effectPower({ difference, spread, level = 0.05 }: Plan, errorFactor: number, df: number): number {
  if (!(spread > 0 && Number.isFinite(spread))) throw new RangeError(`spread is ${spread}: it must be above 0`);
  if (!Number.isFinite(difference)) throw new RangeError(`difference is ${difference}: it must be a number`);
  if (!(level > 0 && level < 1)) throw new RangeError(`level is ${level}: it must lie between 0 and 1`);
  const { upper, lower } = noncentralTwoSided(studentQuantile(1 - level, df), df, Math.abs(difference) / spread / errorFactor);
  return Math.min(1, upper + lower);
}

/** More shots than anybody takes: the search ends there. */
export const MOST_SHOTS = 1e9;

/**
 * The fewest shots per table with at least the power wanted.
 * @param wanted power, above the level and below 1
 * @throws RangeError naming what is out of range, also when more than a thousand million shots would be needed
 * @example shotsNeeded({ difference: 1, spread: 1 }, 0.8) // 17
 */
export function shotsNeeded(plan: Plan, wanted: number): number {
  const { level = 0.05 } = plan;
  if (!(wanted > 0 && wanted < 1)) throw new RangeError(`power is ${wanted}: it must lie between 0 and 1`);
  if (plan.difference === 0) throw new RangeError("difference is 0: no number of shots can show a difference of nothing");
  if (power(plan, 2) >= wanted) return 2;
  if (!(wanted > level)) throw new RangeError(`power is ${wanted}: it must be above the level, ${level}`);
  let low = 2;
  let high = 4;
  while (power(plan, high) < wanted) {
    if (high > MOST_SHOTS) throw new RangeError(`difference is ${plan.difference} with a spread of ${plan.spread}: more than ${MOST_SHOTS} shots per table would be needed`);
    [low, high] = [high, high * 2];
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (power(plan, middle) < wanted) low = middle;
    else high = middle;
  }
  return high;
}
