/**
 * Plans trials: which settings, how often, in which order, on which tables and in which sessions, and what the plan
 * cannot tell apart.
 */
import { listOf, capital } from "../language/said";
import { compositeDesign, type StarReach } from "../../statistics/design/compositeDesign";
import { drawer, shuffled, type Draw } from "../../statistics/numeric/drawer";
import { latinSquare } from "../../statistics/design/latinSquare";
import { blocked, mixedWith, order, twoLevel, type TwoLevel } from "../../statistics/design/twoLevel";
import { parseHeading } from "../log/header";
import { counted } from "../language/wording";
import { there } from "../../there";

export type PlanKind = "all" | "fraction" | "composite" | "square";

export interface PlanFactor {
  /** Heading of its column, unit included. */
  readonly heading: string;
  /**
   * Numbers, or words for a category; in a fraction the first and the last count, in a composite plan the least and the
   * largest.
   */
  readonly levels: readonly (number | string)[];
}

export interface PlanWish {
  readonly kind: PlanKind;
  readonly factors: readonly PlanFactor[];
  /** Runs of a fraction. */
  readonly runs?: number;
  /** Composite plans: how far the star reaches, and the repeated centres with the cube and with the star. */
  readonly reach?: StarReach;
  readonly centres?: readonly [number, number];
  /** What a row records: an attempt past an obstacle, where it is not the gap that a shot left. */
  readonly records?: "attempts";
  /** How often the whole plan is shot. */
  readonly replicates: number;
  readonly tables: readonly string[];
  /** Sessions on each table. */
  readonly sessions: number;
  /** Warm-up shots at the start of each session on a table. */
  readonly warmUps: number;
  /** A whole number: the same seed gives the same order. */
  readonly seed: number;
}

export interface PlannedShot {
  /** One visit to one table; a table's second visit, or another table's first, is another session. */
  readonly session: string;
  readonly table: string;
  /** Which visit to its table it is, from 1. */
  readonly round: number;
  /** Undefined for a warm-up shot, whose settings are free. */
  readonly settings: readonly (number | string)[] | undefined;
}

export interface Plan {
  readonly wish: PlanWish;
  readonly shots: readonly PlannedShot[];
  /** What the plan tells, and what it does not, in sentences. */
  readonly tells: readonly string[];
}

/** Something about the wish that the user has to mend; the message says how. */
export class PlanProblem extends Error {}

/** Columns that a plan's sheet has beside those of its settings and of what is measured. */
export const PLAN_COLUMNS = ["Trial", "Session", "Table", "Remarks"] as const;
/** Column of a Latin square: its rows, whose effect is taken out beside that of the tables. */
export const ROUND = "Round";

/** More shots than anybody plans at once. */
export const MOST_PLANNED = 5000;

interface RunSet {
  /** Settings of each run. */
  readonly runs: readonly (readonly (number | string)[])[];
  readonly tells: readonly string[];
  /** Parts the runs into blocks, and says what is lost. */
  parted(count: number): { readonly blocks: readonly number[]; readonly tells: readonly string[] };
}

/**
 * Makes the plan: each session on each table is a block, whose shots come in a drawn order of their own.
 * @throws PlanProblem naming what cannot be planned and the mend
 */
export function makePlan(wish: PlanWish): Plan {
  checkWish(wish);
  const draw = drawer(wish.seed);
  const blocks = wish.kind === "square" ? squareBlocks(wish, draw) : setBlocks(wish);
  const shots = blocks.groups.flatMap(({ runs, ...visit }) => [
    ...Array.from({ length: wish.warmUps }, (): PlannedShot => ({ ...visit, settings: undefined })),
    ...shuffled(runs, draw).map((settings): PlannedShot => ({ ...visit, settings })),
  ]);
  if (shots.length > MOST_PLANNED)
    throw new PlanProblem(
      `The plan has ${shots.length} shots: take fewer levels or replicates, or a fraction; ${MOST_PLANNED} is the most.`,
    );
  return { wish, shots, tells: blocks.tells };
}

/** What comes of a shot, by the names that headings give it. */
const MEASURED = new Set(["gap", "made", "bend", "clearance"]);

