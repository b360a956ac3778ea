/** What the checks beside an answer call, in logs of sessions in which there is nothing to be called. */
import { analyse } from "../../../src/experiment/question/analysis";
import { analyseMade } from "../../../src/experiment/question/madeAnalysis";
import { leadingMade } from "../../../src/experiment/question/madeSessions";
import { leading } from "../../../src/experiment/question/sessionAware";
import { curveFits } from "../../../src/experiment/trust/madeTrust";
import { trustChecks } from "../../../src/experiment/trust/trustChecks";
import { curveTest } from "../../../src/statistics/fit/wholeTerms";
import type { Cell, NumberClaim } from "../claim";
import { asCategory, asNumber, bendBy, logOf, sessionShifts, sessionSizes } from "../sessionLogs";

const SHOTS = 12;
const MOST = { most: 0.06 };

/** Whether p calls something; undefined where it cannot be told. */
const called = (p: number | null | undefined) => (p === null || p === undefined ? undefined : p < 0.05);

function cell(sessions: number, ratio: number, balanced: boolean): Cell {
  return {
    cell: `${sessions} ${balanced ? "equal" : "unequal"} sessions, ratio ${ratio}`,
    measures: [
      { measure: "a straight line is called curved", goal: MOST },
      { measure: "scatter is called uneven", goal: MOST },
      { measure: "consistency is said to differ by speed", goal: MOST },
      { measure: "consistency is said to differ by cloth", goal: MOST },
      { measure: "the curve of made or missed is said not to fit", goal: MOST },
    ],
    once(random) {
      const shifts = sessionShifts(sessions, ratio, random);
      const rows = sessionSizes(sessions, SHOTS, balanced).flatMap((shots, s) =>
        Array.from({ length: shots }, () => {
          const speed = 4 + 5 * random.uniform();
          const cloth = s % 2 ? "worn" : "new";
          const shift = shifts[s] ?? 0;
          const made = random.uniform() < 1 / (1 + Math.exp(-shift - 0.2 * (speed - 6.5))) ? "made" : "missed";
          return [`S${s + 1}`, cloth, speed, shift + 0.1 * speed + random.normal(), made];
        }),
      );
      const log = logOf(["Session", "Cloth", "Speed (mph)", "Bend (mm)", "Made"], rows);
      const asked = (degree: number) =>
        leading(analyse(log, bendBy(asCategory("Cloth"), asNumber("Speed (mph)", degree))));
      const { unequalSpread, consistency } = trustChecks(asked(1));
      const [byCloth, bySpeed] = consistency.map(({ found }) => ("test" in found ? found.test.p : null));
      const made = analyseMade(log, { ...bendBy(asCategory("Cloth"), asNumber("Speed (mph)")), response: "Made" });
      const { standing } = curveFits(leadingMade(made));
      return [
        called(curveTest(asked(2).regression, 1).p),
        called(unequalSpread?.p),
        called(bySpeed),
        called(byCloth),
        standing === "untold" ? undefined : standing === "look",
      ];
    },
  };
}

export const claim: NumberClaim = {
  claim:
    "Where there is nothing to be called, the curve's test and the checks of the scatter call something in at most 6 of 100 logs of sessions.",
  how: `${SHOTS} shots a session (unequal: from half to one and a half times as many), speed drawn for each shot, cloth staying all session and changing from one to the next; a straight line, equal scatter. Ratio: standard deviation between sessions over that of single shots. By the answer that is read first, the curve asked as one bow. Made or missed with the same shifts in the logarithm of the odds, and a rate that rises with speed.`,
  seed: 12_001,
  replicates: 500,
  cells: [
    ...[3, 4, 10].flatMap((sessions) => [0, 1, 2].map((ratio) => cell(sessions, ratio, true))),
    ...[4, 10].map((sessions) => cell(sessions, 1, false)),
  ],
};
