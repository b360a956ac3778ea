/** The intervals of how far it bends, where attempts come in sessions. */
import { analyseReach, type Reach } from "../../../src/experiment/attempts/reach";
import type { Cell, NumberClaim } from "../claim";
import { logOf } from "../sessionLogs";

const MEAN = 1;
const SCATTER = 0.15;
/** P(Z > z) = 0.9. */
const NINE_IN_TEN = -1.2815515655446004;

function cell(sessions: number, each: number, between: number): Cell {
  return {
    cell: `${sessions} sessions of ${each}, ${between} in between sessions`,
    measures: [
      { measure: "covers the bend at one half, average session", goal: { least: 0.94 } },
      { measure: "covers the bend at nine in ten, average session", goal: { least: 0.94 } },
      { measure: "covers the bend at nine in ten, new session", goal: { least: 0.94 } },
    ],
    once(random) {
      const rows = Array.from({ length: sessions }, (_, s) => {
        const shift = between * random.normal();
        return Array.from({ length: each }, (__, i) => {
          const asked = 0.7 + (0.6 * ((7 * i + s) % 10)) / 9;
          return [`S${s + 1}`, 1.125 - asked, MEAN + shift + SCATTER * random.normal() >= asked ? "cleared" : "hit"];
        });
      }).flat();
      const { reach, newSession } = analyseReach(logOf(["Session", "Gap (in)", "Outcome"], rows), {
        position: { as: "gap", heading: "Gap (in)" },
        outcome: "Outcome",
        drivers: [],
        sessions: ["Session"],
        at: {},
        probabilities: [0.5, 0.9],
        confidence: 0.95,
      });
      return [
        covers(reach[0], MEAN),
        covers(reach[1], MEAN + SCATTER * NINE_IN_TEN),
        covers(newSession?.[1], MEAN + Math.hypot(SCATTER, between) * NINE_IN_TEN),
      ];
    },
  };
}

/**
 * Whether the interval holds the truth; an end that the rows do not give is open. Undefined where they give neither.
 */
function covers(reach: Reach | undefined, truth: number): boolean | undefined {
  if (!reach || (reach.low === null && reach.high === null)) return undefined;
  return (reach.low === null || reach.low <= truth) && (reach.high === null || reach.high >= truth);
}

export const claim: NumberClaim = {
  claim:
    "With sessions the 95 % intervals of how far it bends hold the truth in at least 94 of 100 logs, in an average session and in one yet to come.",
  how: `Bends of ${MEAN} in with a scatter of ${SCATTER} in within a session, each attempt seen only as got by or hit; the log is asked as bendbook reach asks it.`,
  seed: 12_101,
  replicates: 240,
  cells: [cell(4, 8, 0.1), cell(5, 8, 0), cell(5, 8, 0.1), cell(8, 10, 0.15)],
};