function checkWish({ kind, factors, replicates, tables, sessions, warmUps, seed }: PlanWish): void {
  if (factors.length === 0) throw new PlanProblem("The plan varies nothing yet: name a setting and its levels.");
  for (const { heading, levels } of factors) {
    if (heading.trim() === "")
      throw new PlanProblem("A setting has no heading: give it the heading of its column, such as Speed (mph).");
    if (new Set(levels.map(String)).size < 2)
      throw new PlanProblem(
        `${heading} has ${levels.length === 0 ? "no level" : `the level ${levels[0]} only`}: give at least two that differ, such as 4, 8.`,
      );
    if (new Set(levels.map(String)).size < levels.length)
      throw new PlanProblem(`${heading} names a level twice: name each once; replicates repeat the whole plan.`);
    if (kind === "composite" && levels.some((level) => typeof level !== "number"))
      throw new PlanProblem(
        `${heading} has levels that are no numbers: a composite plan needs a least and a largest number. Plan each category on its own, or take every combination.`,
      );
  }
  const reserved = factors.find(({ heading }) =>
    [...PLAN_COLUMNS, ROUND].some((name) => name.toLowerCase() === heading.trim().toLowerCase()),
  );
  if (reserved) throw new PlanProblem(`${reserved.heading} is a column that plans have: name another setting.`);
  const measured = factors.find(({ heading }) => MEASURED.has(parseHeading(heading.trim()).name.toLowerCase()));
  if (measured)
    throw new PlanProblem(
      `${measured.heading} is measured after each shot, so it cannot be set before: name a setting, such as Speed (mph).`,
    );
  const twice = factors.find(({ heading }, i) =>
    factors.some((other, j) => j < i && other.heading.toLowerCase() === heading.toLowerCase()),
  );
  if (twice) throw new PlanProblem(`${twice.heading} is planned twice: name each setting once.`);
  const whole = (name: string, value: number, least: number, most: number) => {
    if (!(Number.isInteger(value) && value >= least && value <= most))
      throw new PlanProblem(`${name} is ${value}: give a whole number from ${least} to ${most}.`);
  };
  whole("Replicates", replicates, 1, 1000);
  whole("Sessions", sessions, 1, 200);
  whole("Warm-up shots", warmUps, 0, 50);
  whole("The seed", seed, 0, 2 ** 31 - 1);
  if (tables.length === 0) throw new PlanProblem("No table is named: name at least one, such as Table 1.");
  if (new Set(tables).size < tables.length) throw new PlanProblem("A table is named twice: name each once.");
}

type Visit = Pick<PlannedShot, "session" | "table" | "round">;

interface Blocks {
  readonly groups: readonly (Visit & { readonly runs: readonly (readonly (number | string)[])[] })[];
  readonly tells: readonly string[];
}

/**
 * The label of a visit names the table too: shots of two tables share no luck of the day, and under one label an
 * analysis would take their visits for one and call tables different that are not.
 */
function visitTo(tables: readonly string[], table: number, round: number): Visit {
  return {
    session: tables.length === 1 ? String(round) : `${tables[table]} ${round}`,
    table: there(tables[table], "a table"),
    round,
  };
}

/** Whole sets shared out over the blocks, or one set parted among them. */
function setBlocks(wish: PlanWish): Blocks {
  const { tables, sessions, replicates } = wish;
  const set = setOf(wish);
  const count = tables.length * sessions;
  if (count % replicates !== 0 && replicates % count !== 0)
    throw new PlanProblem(
      `${counted(replicates, "replicate")} cannot be shared out evenly over ${blocksInWords(wish)}: ${replicatesAdvice(wish, set)}.`,
    );
  const groups = Array.from({ length: count }, (_, b) => ({
    ...visitTo(tables, b % tables.length, Math.floor(b / tables.length) + 1),
    runs: [] as (readonly (number | string)[])[],
  }));
  const tells = [...set.tells];
  if (replicates % count === 0) {
    for (let copy = 0; copy < replicates; copy++) there(groups[copy % count], "a group").runs.push(...set.runs);
    if (count > 1)
      tells.push(
        `Every session on every table has the whole plan ${replicates === count ? "once" : `${replicates / count} times`}, so differences between them do not touch the effects.`,
      );
  } else {
    const parts = count / replicates;
    const { blocks, tells: lost } = partedOrAdvice(wish, set, parts);
    for (let copy = 0; copy < replicates; copy++)
      set.runs.forEach((run, i) => there(groups[copy * parts + there(blocks[i], "a block")], "a group").runs.push(run));
    tells.push(...lost);
  }
  if (tables.length > 1)
    tells.push(
      sessions > 1
        ? "Tables are compared with each other over their sessions, so what a table does can be told from what a session does."
        : "Each table has one session, so what the table does cannot be told from what that session did.",
    );
  return { groups, tells };
}

function blocksInWords({ tables, sessions }: PlanWish): string {
  return `${counted(tables.length * sessions, "block")} (${counted(tables.length, "table")} × ${counted(sessions, "session")})`;
}

/**
 * The set in so many parts.
 * @throws PlanProblem that says why it cannot be parted, and how often it must be shot instead
 */
