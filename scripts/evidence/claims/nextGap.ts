/** Where to set the obstacle next, against staircases of fixed rules. */
import { nextSetting, type NextSetting } from "../../../src/experiment/attempts/nextSetting";
import type { Known } from "../../../src/statistics/censored/censoredFit";
import { median } from "../../../src/statistics/numeric/median";
import { randomOf, type Random } from "../../../src/statistics/numeric/drawer";
import type { Cell, NumberClaim } from "../claim";

const ATTEMPTS = 25;
/** After so many attempts two shooters seldom have the same outcomes. */
const SHARED = 14;
/** Shooters of one replicate, over whom the median is taken: the median of few is too large by a percent. */
const SHOOTERS = 500;
/** Steps of the staircases, in inches. */
const STEPS = [1 / 32, 1 / 16, 1 / 8, 3 / 16, 1 / 4];
/** A ball's radius, the most that an obstacle before the near mark can ask for. */
const RADIUS = 1.125;

interface Shooter {
  readonly mean: number;
  readonly scatter: number;
}

interface Setup {
  readonly cell: string;
  /** Scatter of the shooters, even in its logarithm between the two. */
  readonly scatters: readonly [number, number];
  /** The bend that the first attempt of a staircase is asked for. */
  readonly start: number;
  /** Whether the rule begins there too, rather than where it would. */
  readonly sameStart: boolean;
  readonly goal?: { readonly most: number };
}

function shooter(random: Random, [least, most]: Setup["scatters"]): Shooter {
  return { mean: RADIUS * random.uniform(), scatter: least * (most / least) ** random.uniform() };
}

/** Attempts at the settings that the rule gives; the same outcomes have the same setting, so it is asked once. */
function ruleFrom(first: number | undefined): (one: Shooter, random: Random) => number {
  const settings = new Map<string, NextSetting>();
  const settingAfter = (outcomes: string, bounds: readonly number[], known: readonly Known[]) => {
    const before = settings.get(outcomes);
    if (before) return before;
    const next = nextSetting({ bounds, known }, { unit: "in" });
    if (outcomes.length <= SHARED) settings.set(outcomes, next);
    return next;
  };
  return ({ mean, scatter }, random) => {
    const bounds: number[] = [];
    const known: Known[] = [];
    let outcomes = "";
    for (let i = 0; i < ATTEMPTS; i++) {
      const required = i === 0 && first !== undefined ? first : settingAfter(outcomes, bounds, known).required;
      const by = mean + scatter * random.normal() >= required;
      bounds.push(required);
      known.push(by ? "at least" : "less than");
      outcomes += by ? "+" : "-";
    }
    return Math.abs(nextSetting({ bounds, known }, { unit: "in" }).bend - mean);
  };
}

/**
 * One up, one down; errors of the two usual estimates: the mean of places from the first turn on (Dixon & Mood 1948),
 * and of the turns (Levitt 1971).
 */
function staircase({ mean, scatter }: Shooter, step: number, random: Random, start: number): readonly [number, number] {
  const places = [start];
  const turns: number[] = [];
  let before = 0;
  for (let i = 0; i < ATTEMPTS; i++) {
    const at = places[i] ?? start;
    const way = mean + scatter * random.normal() >= at ? 1 : -1;
    if (before !== 0 && way !== before) turns.push(at);
    before = way;
    places.push(at + way * step);
  }
  const from = turns.length > 0 ? places.indexOf(turns[0] ?? start) : ATTEMPTS;
  const average = (list: readonly number[]) => list.reduce((total, value) => total + value, 0) / list.length;
  return [
    Math.abs(average(places.slice(from)) - mean),
    Math.abs((turns.length > 0 ? average(turns) : (places[ATTEMPTS] ?? start)) - mean),
  ];
}

/** Shooters over whom the best staircase is found, once: it is fixed before the comparison begins. */
const TRIED = 20_000;
const TRIED_SEED = 12_299;

/** Median errors over many shooters: of the best of all staircases and estimates, and of one who knows the answer. */
interface Reference {
  readonly best: number;
  /**
   * What n attempts at the bend itself tell when the scatter is known, by Fisher's information: an error of
   * √(π/2 · σ²/n).
   */
  readonly least: number;
}

function referenceOf({ scatters, start }: Setup): Reference {
  const random = randomOf(TRIED_SEED);
  const errors = STEPS.map((): [number[], number[]] => [[], []]);
  const least: number[] = [];
  for (let i = 0; i < TRIED; i++) {
    const one = shooter(random, scatters);
    STEPS.forEach((step, place) => {
      const [mean, turns] = staircase(one, step, random, start);
      errors[place]?.[0].push(mean);
      errors[place]?.[1].push(turns);
    });
    least.push(Math.abs(random.normal()) * one.scatter * Math.sqrt(Math.PI / 2 / ATTEMPTS));
  }
  return { best: Math.min(...errors.flat().map((list) => median(list))), least: median(least) };
}

function cellOf(setup: Setup): Cell {
  let found: Reference | undefined;
  const attemptsOf = ruleFrom(setup.sameStart ? setup.start : undefined);
  return {
    cell: setup.cell,
    measures: [
      { measure: "median error over that of the best staircase", ...(setup.goal && { goal: setup.goal }) },
      { measure: "median error, in" },
      { measure: "of the best staircase, in" },
      { measure: "with all attempts at the bend itself and the scatter known, in" },
    ],
    once(random) {
      const { best, least } = (found ??= referenceOf(setup));
      const own = median(Array.from({ length: SHOOTERS }, () => attemptsOf(shooter(random, setup.scatters), random)));
      return [own / best, own, best, least];
    },
  };
}

export const claim: NumberClaim = {
  claim:
    "After 25 attempts at the gaps that BANK.NEXTGAP gives, the bend at one half is known with a median error of at most 0.9 of that of the best fixed staircase, whatever bend the obstacle can ask for is the shooter's and whether attempts scatter by 0.03 or by 0.2 in. For shooters who scatter by up to 0.4 in it is told and not claimed.",
  how: `Invented shooters: mean bend even from 0 to a ball's radius (1 1/8 in), scatter even in its logarithm. Staircases one up, one down with steps of 1/32, 1/16, 1/8, 3/16 and 1/4 in, estimated in two ways, the mean of places from the first turn on (Dixon & Mood 1948) and the mean of the turns (Levitt 1971); the best of the ten over ${TRIED} shooters is the one to beat. ${SHOOTERS} shooters a replicate. The last measure is what no rule without foreknowledge can do better than: it says how much room there is.`,
  seed: 12_741,
  replicates: 8,
  cells: [
    cellOf({
      cell: "scatter 0.03 to 0.2 in, staircases from 1/2 in",
      scatters: [0.03, 0.2],
      start: 0.5,
      sameStart: false,
      goal: { most: 0.9 },
    }),
    cellOf({
      cell: "the same, both from 1/8 in, where nearly all get by",
      scatters: [0.03, 0.2],
      start: 0.125,
      sameStart: true,
      goal: { most: 0.9 },
    }),
    cellOf({
      cell: "scatter 0.03 to 0.4 in, staircases from 1/2 in",
      scatters: [0.03, 0.4],
      start: 0.5,
      sameStart: false,
    }),
  ],
};
