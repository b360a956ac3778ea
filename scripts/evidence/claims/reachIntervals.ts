/** The intervals of how far it bends. */
import { REACH } from "../../../src/functions/functions";
import type { Random } from "../../../src/statistics/numeric/drawer";
import type { Cell, NumberClaim } from "../claim";

const MEAN = 1;
const SCATTER = 0.15;
/** P(Z > z) = 0.9. */
const NINE_IN_TEN = -1.2815515655446004;

/** Where the obstacle stands at each attempt: what it asks for, by the outcome of the one before. */
const WAYS = {
  "on a grid of ten places": (i: number) => 0.7 + (0.6 * (i % 10)) / 9,
  "closer and closer, once": (i: number, count: number) => 0.6 + (0.7 * i) / (count - 1),
  "one up, one down by 1/16": (_: number, __: number, before: number | undefined, up: boolean) =>
    before === undefined ? 0.6 : before + (up ? 1 : -1) / 16,
} as const;

function attempts(random: Random, count: number, way: keyof typeof WAYS) {
  const required: number[][] = [];
  const outcomes: string[][] = [];
  let up = false;
  for (let i = 0; i < count; i++) {
    const asked: number = WAYS[way](i, count, required[i - 1]?.[0], up);
    up = MEAN + SCATTER * random.normal() >= asked;
    required.push([asked]);
    outcomes.push([up ? "cleared" : "hit"]);
  }
  return { required, outcomes };
}

/**
 * Whether the interval holds the truth; an end that the rows do not give is open. Undefined where they give neither.
 */
function covers(row: readonly unknown[], truth: number): boolean | undefined {
  const [, low, high] = row;
  if (low === "" && high === "") return undefined;
  return (low === "" || Number(low) <= truth) && (high === "" || Number(high) >= truth);
}

function cell(count: number, way: keyof typeof WAYS): Cell {
  return {
    cell: `${count} attempts, ${way}`,
    measures: [
      { measure: "covers the bend at one half", goal: { least: 0.94 } },
      { measure: "covers the bend at nine in ten", goal: { least: 0.94 } },
    ],
    once(random) {
      const { required, outcomes } = attempts(random, count, way);
      const [half, nine] = [0.5, 0.9].map((share) => REACH(required, outcomes, [[share]])[1] ?? []);
      return [covers(half ?? [], MEAN), covers(nine ?? [], MEAN + SCATTER * NINE_IN_TEN)];
    },
  };
}

export const claim: NumberClaim = {
  claim:
    "From 20 attempts on, the 95 % interval of the bend that half of the attempts get at least, and of the bend that nine in ten get, holds the truth in at least 94 of 100 logs.",
  how: `Bends of ${MEAN} in with a scatter of ${SCATTER} in, each seen only as got by or hit, obstacles set in three ways; BANK.REACH asked. An end that the rows do not give counts as open; where they give neither, nothing is counted.`,
  seed: 12_001,
  replicates: 1000,
  cells: [20, 40, 80].flatMap((count) => (Object.keys(WAYS) as (keyof typeof WAYS)[]).map((way) => cell(count, way))),
};
