/** What is next, by the state of the workbook. */
import { expect, it } from "vitest";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { findTrialLogs } from "../../../src/experiment/log/trialLog";
import { nextStep } from "../../../src/experiment/start/nextStep";
import type { CellValue } from "../../../src/workbook/book";

const HEADINGS = ["Trial", "Speed (mph)", "Gap (in)", "Outcome", "Bend (in)"];
const gap = (i: number): CellValue[] => [i, 8, 0.25, null, 0.875];
const after = (rows: readonly (readonly CellValue[])[], sheets: readonly string[] = [], setup = true) => {
  const [log] = findTrialLogs(sheetOf([HEADINGS, ...rows]));
  const { at, text } = nextStep({ log, setup, sheets });
  return `${at}: ${text}`;
};

it("goes from a log by its first shots and what is planned to the report and on", () => {
  const five = [1, 2, 3, 4, 5].map(gap);
  expect(nextStep({ log: undefined, setup: false, sheets: [] }).at).toBe("start");
  expect(after([gap(1), gap(2)])).toBe("start: 1 more shot for a first answer");
  expect(after([gap(1), gap(2), gap(3)])).toBe("start: 2 more shots for a narrower interval");
  // Two rows say which speed is to be shot, and hold no gap yet.
  const planned = [6, 7].map((i): CellValue[] => [i, 10, null, null, null]);
  expect(after([...five, ...planned])).toBe("shoot: row 7; 2 planned shots left");
  expect(after(five, [], false)).toBe("setup: say which table, balls and cloth");
  expect(after(five)).toBe("report: report what 5 shots say");
  expect(after(five, ["Report"])).toBe("next: see which setting teaches most");
});

it("takes a planned gap for no attempt once outcomes are told", () => {
  const told = [1, 2, 3, 4, 5].map((i): CellValue[] => [i, 8, 0.25, i % 2 ? "cleared" : "hit obstacle", 0.875]);
  expect(after([...told, [6, 8, 0.5, null, 0.625]])).toBe("shoot: row 7; 1 planned shot left");
});
