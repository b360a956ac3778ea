/** Where to set the obstacle next, against staircases of fixed rules. */
import { nextSetting } from "../../../src/experiment/attempts/nextSetting";
import type { Known } from "../../../src/statistics/censored/censoredFit";
import { median } from "../../../src/statistics/numeric/median";
import type { Random } from "../../../src/statistics/numeric/drawer";
import type { Cell, Claim } from "../claim";

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
  return { mean: 0.4 + 0.7 * random.uniform(), scatter: 0.05 * 6 ** random.uniform() };
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

/** One up, one down; errors of the two usual estimates: the mean of places from the first turn on (Dixon & Mood 1948), and of the turns (Levitt 1971). */
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

const cell: Cell = {
  cell: `${ATTEMPTS} attempts, ${SHOOTERS} shooters a replicate`,
  measures: [
    { measure: "median error over that of the best staircase", goal: { most: 0.9 } },
    { measure: "median error, in" },
    { measure: "of the best staircase, in" },
  ],
  once(random) {
    const errors = new Map<string, number[]>();
    const put = (name: string, error: number) => errors.set(name, [...(errors.get(name) ?? []), error]);
    for (let i = 0; i < SHOOTERS; i++) {
      const one = shooter(random);
      put("adaptive", adaptive(one, random));
      for (const step of STEPS) {
        const [mean, turns] = staircase(one, step, random);
        put(`mean ${step}`, mean);
        put(`turns ${step}`, turns);
      }
    }
    const own = median(errors.get("adaptive") ?? []);
    errors.delete("adaptive");
    // Whichever staircase happens to be best in this replicate, which favours the staircases.
    const best = Math.min(...[...errors.values()].map((list) => median(list)));
    return [own / best, own, best];
  },
};

export const claim: Claim = {
  claim:
    "After 25 attempts at the gaps that BANK.NEXTGAP gives, the bend at one half is known with a median error of at most 0.9 of that of the best fixed staircase.",
  how: `Invented shooters: mean bend even from 0.4 to 1.1 in, scatter from 0.05 to 0.3 in (even in its logarithm). Staircases one up, one down with steps of 1/32, 1/16, 1/8, 3/16 and 1/4 in from 1/2 in, estimated in two ways; the best of the ten is taken anew in each replicate.`,
  seed: 12_201,
  replicates: 20,
  cells: [cell],
};