function partedOrAdvice(wish: PlanWish, set: RunSet, parts: number): ReturnType<RunSet["parted"]> {
  try {
    return set.parted(parts);
  } catch (problem) {
    if (!(problem instanceof PlanProblem)) throw problem;
    throw new PlanProblem(
      `With ${counted(wish.replicates, "replicate")} in ${blocksInWords(wish)}, ${problem.message}: ${replicatesAdvice(wish, set)}.`,
    );
  }
}

/** The smallest number of replicates with which this very plan can be made, found by trying. */
function replicatesAdvice(wish: PlanWish, set: RunSet): string {
  const count = wish.tables.length * wish.sessions;
  const works = (replicates: number) => {
    if (replicates * set.runs.length + count * wish.warmUps > MOST_PLANNED) return false;
    if (replicates === count) return true;
    try {
      set.parted(count / replicates);
      return true;
    } catch (problem) {
      if (problem instanceof PlanProblem) return false;
      throw problem;
    }
  };
  // Above the number of blocks only whole copies for each block come, which are more shots than one copy each.
  const smallest = Array.from({ length: count }, (_, i) => i + 1)
    .filter((replicates) => count % replicates === 0)
    .find(works);
  return smallest === undefined
    ? "no number of replicates fits so many blocks; take fewer tables or sessions, or fewer levels"
    : `the smallest number of replicates that works is ${smallest}`;
}

function setOf(wish: PlanWish): RunSet {
  switch (wish.kind) {
    case "fraction":
      return fractionSet(wish);
    case "composite":
      return compositeSet(wish);
    default:
      return wholeSet(wish.factors);
  }
}

function names(effect: number, factors: readonly PlanFactor[]): string {
  return factors
    .filter((_, i) => (effect >> i) & 1)
    .map(({ heading }) => heading)
    .join(" × ");
}

function wholeSet(factors: readonly PlanFactor[]): RunSet {
  const runs = factors.reduce<(readonly (number | string)[])[]>(
    (sets, { levels }) => levels.flatMap((level) => sets.map((set) => [...set, level])),
    [[]],
  );
  const straight = factors.filter(
    ({ levels }) => levels.length === 2 && levels.every((level) => typeof level === "number"),
  );
  const curved = factors.filter(
    ({ levels }) => levels.length > 2 && levels.every((level) => typeof level === "number"),
  );
  const tells = [
    factors.length > 1
      ? "Every setting's effect and every joint effect can be told apart."
      : "The setting's effect can be told.",
  ];
  if (curved.length > 0) tells.push(`A curve can be seen in ${listOf(curved.map(({ heading }) => heading))}.`);
  if (straight.length > 0)
    tells.push(`With two levels no curve can be seen in ${listOf(straight.map(({ heading }) => heading))}.`);
  const twoEach = factors.every(({ levels }) => levels.length === 2) && factors.length <= 8;
  return {
    runs,
    tells,
    parted(count) {
      if (!twoEach)
        throw new PlanProblem(
          `each copy of the plan of ${counted(runs.length, "run")} would have to be parted among ${count} blocks, which it cannot be when settings have more than two levels${factors.length > 8 ? " or are more than 8" : ""}`,
        );
      return partedTwoLevel(twoLevel(factors.length, runs.length), count, factors);
    },
  };
}

function fractionSet({ factors, runs = 0 }: PlanWish): RunSet {
  const plan = explained(() => twoLevel(factors.length, runs));
  const ends = factors.map(
    ({ levels }) => [there(levels[0], "a first level"), there(levels.at(-1), "a last level")] as const,
  );
  return {
    runs: plan.points.map((point) => point.map((level, i) => there(ends[i], "two ends")[level < 0 ? 0 : 1])),
    tells: mixedSentences(plan, factors),
    parted: (count) => partedTwoLevel(plan, count, factors),
  };
}

function mixedSentences(plan: TwoLevel, factors: readonly PlanFactor[]): string[] {
  const numeric = factors.filter(({ levels }) => levels.every((level) => typeof level === "number"));
  const straight =
    numeric.length > 0
      ? [
          `Only the first and the last level of each setting are shot, so no curve can be seen in ${listOf(numeric.map(({ heading }) => heading))}.`,
        ]
      : [];
  if (plan.words.length === 0) return ["Every setting's effect and every joint effect can be told apart.", ...straight];
  const singles = factors.flatMap((_, i) => {
    const others = mixedWith(1 << i, plan).filter((effect) => order(effect) <= 2);
    return others.length === 0
      ? []
      : [`${names(1 << i, factors)} cannot be told from ${listOf(others.map((effect) => names(effect, factors)))}.`];
  });
  const pairs: string[] = [];
  const told = new Set<number>();
  for (let a = 0; a < factors.length; a++) {
    for (let b = 0; b < a; b++) {
      const pair = (1 << a) | (1 << b);
      const others = mixedWith(pair, plan).filter((effect) => order(effect) === 2);
      if (told.has(pair) || others.length === 0) continue;
      for (const one of [pair, ...others]) told.add(one);
      pairs.push(
        `The joint effects ${listOf([pair, ...others].map((effect) => names(effect, factors)))} cannot be told from each other.`,
      );
    }
  }
  const clear =
    singles.length > 0
      ? []
      : [
          pairs.length > 0
            ? "Every setting's effect can be told from the others and from joint effects of two."
            : "Every setting's effect and every joint effect of two can be told apart, as long as joint effects of three and more are small.",
        ];
  return [...clear, ...singles, ...pairs, ...straight];
}

