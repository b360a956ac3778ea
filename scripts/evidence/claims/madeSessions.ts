/** Made or missed by a driver, where shots come in sessions. */
import { logistic } from "../../../src/statistics/fit/logistic";
import type { Random } from "../../../src/statistics/numeric/drawer";
import type { Cell, NumberClaim } from "../claim";
import { sessionShifts } from "../sessionLogs";

const SHOTS = 20;

const DRIVERS = {
  still: (random: Random, sessions: number) => {
    const of = Array.from({ length: sessions }, () => random.normal());
    return (session: number) => of[session] ?? 0;
  },
  nested: () => (session: number) => session % 2,
  free: (random: Random) => () => random.normal(),
} as const;

function cell(kind: keyof typeof DRIVERS, sessions: number, spread: number): Cell {
  const groups = Array.from({ length: sessions * SHOTS }, (_, i) => Math.floor(i / SHOTS));
  const levels = Array.from({ length: sessions }, (_, s) => `S${s + 1}`);
  return {
    cell: `driver ${kind}, ${sessions} sessions, spread ${spread}`,
    measures: [{ measure: "covers", goal: { least: 0.94 } }],
    once(random) {
      const at = DRIVERS[kind](random, sessions);
      const shifts = sessionShifts(sessions, spread, random);
      const values = groups.map(at);
      const made = groups.map((s) => (random.uniform() < 1 / (1 + Math.exp(-(shifts[s] ?? 0))) ? 1 : 0));
      // Sessions without a single miss, or without a single make, tell nothing of the scatter within them.
      const mixed = levels.some((_, s) => new Set(made.filter((__, row) => groups[row] === s)).size > 1);
      if (!mixed) return [undefined];
      const term = logistic({
        made,
        drivers: [{ kind: "number", name: "driver", values, degree: 1 }],
        by: { name: "session", groups, levels },
        shifted: true,
      }).terms[1];
      if (!term || term.low === null || term.high === null) return [undefined];
      return [term.low <= 0 && term.high >= 0];
    },
  };
}

export const claim: NumberClaim = {
  claim:
    "The 95 % interval of a driver's effect on making a shot covers the truth in at least 94 of 100 logs where shots come in sessions.",
  how: `${SHOTS} shots a session, half of them made on average; drivers that stay all session (still), alternate between sessions (nested) or do not know of them (free); no effect. Spread: standard deviation between sessions in the logarithm of the odds. Separated logs are counted with the others.`,
  seed: 11_601,
  replicates: 1000,
  cells: (["still", "nested", "free"] as const).flatMap((kind) =>
    [3, 4, 6, 10].flatMap((sessions) => [0, 0.5, 1, 2].map((spread) => cell(kind, sessions, spread))),
  ),
};
