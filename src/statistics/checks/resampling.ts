/**
 * Answers found by drawing again: the bootstrap and the permutation test, seeded, in steps that a caller may stop.
 */
import type { DesignColumn } from "../fit/designMatrix";
import { normalQuantile } from "../distributions/distributions";
import { drawer, mix } from "../numeric/drawer";
import { membersOf, type Grouping } from "../errors/errorModel";
import { leastSquares } from "../fit/leastSquares";
import { normalLower } from "../distributions/normal";
import type { Regression } from "../fit/regression";
import { inner } from "../numeric/symmetric";
import { UnitSums, type Move } from "./unitSums";

/** Work that is done in pieces: a worker advances it, tells how far it is, and stops when asked to. */
export interface Task<Result> {
  readonly total: number;
  /** Draws done so far. */
  readonly done: number;
  /** Does at most `count` further draws. */
  advance(count: number): void;
  /** What the draws so far say. */
  result(): Result;
}

/** A task of so many draws, each of which `once` makes. @param result of the draws done so far */
function counted<Result>(total: number, once: () => void, result: (done: number) => Result): Task<Result> {
  let done = 0;
  return {
    total,
    get done() {
      return done;
    },
    advance(count) {
      for (const end = Math.min(total, done + count); done < end; done++) once();
    },
    result: () => result(done),
  };
}

