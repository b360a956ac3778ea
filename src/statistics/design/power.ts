/** How many shots it takes to see a difference between tables. */
import { fisherQuantile, studentQuantile } from "../distributions/distributions";
import { noncentralFisherUpper } from "../distributions/noncentralF";
import { noncentralTwoSided } from "../distributions/noncentralT";

export interface TableComparison {
  /** Difference of the two means to be seen, either sign, in any one unit. */
  readonly difference: number;
  /** Standard deviation of single shots on one table, in the same unit. */
  readonly spread: number;
  /** Chance of calling a difference where there is none; 0.05 unless said. */
  readonly level?: number;
  /** How many tables are compared, 2 unless said. */
  readonly tables?: number;
}

/**
 * Chance that a test finds a true difference. Two tables: the two-sided t test, from the noncentral t distribution;
 * both ends count, though the far one hardly adds. More tables: analysis of variance, from the noncentral F
 * distribution, the difference being that of the two tables farthest apart, all others half-way between them, where a
 * difference of that size is hardest to see.
 * @param shots shots per table, 2 or more
 * @throws RangeError naming what is out of range
 * @example power({ difference: 1, spread: 1 }, 17) // 0.8070367151472
 * @example power({ difference: 1, spread: 1, tables: 4 }, 17) // 0.653927931170755
 */
export function power(plan: TableComparison, shots: number): number {
  const { tables = 2 } = plan;
  if (!(shots >= 2)) throw new RangeError(`shots is ${shots}: each table needs at least 2`);
  if (!Number.isInteger(tables) || tables < 2)
    throw new RangeError(`tables is ${tables}: it must be a whole number from 2 up`);
  if (tables > 2) {
    const { difference, spread, level } = checked(plan);
    const df2 = Math.min(tables * (shots - 1), LIKE_ENDLESS);
    const limit = fisherQuantile(1 - level, tables - 1, df2);
    const shift = (difference / spread) * Math.sqrt(shots / 2);
    return surelySeen(shift, Math.sqrt(limit * (tables - 1)))
      ? 1
      : noncentralFisherUpper(limit, tables - 1, df2, shift ** 2);
  }
  return effectPower(plan, Math.sqrt(2 / shots), 2 * (shots - 1));
}

/**
 * The same for any difference that a fit estimates.
 * @param errorFactor standard error of the difference in standard deviations of a single shot
 * @param df degrees of freedom of the residual, above 0
 * @throws RangeError naming what is out of range
 * @example effectPower({ difference: 1, spread: 1 }, Math.sqrt(2 / 17), 32) // 0.8070367151472
 */
export function effectPower(plan: TableComparison, errorFactor: number, df: number): number {
  const { difference, spread, level } = checked(plan);
  const freedom = Math.min(df, LIKE_ENDLESS);
  const limit = studentQuantile(1 - level, freedom);
  const shift = Math.abs(difference) / spread / errorFactor;
  if (surelySeen(shift, limit)) return 1;
  const { upper, lower } = noncentralTwoSided(limit, freedom, shift);
  return Math.min(1, upper + lower);
}

/** From so many degrees of freedom on, the distributions are those of endlessly many to nine digits. */
const LIKE_ENDLESS = 1e9;

/**
 * Missing a shift so far beyond the limit would take a scatter that is 40 times too large, which no double can tell
 * from never.
 */
function surelySeen(shift: number, limit: number): boolean {
  return Math.abs(shift) > 40 * Math.max(limit, 1);
}

function checked({ difference, spread, level = 0.05 }: TableComparison): {
  readonly difference: number;
  readonly spread: number;
  readonly level: number;
} {
  if (!(spread > 0 && Number.isFinite(spread))) throw new RangeError(`spread is ${spread}: it must be above 0`);
  if (!Number.isFinite(difference)) throw new RangeError(`difference is ${difference}: it must be a number`);
  if (!(level > 0 && level < 1)) throw new RangeError(`level is ${level}: it must lie between 0 and 1`);
  return { difference, spread, level };
}

/** More shots than anybody takes: the search ends there. */
export const MOST_SHOTS = 1e9;

/**
 * The fewest shots per table with at least the power wanted.
 * @param wanted power, above the level and below 1
 * @throws RangeError naming what is out of range, also when more than a thousand million shots would be needed
 * @example shotsNeeded({ difference: 1, spread: 1 }, 0.8) // 17
 */