function partedTwoLevel(plan: TwoLevel, count: number, factors: readonly PlanFactor[]) {
  const { blocks, lost } = explained(
    () => blocked(plan, count),
    `each copy of the plan, ${counted(plan.runs, "run")}, would have to be parted among ${count} blocks, which cannot be done evenly without losing the effect of a setting`,
  );
  return {
    blocks,
    tells: [
      `The plan is parted among ${count} blocks; the joint ${lost.length === 1 ? "effect" : "effects"} ${listOf(lost.map((effect) => names(effect, factors)))} cannot be told from differences between them.`,
    ],
  };
}

function compositeSet({ factors, reach = "turning", centres = [2, 2] }: PlanWish): RunSet {
  const design = explained(() => compositeDesign(factors.length, reach, centres));
  // The star ends at the limits, so that no shot is planned beyond them.
  const scale = factors.map(({ levels }) => {
    const numbers = levels as readonly number[];
    const [low, high] = [Math.min(...numbers), Math.max(...numbers)];
    return { middle: (low + high) / 2, half: (high - low) / 2 / design.reach };
  });
  const inner =
    reach === "face"
      ? ""
      : ` The cube's shots lie at ${Math.round(100 / design.reach)} % of the way from the middle to the limits.`;
  return {
    runs: design.points.map((point) =>
      point.map((coded, i) => {
        const { middle, half } = there(scale[i], "a scale");
        return Number((middle + coded * half).toPrecision(6));
      }),
    ),
    tells: [
      `Every setting's effect, its curve and every joint effect of two can be told apart; a turn from curve to S cannot. No shot goes beyond the limits.${inner}`,
    ],
    parted(count) {
      if (count !== 2)
        throw new PlanProblem(
          `each copy would have to be parted among ${count} blocks, but a composite plan parts into 2, the cube and the star`,
        );
      const even =
        reach === "blocks"
          ? "the parting touches no effect"
          : 'the curves are partly mixed with the difference between them (choose the star "square to the blocks" to keep them apart)';
      return { blocks: design.blocks, tells: [`The cube's shots are one block, the star's the other; ${even}.`] };
    },
  };
}

/** Rows are rounds, columns are tables, symbols are the levels of the one setting. */
function squareBlocks({ factors, tables, sessions, replicates }: PlanWish, draw: Draw): Blocks {
  const { heading, levels } = there(factors[0], "a setting");
  if (factors.length > 1)
    throw new PlanProblem(
      `A Latin square varies one setting; ${listOf(factors.map(({ heading: name }) => name))} are named. Take one, or every combination.`,
    );
  if (tables.length !== levels.length || sessions !== levels.length) {
    throw new PlanProblem(
      `A Latin square of ${levels.length} levels needs ${levels.length} tables and ${levels.length} sessions; there ${tables.length === 1 ? "is 1 table" : `are ${tables.length} tables`} and ${counted(sessions, "session")}.`,
    );
  }
  const square = latinSquare(levels.length, draw);
  const groups = square.flatMap((levelsOfRow, row) =>
    levelsOfRow.map((level, table) => ({
      ...visitTo(tables, table, row + 1),
      runs: Array.from({ length: replicates }, () => [there(levels[level], "a level")]),
    })),
  );
  return {
    groups,
    tells: [
      `Each level of ${heading} is shot once in every round (one visit to each table) and once on every table${replicates > 1 ? `, ${replicates} times each` : ""}, so neither touches its effect.`,
      "Effects of round, table and setting can be told only if they add up: any joint effect of two of them is mixed into the third.",
    ],
  };
}

/** @param words in place of the message */
function explained<T>(make: () => T, words?: string): T {
  try {
    return make();
  } catch (problem) {
    if (problem instanceof RangeError) throw new PlanProblem(words ?? `${capital(problem.message)}.`);
    throw problem;
  }
}
