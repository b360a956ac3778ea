/** All pairs of tables, each session shot on one of them. */
import { compareLevels, sessionAwareComparison } from "../../../src/experiment/question/comparison";
import type { Cell, NumberClaim } from "../claim";
import { logOf, sessionShifts, sessionSizes } from "../sessionLogs";

const SHOTS = 8;

function cell(tables: number, sessions: number, ratio: number, balanced: boolean): Cell {
  return {
    cell: `${tables} tables, ${sessions} sessions, ratio ${ratio}, ${balanced ? "equal" : "unequal"} sessions`,
    measures: [{ measure: "all pairs covered", goal: { least: 0.94 } }, { measure: "mean width of a pair" }],
    once(random) {
      const shifts = sessionShifts(sessions, ratio, random);
      const rows = sessionSizes(sessions, SHOTS, balanced).flatMap((shots, s) =>
        Array.from({ length: shots }, () => [`S${s + 1}`, `T${(s % tables) + 1}`, (shifts[s] ?? 0) + random.normal()]),
      );
      const plain = compareLevels(logOf(["Session", "Table", "Bend (mm)"], rows), {
        response: "Bend (mm)",
        among: "Table",
        drivers: [],
        confidence: 0.95,
      });
      const sessionsSay = sessionAwareComparison(plain);
      const { pairs } = (sessionsSay ? sessionsSay.better : plain)?.comparison ?? { pairs: [] };
      const ends = pairs.flatMap(({ low, high }) => (low === null || high === null ? [] : [{ low, high }]));
      if (pairs.length === 0 || ends.length < pairs.length) return [undefined, undefined];
      return [
        ends.every(({ low, high }) => low <= 0 && high >= 0),
        ends.reduce((total, { low, high }) => total + high - low, 0) / ends.length,
      ];
    },
  };
}

export const claim: NumberClaim = {
  claim:
    "The 95 % intervals of all pairs of tables that lead where each session was shot on one table hold together in at least 94 of 100 logs.",
  how: `${SHOTS} shots a session (unequal: from half to one and a half times as many), sessions on the tables in turn, no difference between tables. Ratio: standard deviation between sessions over that of single shots.`,
  seed: 11_401,
  replicates: 2500,
  cells: [2, 3].flatMap((tables) =>
    [true, false].flatMap((balanced) =>
      [3, 4, 5, 6, 10]
        .filter((sessions) => sessions > tables)
        .flatMap((sessions) => [0, 0.3, 0.6, 1, 2].map((ratio) => cell(tables, sessions, ratio, balanced))),
    ),
  ),
};
