/** A changed question answers as if it had been asked first, and works out only what is new in it. */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../scripts/samples/random";
import { analyse } from "../../../src/experiment/question/analysis";
import type { Choice } from "../../../src/experiment/question/choice";
import { findTrialLogs } from "../../../src/experiment/log/trialLog";
import type { CellValue } from "../../../src/workbook/book";
import type { SheetData } from "../../../src/workbook/port";
import { digits } from "../../outside/r";
import { sheetOf } from "../../../scripts/evidence/sheetOf";

/** Long enough for the fast way of least squares; some rows with a blank speed. */
function sheet(): SheetData {
  const random = seededRandom(12);
  const values: CellValue[][] = [["Bend (in)", "Cloth", "Humidity (%)", "Speed (mph)", "Count"]];
  for (let row = 0; row < 8000; row++) {
    const [humidity, speed] = [40 + 20 * random.uniform(), 4 + 6 * random.uniform()];
    const cloth = row % 3 ? "new" : "worn";
    values.push([
      1 + 0.01 * humidity - 0.05 * speed + (cloth === "new" ? 0.1 : 0) + 0.2 * random.normal(),
      cloth,
      humidity,
      row % 100 === 7 ? null : speed,
      1 + (row % 4),
    ]);
  }
  return sheetOf(values);
}

const log = () => findTrialLogs(sheet())[0];
const humidity = { heading: "Humidity (%)", as: "number", degree: 1 } as const;
const speed = { heading: "Speed (mph)", as: "number", degree: 1 } as const;
const cloth = { heading: "Cloth", as: "category", degree: 1 } as const;
const question = (change: Partial<Choice>): Choice => ({
  response: "Bend (in)",
  drivers: [],
  joint: [],
  constant: true,
  confidence: 0.95,
  ...change,
});

describe("one question after another on one log", () => {
  const asked: readonly (readonly [string, Choice])[] = [
    ["a driver", question({ drivers: [humidity] })],
    ["a driver more, with blanks", question({ drivers: [humidity, speed] })],
    ["a driver before them", question({ drivers: [cloth, humidity, speed] })],
    ["one taken out", question({ drivers: [cloth, speed] })],
    ["one that curves", question({ drivers: [cloth, { ...humidity, degree: 2 }] })],
    ["two together", question({ drivers: [cloth, humidity], joint: [["Cloth", "Humidity (%)"]] })],
    ["no constant", question({ drivers: [humidity, speed], constant: false })],
    ["weights", question({ drivers: [humidity], weight: "Count" })],
    ["another response", question({ response: "Speed (mph)", drivers: [humidity, cloth] })],
    ["the first again", question({ drivers: [humidity] })],
  ];
  const kept = log();
  it.each(asked)("%s: as asked first of a fresh log", (_, choice) => {
    const [after, fresh] = [analyse(kept, choice), analyse(log(), choice)];
    expect(after.check).toEqual(fresh.check);
    fresh.regression.terms.forEach(({ label, estimate, standardError }, j) => {
      const term = after.regression.terms[j];
      expect(term.label).toBe(label);
      expect(digits(term.estimate!, estimate!)).toBeGreaterThan(13);
      expect(digits(term.standardError!, standardError!)).toBeGreaterThan(13);
    });
    expect(digits(after.regression.residual.sd!, fresh.regression.residual.sd!)).toBeGreaterThan(13);
  });

  it("uses the very same rows and columns again", () => {
    const [one, two] = [question({ drivers: [humidity] }), question({ drivers: [humidity, cloth] })].map((choice) =>
      analyse(kept, choice),
    );
    expect(two.check.used).toBe(one.check.used);
    expect(two.regression.design.columns[1].values.high).toBe(one.regression.design.columns[1].values.high);
  });
});
