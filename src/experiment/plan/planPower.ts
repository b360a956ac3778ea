/**
 * How likely a plan is to show the effect of each of its settings.
 *
 * Effects are those of a fit with every setting and every block (a session on a table). A setting that never changes
 * within a block cannot be told from the blocks by their shots: only the blocks' means tell of it, which scatter with
 * √(T² + S²/M) about their tables, T between sessions and S between the M shots of one. Without T that cannot be said.
 */
import { exactColumn, type Pair } from "../../statistics/numeric/doubleDouble";
import { leastSquares } from "../../statistics/fit/leastSquares";
import { effectPower, type TableComparison as Difference } from "../../statistics/design/power";
import { makePlan, PlanProblem, type Plan, type PlanWish } from "./plan";
import { there } from "../../there";

export interface SettingPower {
  readonly heading: string;
  /**
   * Chance to see the difference between the least and the largest level, or two levels of a category; null where no
   * degrees of freedom are left or it cannot be estimated.
   */
  readonly power: number | null;
  /** What tells of it: shots, or whole sessions because it never changes within one. */
  readonly by: "shots" | "sessions";
}

/** A difference to be seen; the sessions' own spread where it is known. */
export interface SessionDifference extends Difference {
  readonly sessionSpread?: number;
}

/** One visit to a table, with its shots that count. */
interface Block {
  readonly table: string;
  readonly round: number;
  readonly shots: readonly (readonly (number | string)[])[];
}

/**
 * @param difference to be seen, and the standard deviation of single shots and of sessions
 * @throws RangeError naming what is out of range
 */
export function planPower(plan: Plan, difference: SessionDifference): SettingPower[] {
  const { factors } = plan.wish;
  const blocks = blocksOf(plan);
  const still = factors.map((_, f) => blocks.every(({ shots }) => shots.every((shot) => shot[f] === shots[0]?.[f])));
  const within = powersOf(
    factors,
    blocks.flatMap(({ shots }) => shots),
    blocks.map((block) => blocks.flatMap((other) => other.shots.map(() => (other === block ? 1 : 0)))),
    difference,
  );
  const between = still.includes(true) ? powersOfMeans(plan.wish, blocks, still, difference) : [];
  return factors.map(({ heading }, f) => {
    const by = still[f] ? "sessions" : "shots";
    return { heading, by, power: (by === "sessions" ? between[f] : within[f]) ?? null };
  });
}

function blocksOf({ shots }: Plan): Block[] {
  const blocks = new Map<string, Block & { readonly shots: (readonly (number | string)[])[] }>();
  for (const { session, table, round, settings } of shots) {
    if (!settings) continue;
    const key = `${session}\u0000${table}`;
    const block = blocks.get(key) ?? { table, round, shots: [] };
    blocks.set(key, block);
    block.shots.push(settings);
  }
  return [...blocks.values()];
}

/**
 * Chances of the settings that stay the same within every block, by the blocks' means; null of the others, and without
 * a spread of sessions.
 */
function powersOfMeans(
  { factors, kind }: PlanWish,
  blocks: readonly Block[],
  still: readonly boolean[],
  { sessionSpread, spread, ...difference }: SessionDifference,
): (number | null)[] {
  if (sessionSpread === undefined) return factors.map(() => null);
  const fewest = Math.min(...blocks.map(({ shots }) => shots.length));
  const indicators = (of: (block: Block) => string | number) =>
    [...new Set(blocks.map(of))].map((one) => blocks.map((block) => (of(block) === one ? 1 : 0)));
  const found = powersOf(
    factors.filter((_, f) => still[f]),
    blocks.map(({ shots }) => (shots[0] ?? []).filter((_, f) => still[f])),
    // A square takes out its rows beside its tables.
    [...indicators(({ table }) => table), ...(kind === "square" ? indicators(({ round }) => round) : [])],
    { ...difference, spread: Math.hypot(sessionSpread, spread / Math.sqrt(fewest)) },
  );
  return still.map((is) => (is ? (found.shift() ?? null) : null));
}

/** Chance of each setting's effect over these shots, or means, with these columns taken out. */
function powersOf(
  factors: PlanWish["factors"],
  rows: readonly (readonly (number | string)[])[],
  takenOut: readonly (readonly number[])[],
  difference: Difference,
): (number | null)[] {
  const columns = takenOut.map((column) => [...column]);
  const effects = factors.map(({ levels }, f) => {
    const value = (i: number) => rows[i]?.[f];
    if (levels.every((level) => typeof level === "number")) {
      const numbers = rows.map((_, i) => value(i) as number);
      const [low, high] = [Math.min(...numbers), Math.max(...numbers)];
      columns.push(numbers.map((one) => (one - low) / (high - low)));
      return columns.length - 1;
    }
    // Against the first level; all levels of a balanced plan are alike.
    for (const level of levels.slice(1)) columns.push(rows.map((_, i) => (value(i) === level ? 1 : 0)));
    return columns.length - 1;
  });
  const fit = leastSquares(columns.map(exactColumn), exactColumn(new Float64Array(rows.length)));
  const df = rows.length - fit.kept.length;
  return factors.map((_, f) => {
    const combined = df > 0 ? fit.combine(columns.map((_column, c): Pair => [c === effects[f] ? 1 : 0, 0])) : undefined;
    return combined ? effectPower(difference, combined.errorFactor, df) : null;
  });
}

/** Most replicates that are tried. */
const MOST_REPLICATES = 500;

/**
 * The fewest replicates, in the steps that the blocks allow, with which every setting's effect is seen with the chance
 * wanted.
 * @returns undefined when even 500 do not do, or a plan of that many shots cannot be made
 */
export function replicatesNeeded(
  wish: PlanWish,
  difference: SessionDifference,
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
    const replicates = there(possible[middle], "a number of repeats");
    const plan = plans(replicates);
    if (plan && planPower(plan, difference).some(({ power }) => power === null || power < wanted)) low = middle;
    else {
      high = middle;
      found = plan && { replicates, shots: plan.shots.length };
    }
  }
  return found;
}
