/** A true straight line in a log of sessions is not called a curve. */
import { analyse } from "../../../src/experiment/question/analysis";
import { trustChecks } from "../../../src/experiment/trust/trustChecks";
import type { Cell, NumberClaim } from "../claim";
import { asNumber, bendBy, logOf, sessionShifts } from "../sessionLogs";

function cell(sessions: number, ratio: number): Cell {
  return {
    cell: `${sessions} sessions, ratio ${ratio}`,
    measures: [{ measure: "called a lack of fit", goal: { most: 0.06 } }],
    once(random) {
      const rows = sessionShifts(sessions, ratio, random).flatMap((shift, s) =>
        Array.from({ length: 12 }, (_, i) => [`S${s + 1}`, 5 + (i % 4), shift + 0.1 * (i % 4) + random.normal()]),
      );
      const { lackOfFit } = trustChecks(
        analyse(logOf(["Session", "Speed (mph)", "Bend (mm)"], rows), bendBy(asNumber("Speed (mph)"))),
      );
      return [lackOfFit?.p === null || lackOfFit?.p === undefined ? undefined : lackOfFit.p < 0.05];
    },
  };
}

export const claim: NumberClaim = {
  claim: "A true straight line is called a curve or a joint effect in at most 6 of 100 logs of sessions.",
  how: "12 shots a session at four speeds, three times each; a straight line. Ratio: standard deviation between sessions over that of single shots.",
  seed: 11_801,
  replicates: 1000,
  cells: [3, 6].flatMap((sessions) => [0, 1, 2].map((ratio) => cell(sessions, ratio))),
};
