/** One shot typed beside the sheet: where it goes, what is taken over, what is wrong with a gap. */
import { describe, expect, it } from "vitest";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { findTrialLogs } from "../../../src/experiment/log/trialLog";
import { entryLog, typedGap } from "../../../src/experiment/shoot/entry";
import type { ShootLog } from "../../../src/experiment/shoot/shootLog";
import { pressCells } from "../../../src/experiment/shoot/shootRow";
import { nextGap } from "../../../src/experiment/start/firstLog";
import type { CellValue } from "../../../src/workbook/book";

const HEADINGS = ["Trial", "Table", "Obstacle gap (in)", "Gap (in)", "Outcome"];

function entryOf(...rows: readonly (readonly CellValue[])[]): ShootLog {
  const data = sheetOf([HEADINGS, ...rows]);
  const [log] = findTrialLogs(data);
  const entry = entryLog(log!, data, nextGap(log!)!, 0.05715);
  expect(entry).toBeDefined();
  return entry!;
}

const cellsOf = (entry: ShootLog, gap: number, outcome?: "cleared") => {
  const cells = pressCells(entry, { gap, ...(outcome && { outcome }), session: "", today: 46353, changed: {} });
  if ("problem" in cells) throw new Error(cells.problem);
  return Object.fromEntries(cells.map(({ column, value }) => [HEADINGS[column], value]));
};

describe("a shot that is typed", () => {
  it("goes into the gap that is read, not the obstacle's, with what stays, in the row after the last shot", () => {
    const entry = entryOf([1, "North", 0.5, 0.25, "cleared"], [2, "Window", 0.5, 0.3, null], [3]);
    expect(entry.open.row).toBe(3);
    expect(cellsOf(entry, 0.3125)).toEqual({ Trial: 3, Table: "Window", "Gap (in)": 0.3125 });
    expect(cellsOf(entry, 0.3125, "cleared")).toMatchObject({ Outcome: "cleared" });
  });

  it("goes below the last shot, whatever gap was not read before it, or never will be", () => {
    const entry = entryOf(
      [1, "North", 0.5, null, "missed"],
      [2, "Window", 0.5, 0.3, null],
      [3, "Bar", 0.5, null, "missed"],
    );
    expect(entry.open.row).toBe(4);
    expect(cellsOf(entry, 0.25)).toMatchObject({ "Gap (in)": 0.25 });
    // A planned row is the next one.
    expect(entryOf([1, "North", 0.5, null, null]).open.row).toBe(1);
    expect(entryOf([1, "North", 0.5, 0.3, null], [2, "Bar", 0.5, null, null]).open.row).toBe(2);
  });

  it("is read as the ruler has it, and what cannot be a gap is told with its mend", () => {
    const entry = entryOf([1, "North", null, 0.25, null]);
    expect(typedGap(entry, " 5/16 ")).toEqual({ gap: 0.3125 });
    expect(typedGap(entry, "-1/8")).toMatchObject({ gap: -0.125, doubt: expect.stringContaining("it counts") });
    expect(typedGap(entry, "45")).toEqual({
      problem: "45 in is more than a ball's diameter. Is a point missing, or another unit meant?",
    });
    expect(typedGap(entry, "five")).toMatchObject({ problem: expect.stringContaining('Gap (in): "five"') });
  });
});
