/** Which setting goes with the farthest bend in a log of attempts, within what the table or the shooter can set. */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../scripts/samples/random";
import { analyseReach } from "../../../src/experiment/attempts/reach";
import { mergedNext } from "../../../src/experiment/next/mergedNext";
import { nextAttempts, nextAttemptsSentences } from "../../../src/experiment/next/nextAttempts";
import type { NextWish } from "../../../src/experiment/next/whatNext";
import type { CellValue } from "../../../src/workbook/book";
import { logOf } from "../logs";
import { toText, joinTexts } from "../../../src/experiment/language/said";

/** Bends that grow with speed and shrink with humidity, farther on old cloth; 5 to 9 mph and 40 to 60 % were shot. */
const random = seededRandom(8);
const rows = Array.from({ length: 120 }, (_, i): CellValue[] => {
  const [speed, humidity, cloth] = [5 + (i % 5), 40 + 5 * (i % 4), i % 2 ? "old" : "new"];
  const gap = 0.125 + 0.0625 * (i % 9);
  const bend = 0.3 + 0.07 * speed - 0.004 * humidity + (cloth === "old" ? 0.1 : 0) + (0.12 * random.normal()) / 2;
  return [speed, humidity, cloth, gap, bend >= 1.125 - gap ? "cleared" : "hit obstacle"];
});
const log = logOf([["Speed (mph)", "Humidity (%)", "Cloth", "Gap (in)", "Outcome"], ...rows]);
const drivers = [
  { heading: "Speed (mph)", as: "number" as const, degree: 1 },
  { heading: "Humidity (%)", as: "number" as const, degree: 1 },
  { heading: "Cloth", as: "category" as const, degree: 1 },
];
const answer = analyseReach(log, {
  position: { as: "gap", heading: "Gap (in)" },
  outcome: "Outcome",
  drivers,
  sessions: [],
  at: {},
  probabilities: [0.5],
  confidence: 0.95,
});
const said = (wish: Pick<NextWish, "limits" | "held">) =>
  toText(joinTexts(nextAttemptsSentences(answer, nextAttempts(answer, wish)), " "));

describe("the farthest bend of attempts", () => {
  it("is looked for in what the shooter sets; the room and the cloth stay as they are now", () => {
    expect(said(mergedNext(log, { drivers }, undefined))).toContain(
      'Within what may change the farthest bend goes with speed 9 mph, humidity 55 % and cloth "old"',
    );
  });

  it("keeps to limits, and says where they lie beyond all rows", () => {
    const within = said({ limits: { "Speed (mph)": { low: 6, high: 7 } }, held: { "Humidity (%)": 40, Cloth: "new" } });
    expect(within).toContain('goes with speed 7 mph, humidity 40 % and cloth "new"');
    expect(within).not.toContain("No attempt was made so far out");
    expect(
      said({ limits: { "Speed (mph)": { low: 6, high: 12 } }, held: { "Humidity (%)": 40, Cloth: "new" } }),
    ).toContain("No attempt was made so far out in Speed (mph)");
  });

  it("is as it is set where nothing may change, and refuses what cannot be", () => {
    const held = { "Speed (mph)": 6, "Humidity (%)": 40, Cloth: "new" };
    expect(said({ limits: {}, held })).toContain('As it is set now, speed 6 mph, humidity 40 % and cloth "new", half');
    expect(() => nextAttempts(answer, { limits: { "Speed (mph)": { low: 8, high: 6 } }, held })).toThrow(
      "the limits of Speed (mph) are 8 and 6: the second must be above the first",
    );
    expect(() => nextAttempts(answer, { limits: {}, held: { ...held, Cloth: "torn" } })).toThrow(
      'Cloth is "torn" now, which no row has: choose one that was shot',
    );
  });
});
