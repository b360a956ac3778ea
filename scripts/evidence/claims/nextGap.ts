/** Where to set the obstacle next, against staircases of fixed rules. */
import { nextSetting } from "../../../src/experiment/attempts/nextSetting";
import type { Known } from "../../../src/statistics/censored/censoredFit";
import { median } from "../../../src/statistics/numeric/median";
import { randomOf, type Random } from "../../../src/statistics/numeric/drawer";
import type { Cell, NumberClaim } from "../claim";

const ATTEMPTS = 25;
/** Shooters of one replicate, over whom the median is taken. */
const SHOOTERS = 60;
/** Steps of the staircases, in inches. */
const STEPS = [1 / 32, 1 / 16, 1 / 8, 3 / 16, 1 / 4];
const START = 0.5;

interface Shooter {
  readonly mean: number;
  readonly scatter: number;
}

function shooter(random: Random): Shooter {
  return { mean: 0.25 + random.uniform(), scatter: 0.03 * (0.4 / 0.03) ** random.uniform() };
}

function adaptive({ mean, scatter }: Shooter, random: Random): number {
  const bounds: number[] = [];
  const known: Known[] = [];
  for (let i = 0; i < ATTEMPTS; i++) {
    const { required } = nextSetting({ bounds, known }, { unit: "in" });
    bounds.push(required);
    known.push(mean + scatter * random.normal() >= required ? "at least" : "less than");
  }
  return Math.abs(nextSetting({ bounds, known }, { unit: "in" }).bend - mean);
}

/**
 * One up, one down; errors of the two usual estimates: the mean of places from the first turn on (Dixon & Mood 1948),
 * and of the turns (Levitt 1971).
 */
function staircase({ mean, scatter }: Shooter, step: number, random: Random): readonly [number, number] {
  const places = [START];
  const turns: number[] = [];
  let before = 0;
  for (let i = 0; i < ATTEMPTS; i++) {
    const at = places[i] ?? START;
    const way = mean + scatter * random.normal() >= at ? 1 : -1;
    if (before !== 0 && way !== before) turns.push(at);
    before = way;
    places.push(at + way * step);
  }
  const from = turns.length > 0 ? places.indexOf(turns[0] ?? START) : ATTEMPTS;
  const average = (list: readonly number[]) => list.reduce((total, value) => total + value, 0) / list.length;
  return [
    Math.abs(average(places.slice(from)) - mean),
    Math.abs((turns.length > 0 ? average(turns) : (places[ATTEMPTS] ?? START)) - mean),
  ];
}

/** Shooters over whom the best staircase is found, once: it is fixed before the comparison begins. */
const TRIED = 6000;
const TRIED_SEED = 12_299;

/** The median error of the best of all staircases and estimates, over many shooters. */
function bestStaircase(): number {
  const random = randomOf(TRIED_SEED);
  const errors = STEPS.map((): [number[], number[]] => [[], []]);
  for (let i = 0; i < TRIED; i++) {
    const one = shooter(random);
    STEPS.forEach((step, place) => {
      const [mean, turns] = staircase(one, step, random);
      errors[place]?.[0].push(mean);
      errors[place]?.[1].push(turns);
    });
  }
  return Math.min(...errors.flat().map((list) => median(list)));
}

let found: number | undefined;

const cell: Cell = {
  cell: `${ATTEMPTS} attempts, ${SHOOTERS} shooters a replicate`,
  measures: [
    { measure: "median error over that of the best staircase", goal: { most: 0.9 } },
    { measure: "median error, in" },
    { measure: "of the best staircase, in" },
  ],
  once(random) {
    const best = (found ??= bestStaircase());
    const own = median(Array.from({ length: SHOOTERS }, () => adaptive(shooter(random), random)));
    return [own / best, own, best];
  },
};

export const claim: NumberClaim = {
  claim:
    "After 25 attempts at the gaps that BANK.NEXTGAP gives, the bend at one half is known with a median error of at most 0.9 of that of the best fixed staircase.",
  how: `Invented shooters: mean bend even from 0.25 to 1.25 in, scatter from 0.03 to 0.4 in (even in its logarithm). Staircases one up, one down with steps of 1/32, 1/16, 1/8, 3/16 and 1/4 in from 1/2 in, estimated in two ways; the best of the ten over ${TRIED} shooters is the one to beat.`,
  seed: 12_201,
  replicates: 20,
  cells: [cell],
};
