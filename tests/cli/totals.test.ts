/**
 * A row of totals under an Excel table is no trial, to no command and no function; the table is made by another
 * library.
 */
import ExcelJS from "exceljs";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { createEngine } from "../../src/workbook/embedded/engine";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../src/workbook/file/save/saveCopy";
import { partsOf } from "../workbook/file/packages";
import { commandLine } from "./commandLine";

let folder: string;
const bendbook = commandLine(() => folder);
const json = (...args: string[]) => JSON.parse(bendbook(...args, "--json").out);
const TABLE = "xl/tables/table1.xml";
let original: Buffer;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "bendbook-totals-"));
  const workbook = new ExcelJS.Workbook();
  const sheet = workbook.addWorksheet("Log");
  sheet.addTable({
    name: "Trials",
    ref: "A1",
    headerRow: true,
    totalsRow: true,
    columns: [
      { name: "Speed (mph)", totalsRowLabel: "Total" },
      { name: "Bend (in)", totalsRowFunction: "sum" },
    ],
    rows: [
      [8, 0.5],
      [9, 0.6],
      [10, 0.8],
      [11, 0.9],
    ],
  });
  sheet.getCell("D1").value = { formula: "BANK.BEND(COUNT(Trials[Bend (in)]))", result: 0 };
  sheet.getCell("D2").value = { formula: "BANK.BEND(SUM(Trials[Bend (in)]))", result: 0 };
  sheet.getCell("D3").value = { formula: "BANK.BEND(Trials[[#Totals],[Bend (in)]])", result: 0 };
  sheet.getCell("D4").value = { formula: "BANK.BEND(ROWS(Trials[[#Data],[#Totals]]))", result: 0 };
  original = Buffer.from(await workbook.xlsx.writeBuffer());
  writeFileSync(join(folder, "log.xlsx"), original);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it("counts the rows between header and totals", () => {
  const answer = json("regress", "log.xlsx", "--response", "Bend (in)", "--driver", "Speed (mph)");
  expect([answer.rowsRead, answer.rowsUsed, answer.leftOut]).toEqual([4, 4, []]);
  // By hand: slope of (8, .5), (9, .6), (10, .8), (11, .9) is 0.7/5.
  expect(answer.terms[1].estimate).toBeCloseTo(0.14, 12);
  expect(json("gather", ".", "--out", "set.csv").rows).toBe(4);
});

it("computes columns without their totals, and names the totals alone", async () => {
  bendbook("recalculate", "log.xlsx", "--out", "copy.xlsx");
  const rows = (await readXlsx(readFileSync(join(folder, "copy.xlsx")))).sheets[0].rows;
  expect(rows[0]?.[3]?.value).toBe(1.125 - 4);
  expect(rows[1]?.[3]?.value).toBeCloseTo(1.125 - 2.8, 12);
  expect(rows[2]?.[3]?.value).toBeCloseTo(1.125 - 2.8, 12);
  expect(rows[3]?.[3]?.value).toBe(1.125 - 5);
  const copy = partsOf(readFileSync(join(folder, "copy.xlsx")));
  expect(copy[TABLE]).toBe(partsOf(original)[TABLE]);
});

it("keeps the totals when rows come or the totals go", async () => {
  const engine = await createEngine(await readXlsx(original));
  try {
    const sheet = engine.live.api.getActiveWorkbook()!.getSheetByName("Log")!;
    sheet.insertRowsBefore(2, 1);
    engine.setCell("Log", 2, 1, 0.7);
    engine.setCell("Log", 7, 1, 99);
    const grown = await engine.recalculate();
    expect(grown.sheets[0].tables).toEqual([
      { name: "Trials", area: { row: 0, column: 0, rows: 7, columns: 2 }, totals: true },
    ]);
    const { bytes } = await saveCopy(original, grown);
    const reader = new ExcelJS.Workbook();
    await reader.xlsx.load(bytes.buffer as ArrayBuffer);
    expect(partsOf(bytes)[TABLE]).toContain('ref="A1:B7"');
    expect(partsOf(bytes)[TABLE]).toContain('<autoFilter ref="A1:B6"');
    expect(partsOf(bytes)[TABLE]).toContain('totalsRowCount="1"');
    engine.setCell("Log", 7, 1, null);
    sheet.deleteRows(6, 1);
    const without = await engine.recalculate();
    expect(without.sheets[0].tables).toEqual([{ name: "Trials", area: { row: 0, column: 0, rows: 6, columns: 2 } }]);
    const bare = partsOf((await saveCopy(original, without)).bytes)[TABLE];
    expect(bare).not.toMatch(/totalsRow(Count|Label|Function|Formula)/);
    expect(bare).toContain('<autoFilter ref="A1:B6"');
  } finally {
    engine.dispose();
  }
});

it("writes a new table with its totals as a second reader knows them", async () => {
  const book = await readXlsx(original);
  const { bytes, notes } = await saveCopy(null, { ...book, sheets: [book.sheets[0]] });
  expect(notes).toEqual([]);
  const reader = new ExcelJS.Workbook();
  await reader.xlsx.load(bytes.buffer as ArrayBuffer);
  const table = (
    reader.getWorksheet("Log")!.getTable("Trials") as unknown as { table: { totalsRow: boolean; tableRef: string } }
  ).table;
  expect([table.totalsRow, table.tableRef]).toEqual([true, "A1:B6"]);
  expect((await readXlsx(bytes)).sheets[0].tables).toEqual(book.sheets[0].tables);
});
