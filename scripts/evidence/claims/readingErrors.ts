/** What errors in a driver's readings do to its effect, and the effect without them. */
import { analyse } from "../../../src/experiment/question/analysis";
import { leading } from "../../../src/experiment/question/sessionAware";
import { readingErrors } from "../../../src/experiment/question/readingErrors";
import type { Cell, NumberClaim } from "../claim";
import { asNumber, bendBy, logOf, sessionShifts } from "../sessionLogs";

const TRUE = 0.1;
const SPREAD = 10;

const rounded = (share: number) => Number(share.toFixed(4));

const MEASURES = [
  { measure: "mean effect shown, as a share of the true one" },
  { measure: "mean effect without errors, as a share of the true one", goal: { least: 0.98, most: 1.04 } },
  { measure: "its interval covers", goal: { least: 0.94 } },
] as const;

/** What the answer that is read first says of humidity: shown, without errors, and whether the interval holds. */
function outcomes(headings: readonly string[], rows: readonly (readonly (number | string)[])[]) {
  const log = logOf(headings, rows);
  const analysis = leading(analyse(log, bendBy(asNumber("Humidity (%)"), asNumber("Cloth age"))));
  const [found] = readingErrors(analysis);
  const shown = analysis.regression.terms[1]?.estimate ?? undefined;
  const corrected = found?.corrected ?? undefined;
  const ends = corrected && corrected.low !== null && corrected.high !== null;
  return [
    shown === undefined ? undefined : shown / TRUE,
    corrected && corrected.value / TRUE,
    ends ? (corrected.low ?? 0) <= TRUE && (corrected.high ?? 0) >= TRUE : undefined,
  ];
}

/** Errors by the reliability that is wanted; cloth age goes along with humidity by the correlation. */
function cell(shots: number, reliability: number, together: number): Cell {
  const alike = SPREAD * Math.sqrt(1 - together ** 2);
  const error = alike * Math.sqrt(1 / reliability - 1);
  const [shown, ...others] = MEASURES;
  return {
    cell: `${shots} shots, reliability ${reliability}, correlation ${together} with another driver`,
    measures: [
      { ...shown, goal: { least: rounded(reliability - 0.015), most: rounded(reliability + 0.015) } },
      ...others,
    ],
    once(random) {
      const rows = Array.from({ length: shots }, () => {
        const humidity = SPREAD * random.normal();
        const age = together * (humidity / SPREAD) + Math.sqrt(1 - together ** 2) * random.normal();
        const read = () => 50 + humidity + error * random.normal();
        return [read(), read(), age, TRUE * humidity + 0.5 * random.normal()];
      });
      return outcomes(["Humidity (%)", "Humidity 2 (%)", "Cloth age", "Bend (mm)"], rows);
    },
  };
}

/** Humidity differs from session to session and half as much within one; sessions shift the bend. */
function sessionCell(sessions: number, shots: number, ratio: number): Cell {
  return {
    cell: `${sessions} sessions of ${shots} shots, ratio ${ratio}, humidity half as varied within one`,
    measures: MEASURES,
    once(random) {
      const shifts = sessionShifts(sessions, ratio, random);
      const rows = shifts.flatMap((shift, s) => {
        const level = SPREAD * random.normal();
        return Array.from({ length: shots }, () => {
          const humidity = level + (SPREAD / 2) * random.normal();
          const read = () => 50 + humidity + 2 * random.normal();
          return [`S${s + 1}`, read(), read(), random.normal(), TRUE * humidity + 0.5 * (shift + random.normal())];
        });
      });
      return outcomes(["Session", "Humidity (%)", "Humidity 2 (%)", "Cloth age", "Bend (mm)"], rows);
    },
  };
}

export const claim: NumberClaim = {
  claim:
    "Where a driver was read twice, its effect is shown smaller by the share that is said, and the effect that is given without reading errors is right on average, its interval covering at least as often as it says.",
  how: "Humidity with a standard deviation of 10 points, read twice with normal errors of its own each time; its true effect 0.1 mm a point, another driver without effect that goes along with it; shots scatter 0.5 mm. Reliability: variance of the true humidity over that of its readings, the other driver alike. In sessions the readings are off by 2 points and the answer that is read first is taken; what it shows is told.",
  seed: 11_200,
  replicates: 2000,
  cells: [
    ...[cell(40, 0.9, 0), cell(40, 0.8, 0.6), cell(120, 0.9, 0.6), cell(120, 0.7, 0)],
    ...[sessionCell(4, 12, 0.6), sessionCell(6, 12, 2), sessionCell(10, 8, 1)],
  ],
};
