/** Drift and neighbouring shots, where there is none and where there is some. */
import { analyse } from "../../../src/experiment/question/analysis";
import { analyseMade } from "../../../src/experiment/question/madeAnalysis";
import { madeOrder } from "../../../src/experiment/trust/madeOrder";
import { orderAnswer } from "../../../src/experiment/trust/order";
import type { Random } from "../../../src/statistics/numeric/drawer";
import type { Cell, Measure, NumberClaim } from "../claim";
import { asCategory, asNumber, bendBy, logOf, sessionShifts } from "../sessionLogs";

interface Truth {
  /** Change from one shot to the next, in units of what a single shot scatters. */
  readonly drift: number;
  /** Correlation of a shot with the one before it. */
  readonly like: number;
}

const HEADINGS = ["Trial", "Session", "Cloth", "Speed (mph)", "Bend (mm)", "Made"];

/** Shots whose scatter goes with that of the shot before, and drifts. */
function rowsOf(sessions: number, shots: number, ratio: number, { drift, like }: Truth, random: Random) {
  return sessionShifts(sessions, ratio, random).flatMap((shift, s) => {
    let before = random.normal();
    return Array.from({ length: shots }, (_, i) => {
      before = like * before + Math.sqrt(1 - like ** 2) * random.normal();
      const speed = 4 + 5 * random.uniform();
      const bend = shift + drift * i + before;
      // Every second shot is made on average, the later ones as the drift says.
      const odds = shift + drift * (i - (shots - 1) / 2);
      const made = random.uniform() < 1 / (1 + Math.exp(-odds)) ? "made" : "missed";
      return [s * shots + i + 1, `S${s + 1}`, s % 2 ? "worn" : "new", speed, bend, made];
    });
  });
}

function cell(sessions: number, shots: number, ratio: number, truth: Truth): Cell {
  const { drift, like } = truth;
  const nothing = drift === 0 && like === 0;
  const size: Pick<Measure, "goal"> = { goal: { most: 0.06 } };
  return {
    cell: `${sessions} sessions of ${shots} shots, ratio ${ratio}, drift ${drift}, neighbours ${like}`,
    measures: [
      { measure: "drift is called", ...(nothing && size) },
      { measure: "its interval covers", ...(like === 0 && { goal: { least: 0.94 } }) },
      { measure: "neighbours are said to go together", ...(like === 0 && size) },
      { measure: "drift of made or missed is called", ...(nothing && size) },
    ],
    once(random) {
      const log = logOf(HEADINGS, rowsOf(sessions, shots, ratio, truth, random));
      const drivers = [asCategory("Cloth"), asNumber("Speed (mph)")];
      const found = orderAnswer(analyse(log, bendBy(...drivers)), "Trial");
      const { low, high, p } = found.drift;
      const made = madeOrder(analyseMade(log, { ...bendBy(...drivers), response: "Made" }), "Trial").drift.p;
      return [
        p === null ? undefined : p < 0.05,
        low === null || high === null ? undefined : low <= drift && high >= drift,
        found.neighbours && found.neighbours.p < 0.05,
        made === null ? undefined : made < 0.05,
      ];
    },
  };
}

const NOTHING: Truth = { drift: 0, like: 0 };

export const claim: NumberClaim = {
  claim:
    "Where shots neither drift nor go together, drift and neighbours are called in at most 6 of 100 logs of sessions, and the interval of the drift covers in 94 or more; how often a drift or a likeness that is there is seen is told.",
  how: "A cloth that stays all session, a speed drawn for each shot, neither with an effect. Ratio: standard deviation between sessions over that of single shots, which is 1; drift: change from one shot to the next; neighbours: correlation of a shot with the one before. Made or missed with the same shifts and drift in the logarithm of the odds, no likeness of neighbours. What neighbours do to the drift's interval is told and not judged: the answer then says that they go together.",
  seed: 12_201,
  replicates: 500,
  cells: [
    ...[3, 10].flatMap((sessions) => [8, 20].map((shots) => cell(sessions, shots, 1, NOTHING))),
    cell(3, 8, 0, NOTHING),
    ...[3, 6].map((sessions) => cell(sessions, 20, 1, { drift: 0.05, like: 0 })),
    ...[3, 6].map((sessions) => cell(sessions, 20, 1, { drift: 0, like: 0.3 })),
  ],
};
