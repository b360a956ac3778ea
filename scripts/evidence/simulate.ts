/** Runs a claim's cells and counts. */
import { randomOf } from "../../src/statistics/numeric/drawer";
import type { Cell, NumberClaim, Measure } from "./claim";

/** What was found of one measure in one cell. */
export interface Found extends Measure {
  readonly cell: string;
  readonly seed: number;
  /** Mean of what was answered; null where nothing ever was. */
  readonly got: number | null;
  /** Its standard error, which says how far the simulation itself can be off. */
  readonly error: number;
  readonly answered: number;
  readonly replicates: number;
  readonly met: "yes" | "no" | "within chance" | "";
}

/** So many standard errors short of its goal still count as met but for chance. */
const CHANCE = 2;

/** One cell after the other, each from a seed of its own: the claim's, plus the cell's place. */
export function* simulate({ seed, cells, replicates }: NumberClaim, times = replicates): Generator<readonly Found[]> {
  for (const [place, cell] of cells.entries()) yield runCell(cell, seed + place, times);
}

function runCell({ cell, measures, once }: Cell, seed: number, replicates: number): Found[] {
  const random = randomOf(seed);
  const sums = measures.map(() => ({ answered: 0, total: 0, squares: 0 }));
  for (let i = 0; i < replicates; i++) {
    const outcomes = once(random);
    sums.forEach((sum, place) => {
      const outcome = outcomes[place];
      if (outcome === undefined) return;
      sum.answered++;
      sum.total += Number(outcome);
      sum.squares += Number(outcome) ** 2;
    });
  }
  return measures.map((measure, place) => {
    const { answered, total, squares } = sums[place] ?? { answered: 0, total: 0, squares: 0 };
    const got = answered > 0 ? total / answered : null;
    const error = got === null ? 0 : Math.sqrt(Math.max(0, squares / answered - got * got) / answered);
    return { ...measure, cell, seed, got, error, answered, replicates, met: verdict(measure, got, error) };
  });
}

function verdict({ goal }: Measure, got: number | null, error: number): Found["met"] {
  if (!goal || got === null) return "";
  const short = Math.max((goal.least ?? got) - got, got - (goal.most ?? got));
  return short <= 0 ? "yes" : short <= CHANCE * error ? "within chance" : "no";
}