export function shotsNeeded(plan: TableComparison, wanted: number): number {
  const { level = 0.05 } = plan;
  if (!(wanted > 0 && wanted < 1)) throw new RangeError(`power is ${wanted}: it must lie between 0 and 1`);
  if (plan.difference === 0)
    throw new RangeError("difference is 0: no number of shots can show a difference of nothing");
  if (power(plan, 2) >= wanted) return 2;
  if (!(wanted > level)) throw new RangeError(`power is ${wanted}: it must be above the level, ${level}`);
  const found = fewest(2, (shots) => power(plan, shots) >= wanted);
  if (found === undefined)
    throw new RangeError(
      `difference is ${plan.difference} with a spread of ${plan.spread}: more than ${MOST_SHOTS} shots per table would be needed`,
    );
  return found;
}

/** The least whole number above `low` that is enough, where more never is less; undefined beyond the most. */
function fewest(low: number, enough: (count: number) => boolean): number | undefined {
  let high = 2 * low;
  while (!enough(high)) {
    if (high > MOST_SHOTS) return undefined;
    [low, high] = [high, high * 2];
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** A plan whose tables are each visited in several sessions, none of which sees more than one table. */
export interface SessionPlan extends TableComparison {
  /** Standard deviation of the sessions' own levels on one table, 0 or more, in the unit of difference. */
  readonly sessionSpread: number;
}

/**
 * The same chance where shots come in sessions, as many on each table with as many shots each. A session's mean
 * scatters with √(T² + S²/M), T between sessions and S between shots; in a balanced plan the means hold all there is to
 * know of the difference, so the t test on 2(N − 1) degrees of freedom of N means a table is exact (Searle, Casella &
 * McCulloch, Variance Components (1992), section 3.3).
 * @param sessions on each table, 2 or more @param shots in each session, 1 or more
 * @throws RangeError naming what is out of range
 * @example sessionPower({ difference: 1, spread: 1, sessionSpread: 0.5 }, 6, 8) // 0.7224736171508
 */
export function sessionPower(plan: SessionPlan, sessions: number, shots: number): number {
  if (!(sessions >= 2)) throw new RangeError(`sessions is ${sessions}: each table needs at least 2`);
  return power(onMeans(plan, shots), sessions);
}

/** The plan of the sessions' means. */
function onMeans({ sessionSpread, ...plan }: SessionPlan, shots: number): TableComparison {
  checked(plan);
  if (!(sessionSpread >= 0 && Number.isFinite(sessionSpread)))
    throw new RangeError(`session spread is ${sessionSpread}: it must be 0 or more`);
  if (!(shots >= 1)) throw new RangeError(`shots is ${shots}: each session needs at least 1`);
  return { ...plan, spread: Math.hypot(sessionSpread, plan.spread / Math.sqrt(shots)) };
}

/**
 * The fewest sessions on each table, of so many shots each, with at least the power wanted.
 * @throws RangeError naming what is out of range
 * @example sessionsNeeded({ difference: 1, spread: 1, sessionSpread: 0.5 }, 8, 0.8) // 7
 */
export function sessionsNeeded(plan: SessionPlan, shots: number, wanted: number): number {
  return shotsNeeded(onMeans(plan, shots), wanted);
}

/**
 * The fewest shots in each session, with so many sessions on each table, for at least the power wanted.
 * @throws RangeError naming what is out of range, also where no number of shots makes up for too few sessions
 * @example sessionShotsNeeded({ difference: 1, spread: 1, sessionSpread: 0.4 }, 6, 0.8) // 7
 */
export function sessionShotsNeeded(plan: SessionPlan, sessions: number, wanted: number): number {
  const { level = 0.05, difference, sessionSpread } = plan;
  if (!(wanted > level && wanted < 1))
    throw new RangeError(`power is ${wanted}: it must be above the level, ${level}, and below 1`);
  if (difference === 0) throw new RangeError("difference is 0: no number of shots can show a difference of nothing");
  if (sessionPower(plan, sessions, 1) >= wanted) return 1;
  const found = fewest(1, (shots) => sessionPower(plan, sessions, shots) >= wanted);
  if (found !== undefined) return found;
  const mend =
    sessionSpread > 0
      ? `; it takes at least ${shotsNeeded({ ...plan, spread: sessionSpread }, wanted)} on each table`
      : "";
  throw new RangeError(`sessions is ${sessions}: no number of shots in them gives a power of ${wanted}${mend}`);
}
