/**
 * Trials that a script appended below an Excel table, or typed beside it, are found and said, and taken in on request.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { BookTable, CellValue } from "../../src/workbook/book";
import { saveCopy } from "../../src/workbook/file/save/saveCopy";
import { book, sheet } from "../workbook/embedded/books";
import { commandLine as inFolder } from "./commandLine";

let folder = "";
beforeAll(() => void (folder = mkdtempSync(join(tmpdir(), "bendbook-outside-"))));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const commandLine = inFolder(() => folder);

/** 12 trials whose bend is 0.1 in for each mph, 8 of them in the table, 4 below it. */
const rows = (from: number, to: number): CellValue[][] =>
  Array.from({ length: to - from }, (_, i) => [
    from + i + 1,
    5 + (from + i) * 0.5,
    0.1 * (5 + (from + i) * 0.5) + ((from + i) % 2 ? 0.01 : -0.01),
    (from + i) % 3,
  ]);

async function file(name: string, cells: readonly (readonly CellValue[])[], table: BookTable): Promise<string> {
  const path = join(folder, name);
  writeFileSync(path, (await saveCopy(null, book([sheet("Log", cells, { tables: [table] })]))).bytes);
  return path;
}

const HEADINGS = ["Trial", "Speed (mph)", "Bend (in)", "Spin"];
const AREA = { row: 0, column: 0, rows: 9, columns: 3 };

describe("regress", () => {
  it("says what stands around the table, on standard error and in JSON, and does not count it", async () => {
    const path = await file("below.xlsx", [HEADINGS, ...rows(0, 8), ...rows(8, 12)], { name: "Trials", area: AREA });
    const { out, err } = commandLine("regress", path, "--response", "Bend (in)", "--driver", "Speed (mph)", "--json");
    expect(err).toContain(
      '4 rows (10 to 13) below the table Trials and column D ("Spin") beside it are no part of it and not counted: --take-in takes them in.',
    );
    expect(JSON.parse(out)).toMatchObject({
      rowsRead: 8,
      outsideTable: { rows: [10, 11, 12, 13], columns: ["D"], takenIn: false },
    });
  });

  it("counts it with --take-in, columns too", async () => {
    const path = await file("below.xlsx", [HEADINGS, ...rows(0, 8), ...rows(8, 12)], { name: "Trials", area: AREA });
    const { out, err } = commandLine(
      "regress",
      path,
      "--response",
      "Bend (in)",
      "--driver",
      "Speed (mph)",
      "--driver",
      "Spin",
      "--take-in",
      "--json",
    );
    expect(err).toBe("");
    expect(JSON.parse(out)).toMatchObject({ rowsRead: 12, rowsUsed: 12, outsideTable: { takenIn: true } });
  });

  it.each<[string, CellValue[][], BookTable]>([
    ["a table that holds all", [HEADINGS, ...rows(0, 8)], { name: "Trials", area: { ...AREA, columns: 4 } }],
    [
      "a note below",
      [HEADINGS, ...rows(0, 8), [], ["Shot on two evenings."]],
      { name: "Trials", area: { ...AREA, columns: 4 } },
    ],
    [
      "another table below",
      [HEADINGS, ...rows(0, 8), [], ["Table", "Length (in)"], ["North", 100], ["Window", 100]],
      { name: "Trials", area: { ...AREA, columns: 4 } },
    ],
    [
      "a row of totals",
      [HEADINGS, ...rows(0, 8), ["all", "=SUBTOTAL(101,Trials[Speed (mph)])", 1, 1]],
      { name: "Trials", area: { ...AREA, rows: 10, columns: 4 }, totals: true },
    ],
  ])("says nothing of %s", async (_, cells, table) => {
    const { out, err } = commandLine(
      "regress",
      await file("quiet.xlsx", cells, table),
      "--response",
      "Bend (in)",
      "--driver",
      "Speed (mph)",
      "--json",
    );
    expect(err).toBe("");
    expect(JSON.parse(out)).toMatchObject({ rowsRead: 8, outsideTable: null });
  });

  it("finds rows below a row of totals", async () => {
    const cells = [HEADINGS, ...rows(0, 8), ["all", 8, 1, 1], ...rows(8, 10)];
    const path = await file("totals.xlsx", cells, {
      name: "Trials",
      area: { ...AREA, rows: 10, columns: 4 },
      totals: true,
    });
    const { out } = commandLine(
      "regress",
      path,
      "--response",
      "Bend (in)",
      "--driver",
      "Speed (mph)",
      "--take-in",
      "--json",
    );
    expect(JSON.parse(out)).toMatchObject({ rowsRead: 10, rowsUsed: 10, outsideTable: { rows: [11, 12] } });
  });
});

it("gather says it for each file", async () => {
  mkdirSync(join(folder, "halls"));
  await file("halls/one.xlsx", [HEADINGS, ...rows(0, 8), ...rows(8, 12)], {
    name: "Trials",
    area: { ...AREA, columns: 4 },
  });
  const set = (...more: string[]) => commandLine("gather", "halls", "--out", "set.csv", "--force", "--json", ...more);
  const plain = set();
  expect(plain.err).toContain("one.xlsx, Log: 4 rows (10 to 13) below the table Trials are no part of it.");
  expect(JSON.parse(plain.out)).toMatchObject({ rows: 8, outsideTables: [expect.stringContaining("4 rows")] });
  expect(JSON.parse(set("--take-in").out)).toMatchObject({ rows: 12, outsideTables: [] });
});
