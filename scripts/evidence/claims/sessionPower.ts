/** The chance that a plan of sessions is said to have. */
import { sessionPower } from "../../../src/statistics/design/power";
import { regress } from "../../../src/statistics/fit/regression";
import type { Cell, NumberClaim } from "../claim";
import { sessionShifts } from "../sessionLogs";

/** How far the share found may be from the chance said. */
const NEAR = 0.015;

const rounded = (share: number) => Number(share.toFixed(4));

function cell(sessions: number, shots: number, ratio: number, difference: number): Cell {
  const said = sessionPower({ difference, spread: 1, sessionSpread: ratio }, sessions, shots);
  return {
    cell: `${sessions} sessions of ${shots} shots on each table, ratio ${ratio}, difference ${difference}: said ${said.toFixed(4)}`,
    measures: [{ measure: "found", goal: { least: rounded(said - NEAR), most: rounded(said + NEAR) } }],
    once(random) {
      const means = [0, difference].flatMap((table) =>
        sessionShifts(sessions, ratio, random).map(
          (shift) =>
            table + shift + Array.from({ length: shots }, () => random.normal() / shots).reduce((a, b) => a + b),
        ),
      );
      const { p } = regress({
        response: means,
        drivers: [
          { kind: "category", name: "Table", levels: ["a", "b"], values: means.map((_, i) => (i < sessions ? 0 : 1)) },
        ],
      }).F;
      return [p !== null && p < 0.05];
    },
  };
}

export const claim: NumberClaim = {
  claim:
    "The chance that a plan of sessions is said to have is the share of such plans in which a test on the sessions' means finds the difference.",
  how: "Two tables, each visited in sessions of its own; normal scatter. Ratio: standard deviation between sessions over that of single shots, which is 1. Goal: within 0.015 of what is said.",
  seed: 11_600,
  replicates: 4000,
  cells: [cell(3, 8, 0.5, 2), cell(6, 8, 0.5, 1), cell(4, 1, 0.3, 1.5), cell(10, 20, 1, 1), cell(5, 5, 0.6, 0)],
};
