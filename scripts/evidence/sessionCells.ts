/** Cells on the interval of one driver's effect where shots come in sessions. */
import { regress } from "../../src/statistics/fit/regression";
import type { Random } from "../../src/statistics/numeric/drawer";
import type { Cell } from "./claim";
import { sessionShifts, sessionSizes } from "./sessionLogs";

/** Shots a session, where all have equally many. */
export const SHOTS = 8;

/** What a driver does within sessions, and from one to the next. */
const DRIVERS = {
  still: (random: Random, sessions: number) => {
    const of = Array.from({ length: sessions }, () => random.normal());
    return (session: number) => of[session] ?? 0;
  },
  nested: () => (session: number) => session % 2,
  drifting: (random: Random, sessions: number) => {
    const of = Array.from({ length: sessions }, () => random.normal());
    return (session: number) => (of[session] ?? 0) + random.normal() / 2;
  },
  free: (random: Random) => () => random.normal(),
} as const;
export type DriverKind = keyof typeof DRIVERS;

function cell(kind: DriverKind, balanced: boolean, sessions: number, ratio: number): Cell {
  const levels = Array.from({ length: sessions }, (_, s) => `S${s + 1}`);
  return {
    cell: `driver ${kind}, ${balanced ? "equal" : "unequal"} sessions, ${sessions} of them, ratio ${ratio}`,
    measures: [{ measure: "covers", goal: { least: 0.94 } }, { measure: "mean width" }],
    once(random) {
      const at = DRIVERS[kind](random, sessions);
      const shifts = sessionShifts(sessions, ratio, random);
      const groups = sessionSizes(sessions, SHOTS, balanced).flatMap((shots, s) => new Array<number>(shots).fill(s));
      const values = groups.map(at);
      const response = groups.map((s) => (shifts[s] ?? 0) + random.normal());
      const term = regress({
        response,
        drivers: [
          kind === "nested"
            ? { kind: "category", name: "driver", values, levels: ["old", "new"] }
            : { kind: "number", name: "driver", values, degree: 1 },
        ],
        errors: { kind: "random", by: { name: "session", groups, levels } },
      }).terms[1];
      if (!term || term.low === null || term.high === null) return [undefined, undefined];
      return [term.low <= 0 && term.high >= 0, term.high - term.low];
    },
  };
}

/**
 * 3, 4, 5, 6 and 10 sessions with 0, 0.3, 0.6, 1 and 2 of session to shot spread, equal and unequal, for each kind of
 * driver.
 */
export function sessionCells(...kinds: readonly DriverKind[]): Cell[] {
  return kinds.flatMap((kind) =>
    [true, false].flatMap((balanced) =>
      [3, 4, 5, 6, 10].flatMap((sessions) => [0, 0.3, 0.6, 1, 2].map((ratio) => cell(kind, balanced, sessions, ratio))),
    ),
  );
}