export interface BootstrapTerm {
  readonly label: string;
  readonly estimate: number | null;
  /** Standard deviation of the draws. */
  readonly standardError: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

export interface BootstrapResult {
  readonly draws: number;
  /** Draws whose rows could not determine every coefficient; they are left out. */
  readonly failed: number;
  readonly terms: readonly BootstrapTerm[];
}

export interface BootstrapOptions {
  readonly draws: number;
  /** A whole number: the same seed gives the same answer. */
  readonly seed: number;
  /** Groups to draw as a whole, such as sessions; single rows otherwise. */
  readonly by?: Grouping;
}

/**
 * Draws rows, or whole groups, with replacement and fits anew: intervals that lean on no shape of the scatter. They are
 * the bias-corrected and accelerated ones (Efron, Journal of the American Statistical Association 82 (1987) 171–185),
 * with the acceleration from leaving out each row or group in turn.
 */
export function bootstrap(regression: Regression, { draws, seed, by }: BootstrapOptions): Task<BootstrapResult> {
  const { fit, design, confidence, question } = regression;
  const units = by
    ? membersOf(by).filter((rows) => rows.length > 0)
    : Array.from({ length: fit.rows }, (_, row) => [row]);
  const sums = new UnitSums(units, fit.directions(), fit.residuals);
  const draw = drawer(seed);
  const moves: Move[] = [];
  const once = () => {
    const move = sums.drawn(draw);
    if (move) moves.push(move);
  };
  return counted(draws, once, (done) => {
    const without = sums.leftOut();
    const terms = design.columns.map(({ label, scale }, index): BootstrapTerm => {
      const combined = fit.kept.includes(index)
        ? fit.combine(
            design.columns.map((_, j) => [j === index ? 1 / scale : 0, 0]),
            question.constant !== false,
          )
        : undefined;
      if (!combined) return { label, estimate: null, ...NO_SPREAD };
      const { value: estimate, along } = combined;
      const away = (move: Move) => inner(move, along);
      const told = spreadOfDraws(Float64Array.from(moves, away).sort(), without.map(away), confidence);
      if (!told) return { label, estimate, ...NO_SPREAD };
      const { standardError, low, high } = told;
      return { label, estimate, standardError, low: estimate + low, high: estimate + high };
    });
    return { draws: moves.length, failed: done - moves.length, terms };
  });
}

const NO_SPREAD = { standardError: null, low: null, high: null };

/**
 * What draws of (estimate − estimate of all rows) tell of its spread; undefined where there are fewer than two.
 * @param sorted the draws, ascending
 * @param without the same with each unit left out in turn
 */
function spreadOfDraws(sorted: Float64Array, without: readonly number[], confidence: number) {
  if (sorted.length < 2) return undefined;
  const [low, high] = acceleratedEnds(sorted, without, confidence);
  const mean = sorted.reduce((total, value) => total + value, 0) / sorted.length;
  const standardError = Math.sqrt(
    sorted.reduce((total, value) => total + (value - mean) ** 2, 0) / (sorted.length - 1),
  );
  return { standardError, low, high };
}

/** Ends of Efron's interval for draws of (estimate − estimate of all rows), sorted. */
function acceleratedEnds(sorted: Float64Array, without: readonly number[], confidence: number): [number, number] {
  const count = sorted.length;
  let below = 0;
  for (const value of sorted) below += value < 0 ? 1 : value === 0 ? 0.5 : 0;
  const bias = normalQuantile(Math.min(Math.max(below / count, 0.5 / count), 1 - 0.5 / count));
  const mean = without.reduce((total, value) => total + value, 0) / without.length;
  const squares = without.reduce((total, value) => total + (mean - value) ** 2, 0);
  const acceleration =
    squares > 0 ? without.reduce((total, value) => total + (mean - value) ** 3, 0) / (6 * squares ** 1.5) : 0;
  const end = (share: number) => {
    const z = bias + normalQuantile(share);
    const place = normalLower(bias + z / (1 - acceleration * z)) * (count + 1) - 1;
    const lower = Math.min(Math.max(Math.floor(place), 0), count - 1);
    const upper = Math.min(lower + 1, count - 1);
    return sorted[lower] + Math.min(Math.max(place - lower, 0), 1) * (sorted[upper] - sorted[lower]);
  };
  return [end((1 - confidence) / 2), end((1 + confidence) / 2)];
}

export interface PermutationResult {
  readonly draws: number;
  /** F of the rows as they are. */
  readonly value: number;
  /** Share of the draws, the rows as they are among them, with an F as large. */
  readonly p: number;
}

export interface PermutationOptions {
  readonly draws: number;
  readonly seed: number;
  /**
   * Rows are exchanged within these groups only, such as sessions; a driver that never changes within one cannot be
   * tested then.
   */
  readonly within?: Grouping;
}

/**
 * Does a driver matter, given the others? The residuals of the fit without it are put in random order (Freedman & Lane,
 * Journal of Business & Economic Statistics 1 (1983) 292–298) and F is found anew; p counts the rows as they are among
 * the draws (Phipson & Smyth, Statistical Applications in Genetics and Molecular Biology 9 (2010) 39), so it is never
 * 0.
 * @param matches says which columns of the design are tested together
 * @throws RangeError when no column matches, nothing is left over, or the driver never changes within the groups
 */
export function permutation(
  regression: Regression,
  matches: (column: DesignColumn) => boolean,
  { draws, seed, within }: PermutationOptions,
): Task<PermutationResult> {
  const { design, fit, fitted, residual } = regression;
  const others = fit.kept.filter((index) => !matches(design.columns[index]));
  const tested = fit.kept.filter((index) => matches(design.columns[index]));
  if (tested.length === 0) throw new RangeError("no estimated coefficient is tested");
  if (residual.df <= 0 || !(fit.residualSquares > 0)) throw new RangeError("no scatter is left over to judge by");
  const columnsOf = (indices: readonly number[]) => indices.map((index) => fitted.columns[index]);
  const reduced = leastSquares(columnsOf(others), fitted.response);
  const full = leastSquares(columnsOf([...others, ...tested]), fitted.response);
  const directions = full.directions();
  const own = directions.slice(others.length);
  const { residuals } = reduced;
  const rows = residuals.length;
  const groups = within ? membersOf(within) : [Array.from({ length: rows }, (_, row) => row)];
  if (
    within &&
    own.every((direction) =>
      groups.every((members) => members.every((row) => Math.abs(direction[row] - direction[members[0]]) < 1e-12)),
    )
  ) {
    throw new RangeError(`the driver never changes within ${within.name}: exchanging rows within it tells nothing`);
  }
  const total = residuals.reduce((sum, value) => sum + value * value, 0);
  const statistic = (values: Float64Array) => {
    let left = total;
    let taken = 0;
    directions.forEach((direction, j) => {
      let projection = 0;
      for (let row = 0; row < rows; row++) projection += direction[row] * values[row];
      left -= projection * projection;
      if (j >= others.length) taken += projection * projection;
    });
    return taken / tested.length / (left / residual.df);
  };
  const value = statistic(residuals);
  const draw = drawer(seed);
  const mixed = residuals.slice();
  let asLarge = 0;
  const once = () => {
    for (const members of groups) mix(mixed, members, draw);
    // Equal orders may differ in the last digits of their sums.
    if (statistic(mixed) >= value * (1 - 1e-10)) asLarge++;
  };
  return counted(draws, once, (done) => ({ draws: done, value, p: (asLarge + 1) / (done + 1) }));
}
