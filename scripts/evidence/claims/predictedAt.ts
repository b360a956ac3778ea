/** The mean and a single shot at settings, of an average session and of one to come. */
import { analyse } from "../../../src/experiment/question/analysis";
import { predictAt } from "../../../src/experiment/question/predictAt";
import { leading } from "../../../src/experiment/question/sessionAware";
import type { Interval } from "../../../src/statistics/measure/spread";
import type { Cell, NumberClaim } from "../claim";
import { asCategory, asNumber, bendBy, logOf, sessionShifts, sessionSizes } from "../sessionLogs";

const SHOTS = 8;
const GOAL = { least: 0.94 };

function cell(sessions: number, ratio: number, balanced: boolean): Cell {
  const holds = (interval: Interval | undefined, value: number) =>
    interval && interval.low <= value && interval.high >= value;
  return {
    cell: `${sessions} ${balanced ? "equal" : "unequal"} sessions, ratio ${ratio}`,
    measures: [
      { measure: "the mean over sessions is covered", goal: GOAL },
      { measure: "a single shot of an average session is covered", goal: GOAL },
      { measure: "the mean of a new session is covered", goal: GOAL },
      { measure: "a single shot of a new session is covered", goal: GOAL },
      { measure: "mean width for a shot of a new session" },
    ],
    once(random) {
      const shifts = sessionShifts(sessions, ratio, random);
      const rows = sessionSizes(sessions, SHOTS, balanced).flatMap((shots, s) =>
        Array.from({ length: shots }, () => {
          const speed = 4 + 5 * random.uniform();
          return [`S${s + 1}`, s % 2 ? "worn" : "new", speed, (shifts[s] ?? 0) + 0.1 * speed + random.normal()];
        }),
      );
      const log = logOf(["Session", "Cloth", "Speed (mph)", "Bend (mm)"], rows);
      const asked = leading(analyse(log, bendBy(asCategory("Cloth"), asNumber("Speed (mph)"))));
      const { mean, single, newSession } = predictAt(asked, { Cloth: "new", "Speed (mph)": "7" });
      const [truth, shot, shift] = [0.7, random.normal(), ratio * random.normal()];
      const ends = mean && mean.low !== null && mean.high !== null ? { low: mean.low, high: mean.high } : undefined;
      return [
        holds(ends, truth),
        holds(single, truth + shot),
        holds(newSession?.mean, truth + shift),
        holds(newSession?.single, truth + shift + shot),
        newSession && newSession.single.high - newSession.single.low,
      ];
    },
  };
}

export const claim: NumberClaim = {
  claim:
    "The 95 % intervals at settings that a reader names cover in at least 94 of 100 logs of sessions: the mean over sessions, a single shot of an average one, and the mean and a single shot of a session that is not among the rows.",
  how: `${SHOTS} shots a session (unequal: from half to one and a half times as many), cloth staying all session and changing from one to the next, speed drawn for each shot, asked at one cloth and a speed; a new shot and a new session drawn anew for each log. Ratio: standard deviation between sessions over that of single shots.`,
  seed: 12_401,
  replicates: 500,
  cells: [
    ...[3, 6, 10].flatMap((sessions) => [0, 0.6, 2].map((ratio) => cell(sessions, ratio, true))),
    ...[3, 6].map((sessions) => cell(sessions, 0.6, false)),
  ],
};
