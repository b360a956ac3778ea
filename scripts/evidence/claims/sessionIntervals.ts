/** The interval that leads, where shots come in sessions. */
import { analyse } from "../../../src/experiment/question/analysis";
import { sessionAware } from "../../../src/experiment/question/sessionAware";
import type { Term } from "../../../src/statistics/fit/regression";
import type { Random } from "../../../src/statistics/numeric/drawer";
import type { Cell, Claim } from "../claim";
import { logOf, sessionShifts, sessionSizes } from "../sessionLogs";

const SHOTS = 8;

/** What a driver does within sessions, and from one to the next. */
const DRIVERS = {
  still: (random: Random, sessions: number) => {
    const of = Array.from({ length: sessions }, () => 45 + 10 * random.normal());
    return (session: number) => of[session] ?? 0;
  },
  drifting: (random: Random, sessions: number) => {
    const of = Array.from({ length: sessions }, () => 45 + 10 * random.normal());
    return (session: number) => (of[session] ?? 0) + 5 * random.normal();
  },
  free: (random: Random) => () => 45 + 10 * random.normal(),
} as const;

function cell(sessions: number, ratio: number, kind: keyof typeof DRIVERS, balanced: boolean): Cell {
  return {
    cell: `${sessions} sessions, ratio ${ratio}, driver ${kind}, ${balanced ? "equal" : "unequal"} sessions`,
    measures: [{ measure: "covers", goal: { least: 0.94 } }, { measure: "mean width" }],
    once(random) {
      const at = DRIVERS[kind](random, sessions);
      const shifts = sessionShifts(sessions, ratio, random);
      const rows = sessionSizes(sessions, SHOTS, balanced).flatMap((shots, s) =>
        Array.from({ length: shots }, () => [`S${s + 1}`, at(s), (shifts[s] ?? 0) + random.normal()]),
      );
      const found = leading(logOf(["Session", "Humidity (%)", "Bend (mm)"], rows));
      if (!found || found.low === null || found.high === null) return [undefined, undefined];
      return [found.low <= 0 && found.high >= 0, found.high - found.low];
    },
  };
}

/** The driver's coefficient in the answer that is read first. */
function leading(log: ReturnType<typeof logOf>): Term | undefined {
  const plain = analyse(log, {
    response: "Bend (mm)",
    drivers: [{ heading: "Humidity (%)", as: "number", degree: 1 }],
    joint: [],
    constant: true,
    confidence: 0.95,
  });
  const aware = sessionAware(plain);
  return (aware?.lead ? aware.recommended : plain)?.regression.terms[1];
}

export const claim: Claim = {
  claim:
    "The 95 % interval of a driver's effect in the answer that leads covers the truth in at least 94 of 100 logs, however few the sessions are and however far they lie apart.",
  how: `${SHOTS} shots a session (unequal: from half to one and a half times as many); a number that stays the same all session (still), that also moves within it (drifting) or does not know of sessions (free); no effect. Ratio: standard deviation between sessions over that of single shots.`,
  seed: 11_001,
  replicates: 4000,
  cells: (["still", "drifting", "free"] as const).flatMap((kind) =>
    [true, false].flatMap((balanced) =>
      [3, 4, 5, 6, 10].flatMap((sessions) => [0, 0.3, 0.6, 1, 2].map((ratio) => cell(sessions, ratio, kind, balanced))),
    ),
  ),
};
