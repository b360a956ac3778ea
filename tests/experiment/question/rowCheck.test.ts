/**
 * What looks wrong in a row though it is used: each rule at the value where it begins and at the one where it does not.
 */
import { describe, expect, it } from "vitest";
import { checkRows } from "../../../src/experiment/question/rowCheck";
import { findTrialLogs } from "../../../src/experiment/log/trialLog";
import type { CellValue } from "../../../src/workbook/book";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { toText } from "../../../src/experiment/language/said";

/** Remarks on a log whose second column holds the values, beside bends that are all right. */
function remarks(heading: string, values: readonly number[]): string[] {
  const rows: CellValue[][] = values.map((value, i) => [0.5 + 0.01 * i, value]);
  const cells: CellValue[][] = [["Clearance (in)", heading], ...rows];
  const [log] = findTrialLogs(sheetOf(cells));
  const question = {
    response: "Clearance (in)",
    drivers: [{ heading, as: "number" as const, degree: 1 }],
    joint: [],
    constant: true,
    confidence: 0.95,
  };
  return checkRows(log, question).suspicious.map(({ reason, row }) => `${row + 1}: ${toText(reason)}`);
}

describe("a value that cannot be, or hardly", () => {
  it.each<[heading: string, wrong: number, right: number, words: RegExp]>([
    ["Humidity (%)", 100.5, 100, /humidity lies between 0 and 100 %/],
    ["Humidity (%)", -0.5, 0, /humidity lies between 0 and 100 %/],
    ["Humidity (%)", 1, 1.5, /a share of 1 where percent is meant/],
    ["Humidity (%)", 0.01, 0, /a share of 1 where percent is meant/],
    ["Bend (in)", 2.26, 2.25, /more than a ball's width/],
    ["Bend (in)", -2.26, -2.25, /more than a ball's width/],
    ["Bend (mm)", 57.2, 57.15, /more than a ball's width/],
    ["Gap (in)", 2.26, 2.25, /larger than a ball/],
    ["Speed (mph)", 0, 0.1, /a shot moves/],
    ["Speed (mph)", -1, 0.1, /a shot moves/],
  ])("in %s: %d is pointed out, %d is not", (heading, wrong, right, words) => {
    const told = (value: number) => remarks(heading, [value]).filter((text) => words.test(text));
    expect(told(wrong)).toEqual([expect.stringMatching(/^2: /)]);
    expect(told(right)).toEqual([]);
  });
});
