/**
 * How likely a plan is to show the effect of each of its settings.
 *
 * Effects are those of a fit with every setting and every block (a session on a table); what such a fit cannot estimate
 * has no power to speak of.
 */
import { exactColumn, type Pair } from "../../statistics/numeric/doubleDouble";
import { leastSquares } from "../../statistics/fit/leastSquares";
import { effectPower, type Plan as Difference } from "../../statistics/design/power";
import { makePlan, PlanProblem, type Plan, type PlanWish } from "./plan";

export interface SettingPower {
  readonly heading: string;
  /** Chance to see the difference between the least and the largest level, or two levels of a category; null where no degrees of freedom are left or it cannot be estimated. */
  readonly power: number | null;
}

/** @param difference to be seen, and the standard deviation of single shots @throws RangeError naming what is out of range */
export function planPower({ wish, shots }: Plan, difference: Difference): SettingPower[] {
  const counted = shots.filter((shot) => shot.settings !== undefined);
  const blocks = [...new Set(counted.map(({ session, table }) => `${session}\u0000${table}`))];
  const columns: number[][] = blocks.map((block) =>
    counted.map(({ session, table }) => (`${session}\u0000${table}` === block ? 1 : 0)),
  );
  const effects = wish.factors.map(({ levels }, f) => {
    const value = (i: number) => counted[i].settings![f];
    if (levels.every((level) => typeof level === "number")) {
      const numbers = counted.map((_, i) => value(i) as number);
      const [low, high] = [Math.min(...numbers), Math.max(...numbers)];
      columns.push(numbers.map((one) => (one - low) / (high - low)));
      return columns.length - 1;
    }
    // Against the first level; all levels of a balanced plan are alike.
    for (const level of levels.slice(1)) columns.push(counted.map((_, i) => (value(i) === level ? 1 : 0)));
    return columns.length - 1;
  });
  const fit = leastSquares(columns.map(exactColumn), exactColumn(new Float64Array(counted.length)));
  const df = counted.length - fit.kept.length;
  return wish.factors.map(({ heading }, f) => {
    const combined = df > 0 ? fit.combine(columns.map((_, c): Pair => [c === effects[f] ? 1 : 0, 0])) : undefined;
    return { heading, power: combined ? effectPower(difference, combined.errorFactor, df) : null };
  });
}

/** Most replicates that are tried. */
const MOST_REPLICATES = 500;

/**
 * The fewest replicates, in the steps that the blocks allow, with which every setting's effect is seen with the chance wanted.
 * @returns undefined when even 500 do not do, or a plan of that many shots cannot be made
 */
export function replicatesNeeded(
  wish: PlanWish,
  difference: Difference,
  wanted: number,
): { readonly replicates: number; readonly shots: number } | undefined {
  const blocks = wish.kind === "square" ? 1 : wish.tables.length * wish.sessions;
  const steps = [
    ...Array.from({ length: blocks }, (_, i) => i + 1).filter((n) => blocks % n === 0),
    ...Array.from({ length: MOST_REPLICATES }, (_, i) => (i + 2) * blocks),
  ].filter((n) => n <= MOST_REPLICATES);
  const plans = (replicates: number): Plan | undefined => {
    try {
      return makePlan({ ...wish, replicates });
    } catch (problem) {
      if (problem instanceof PlanProblem) return undefined;
      throw problem;
    }
  };
  // More shots never see less, so halving among the replicates that can be planned finds the first that does.
  const possible = steps.filter((n, i) => i >= blocks || plans(n) !== undefined);
  let [low, high] = [-1, possible.length];
  let found: { replicates: number; shots: number } | undefined;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    const plan = plans(possible[middle]);
    if (plan && planPower(plan, difference).some(({ power }) => power === null || power < wanted)) low = middle;
    else {
      high = middle;
      found = plan && { replicates: possible[middle], shots: plan.shots.length };
    }
  }
  return found;
}
