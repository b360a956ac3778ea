/** Taking back what the panel wrote: the latest first, and never what somebody changed since. */
import { afterEach, describe, expect, it, vi } from "vitest";
import { differsBeyondView, settingsText } from "../../src/panel/frame/settings";
import { undoOver } from "../../src/panel/frame/undo";
import { FilePort } from "../../src/workbook/file/filePort";
import type { CellValue } from "../../src/workbook/book";
import type { NewRow, NewSheet } from "../../src/workbook/port";

const sheet = (name: string): NewSheet => ({ name, rows: [[{ value: "a" }], [{ value: 1 }]] });
const row = (value: number): NewRow => ({ sheet: "Shots", headings: ["Bend"], cells: [{ value }] });
function start() {
  const file = new FilePort({
    sheets: [
      {
        name: "Log",
        rows: [[{ value: "x" }]],
        hiddenRows: [],
        merged: [],
        tables: [],
        validations: [],
        columnWidths: [],
      },
    ],
    styles: [],
    names: [],
  });
  const told: string[] = [];
  let changes = 0;
  const undo = undoOver(
    file,
    differsBeyondView,
    () => changes++,
    (text) => told.push(text),
  );
  return { file, undo, told, changes: () => changes };
}
const names = async (file: FilePort) => (await file.sheets()).map(({ name }) => name);

afterEach(() => vi.restoreAllMocks());

describe("undo", () => {
  it("takes back sheets and rows, the latest first", async () => {
    const { file, undo, changes } = start();
    expect(undo.next).toBeUndefined();
    await undo.port.addSheet(sheet("Plan"));
    await undo.port.addRow(row(1));
    await undo.port.addRow(row(2));
    expect(undo.next).toBe('row 3 of the sheet "Shots"');
    expect(changes()).toBe(3);
    await undo.back();
    expect((await file.read("Shots")).values).toEqual([["Bend"], [1]]);
    expect(await undo.back()).toBe('the sheet "Shots"');
    expect(await names(file)).toEqual(["Log", "Plan"]);
    await undo.back();
    expect(await names(file)).toEqual(["Log"]);
    await expect(undo.back()).rejects.toThrow("nothing to take back");
  });

  it("leaves alone what was changed or is gone, and says so", async () => {
    const { file, undo } = start();
    await undo.port.addSheet(sheet("Plan"));
    await undo.port.addRow(row(1));
    await undo.port.addRow(row(2));
    await file.setCell("Shots", 2, 0, 7);
    await expect(undo.back()).rejects.toThrow(
      'Row 3 of the sheet "Shots" was changed since it was written, so it stays.',
    );
    await expect(undo.back()).rejects.toThrow('The sheet "Shots" was changed since');
    await file.removeSheet("Plan");
    await expect(undo.back()).rejects.toThrow('The sheet "Plan" is not there any more.');
    expect(await names(file)).toEqual(["Log", "Shots"]);
    expect(undo.next).toBeUndefined();
  });

  it("does not take a cell for changed that was still being computed", async () => {
    const { file, undo } = start();
    await undo.port.addSheet({ name: "Plan", rows: [[{ value: "Bend" }], [{ value: 1 }], [{ value: 2 }]] });
    const read = file.read.bind(file);
    await undo.back();
    const busy = (value: CellValue) => async (name: string) => ({
      ...(await read(name)),
      values: [["Bend"], [value], [2]],
    });
    file.read = busy({ error: "#BUSY!" });
    await undo.port.addSheet({ name: "Plan", rows: [[{ value: "Bend" }], [{ value: 1 }], [{ value: 2 }]] });
    file.read = busy(0.875);
    await undo.back();
    expect(await names(file)).toEqual(["Log"]);
  });

  it("does not fail a write that it cannot remember", async () => {
    const { file, undo } = start();
    file.read = () => Promise.reject(new Error("busy"));
    expect(await undo.port.addSheet(sheet("Plan"))).toBe("Plan");
    expect(undo.next).toBeUndefined();
  });

  it("takes back choices, a word at once, but not which view is in front", async () => {
    const { file, undo, told } = start();
    const [one, two, turned] = [
      settingsText({ units: {}, sheet: "Log" }),
      settingsText({ units: {}, sheet: "Plan" }),
      settingsText({ units: {}, sheet: "Plan", view: "shot" }),
    ];
    await undo.port.loadSettings();
    let now = 0;
    vi.spyOn(performance, "now").mockImplementation(() => now);
    const typed = settingsText({ units: {}, sheet: "Pl" });
    for (const [text, at] of [
      [one, 0],
      [typed, 5000],
      [two, 5300],
      [two, 9000],
      [turned, 12_000],
    ] as const) {
      now = at;
      await undo.port.saveSettings(text);
    }
    expect(undo.next).toBe("the last choice in the panel");
    await undo.back();
    expect(await file.loadSettings()).toBe(one);
    await undo.back();
    expect(await file.loadSettings()).toBe("{}");
    expect(told).toEqual([one, "{}"]);
    expect(undo.next).toBeUndefined();
  });
});
