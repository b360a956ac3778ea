/**
 * What every host must do for the panel, as one suite that each host's own test runs. The fixture is a Book; a host's
 * makePort puts it into its workbook (the Excel fake, the embedded grid, a file in memory) and hands back the port,
 * a way to type into a cell, and a way to end.
 */
import { afterEach, describe, expect, it } from "vitest";
import { findTrialLogs, trialLogAt } from "../../src/experiment/log/trialLog";
import {
  isCellError,
  type Area,
  type Book,
  type BookCell,
  type BookSheet,
  type CellValue,
} from "../../src/workbook/book";
import { liesIn, meets } from "../../src/workbook/area";
import type { NewRow, NewSheet, Port, SheetChange, SheetData } from "../../src/workbook/port";
import { portOver } from "../../src/workbook/portOver";
import { SheetReader } from "../../src/workbook/sheetReader";

export interface PortUnderTest {
  readonly port: Port;
  /** Does what a user does who types the value into the cell; resolves when the host has taken it. */
  setCell(sheet: string, row: number, column: number, value: CellValue): Promise<void>;
  dispose(): Promise<void>;
}

export const LOG = "Bo's log";
export const EMPTY = "Nothing here";
export const HIDDEN = "Old (2) & <kept>";

const PLAIN = 0;
const DATE = 1;
const PERCENT = 2;
const BOLD = 3;

const text = (value: CellValue, style = PLAIN): BookCell => ({ value, style });

function sheet(name: string, parts: Partial<BookSheet>): BookSheet {
  return { name, rows: [], hiddenRows: [], merged: [], tables: [], validations: [], columnWidths: [], ...parts };
}

/** Table in C4:G9 of a sheet whose name has an apostrophe; a merged title above; ragged rows; one hidden row. */
export function contractFixture(): Book {
  const [, , C, D, E, F, G] = [0, 1, 2, 3, 4, 5, 6];
  const rows: (BookCell | undefined)[][] = [];
  const put = (row: number, column: number, cell: BookCell) => {
    (rows[row] ??= [])[column] = cell;
  };
  put(1, C, text('Banks <b>& "quotes"</b>', BOLD));
  ["Day", "Humidity (%)", "Bend (in)", "Made", "Remarks"].forEach((header, i) => put(3, C + i, text(header, BOLD)));
  put(4, C, text(46030, DATE));
  put(4, D, text(0.455, PERCENT));
  put(4, E, text(0.125));
  put(4, F, text(true));
  put(4, G, text("007"));
  put(5, C, text(46031.5, DATE));
  put(5, D, text(0, PERCENT));
  put(5, E, { value: { error: "#N/A" }, style: PLAIN });
  put(5, F, text(false));
  put(6, C, text(46032, DATE));
  put(6, E, { value: 0.75, formula: "1.125-3/8", style: PLAIN });
  put(7, E, { value: { error: "#DIV/0!" }, formula: "1/0", style: PLAIN });
  put(7, G, text("1/8"));
  put(8, E, text(-0.25));
  put(11, 8, text("far below"));
  return {
    sheets: [
      sheet(LOG, {
        rows,
        hiddenRows: [6],
        merged: [{ row: 1, column: C, rows: 1, columns: 3 }],
        tables: [{ name: "Trials", area: { row: 3, column: C, rows: 6, columns: 5 } }],
      }),
      sheet(EMPTY, {}),
      sheet(HIDDEN, { hidden: true, rows: [[text("kept"), text(12)]] }),
    ],
    styles: [{}, { format: "yyyy-mm-dd" }, { format: "0.0%" }, { bold: true }],
    names: [],
  };
}

/** A table with a row of totals in B2:C5, and one that hides its header row in B8:B9. */
function totalsFixture(): Book {
  const cells = (...values: CellValue[]) => [undefined, ...values.map((value) => text(value))];
  const rows = [
    undefined,
    cells("Gap (in)", "Cloth"),
    cells(0.5, "new"),
    cells(0.25, "worn"),
    [undefined, { value: 0.75, formula: "SUM(B3:B4)", style: PLAIN }],
    undefined,
    undefined,
    cells(8),
    cells(9),
  ];
  const tables = [
    { name: "Gaps", area: { row: 1, column: 1, rows: 4, columns: 2 }, totals: true as const },
    { name: "Bare", area: { row: 7, column: 1, rows: 2, columns: 1 }, columns: ["Speed (mph)"] },
  ];
  return { sheets: [sheet(LOG, { rows, tables })], styles: [{}], names: [] };
}

/** Cell of the sheet by sheet coordinates; outside the used range everything is blank. */
function at<T>(data: SheetData, grid: readonly (readonly T[])[], row: number, column: number): T | null {
  return grid[row - data.firstRow]?.[column - data.firstColumn] ?? null;
}
const valueAt = (data: SheetData, row: number, column: number) => at(data, data.values, row, column);
const formatAt = (data: SheetData, row: number, column: number) => at(data, data.formats, row, column);

/** What a reader sees of a sheet, without the host's freedom to call a larger range "used". */
function seen(data: SheetData): unknown {
  const cells: [number, number, CellValue, string][] = [];
  data.values.forEach((line, r) =>
    line.forEach((value, c) => {
      if (value !== null) {
        const plain = isCellError(value) ? { error: value.error } : value;
        cells.push([data.firstRow + r, data.firstColumn + c, plain, data.formats[r][c]]);
      }
    }),
  );
  return {
    cells,
    hiddenRows: [...data.hiddenRows],
    merged: data.merged.map(plainArea),
    tables: data.tables.map((t) => ({ name: t.name, area: plainArea(t.area) })),
  };
}
const plainArea = ({ row, column, rows, columns }: Area): Area => ({ row, column, rows, columns });

async function until(condition: () => boolean): Promise<void> {
  // Hosts may report a change after their own timers; two seconds is far beyond any of them.
  for (let waited = 0; waited < 2000 && !condition(); waited += 20) await new Promise((done) => setTimeout(done, 20));
}

const results = (name: string): NewSheet => ({
  name,
  rows: [
    [{ value: "Results", bold: true }],
    [],
    [{ value: 0.0834 }, { value: true }, { value: null }, { value: "end" }],
    [
      { value: 46033, format: "yyyy-mm-dd" },
      { value: 0.95, format: "0.0%" },
    ],
    [
      { value: "=1+1" },
      { value: "007" },
      { value: "1/8" },
      { value: "'quoted" },
      { value: "<i>&amp;</i>\nsecond line", wrap: true },
    ],
  ],
  columnWidths: [24, 10],
});

/** Runs the contract against one host. `makePort` is called once per test. */
export function portContract(name: string, makePort: (fixture: Book) => Promise<PortUnderTest>): void {
  describe(`port contract: ${name}`, () => {
    let open: PortUnderTest | undefined;
    const start = async (): Promise<PortUnderTest> => (open = await makePort(contractFixture()));
    afterEach(async () => {
      await open?.dispose();
      open = undefined;
    });

    it("lists all sheets in order and says which are hidden", async () => {
      const { port } = await start();
      const sheets = await port.sheets();
      expect(sheets.map(({ name, hidden }) => ({ name, hidden }))).toEqual([
        { name: LOG, hidden: false },
        { name: EMPTY, hidden: false },
        { name: HIDDEN, hidden: true },
      ]);
    });

    it("starts on a visible sheet", async () => {
      const { port } = await start();
      expect(await port.activeSheet()).toBe(LOG);
    });

    it("reads a rectangle whatever the raggedness, with blanks as null", async () => {
      const { port } = await start();
      const data = await port.read(LOG);
      expect(data.sheet).toBe(LOG);
      const width = data.values[0].length;
      expect(data.values.every((row) => row.length === width)).toBe(true);
      expect(data.formats.length).toBe(data.values.length);
      expect(
        data.formats.every((row) => row.length === width && row.every((f) => typeof f === "string" && f !== "")),
      ).toBe(true);
      expect(data.values.flat().every((value) => value !== undefined && value !== "")).toBe(true);
      expect(valueAt(data, 6, 3)).toBeNull();
      expect(valueAt(data, 2, 2)).toBeNull();
      expect(valueAt(data, 8, 2)).toBeNull();
      expect(valueAt(data, 11, 8)).toBe("far below");
    });

    it("keeps zero, false, text that looks like a number, and markup what they are", async () => {
      const { port } = await start();
      const data = await port.read(LOG);
      expect(valueAt(data, 1, 2)).toBe('Banks <b>& "quotes"</b>');
      expect(valueAt(data, 3, 3)).toBe("Humidity (%)");
      expect(valueAt(data, 5, 3)).toBe(0);
      expect(valueAt(data, 4, 5)).toBe(true);
      expect(valueAt(data, 5, 5)).toBe(false);
      expect(valueAt(data, 4, 6)).toBe("007");
      expect(valueAt(data, 7, 6)).toBe("1/8");
      expect(valueAt(data, 8, 4)).toBe(-0.25);
    });

    it("gives errors as CellError and formulas as their values", async () => {
      const { port } = await start();
      const data = await port.read(LOG);
      expect(valueAt(data, 5, 4)).toMatchObject({ error: "#N/A" });
      expect(valueAt(data, 7, 4)).toMatchObject({ error: "#DIV/0!" });
      expect(valueAt(data, 6, 4)).toBe(0.75);
    });

    it("tells dates and percentages by their formats and leaves the numbers whole", async () => {
      const { port } = await start();
      const data = await port.read(LOG);
      expect(valueAt(data, 4, 2)).toBe(46030);
      expect(valueAt(data, 5, 2)).toBe(46031.5);
      expect(formatAt(data, 4, 2)).toBe("yyyy-mm-dd");
      expect(valueAt(data, 4, 3)).toBe(0.455);
      expect(formatAt(data, 4, 3)).toBe("0.0%");
      expect(formatAt(data, 4, 4)).toBe("General");
    });

    it("says which rows are hidden and still reads them", async () => {
      const { port } = await start();
      const data = await port.read(LOG);
      expect([...data.hiddenRows]).toEqual([6]);
      expect(valueAt(data, 6, 2)).toBe(46032);
    });

    it("says where merged cells and tables are", async () => {
      const { port } = await start();
      const data = await port.read(LOG);
      expect(data.merged.map(plainArea)).toEqual([{ row: 1, column: 2, rows: 1, columns: 3 }]);
      expect(data.tables.map((t) => ({ name: t.name, area: plainArea(t.area) }))).toEqual([
        { name: "Trials", area: { row: 3, column: 2, rows: 6, columns: 5 } },
      ]);
    });

    it("says which tables end in totals, and what columns are called whose header row is hidden", async () => {
      open = await makePort(totalsFixture());
      const data = await open.port.read(LOG);
      expect(data.tables.map((table) => ({ ...table, area: plainArea(table.area) }))).toEqual(
        totalsFixture().sheets[0].tables,
      );
      const logs = findTrialLogs(data);
      expect(logs.map(({ title, rows, columns }) => [title, rows, columns.map(({ heading }) => heading.text)])).toEqual(
        [
          ["Gaps", [2, 3], ["Gap (in)", "Cloth"]],
          ["Bare", [7, 8], ["Speed (mph)"]],
        ],
      );
      expect(trialLogAt(data, 1)?.rows).not.toContain(4);
    });

    it("reads an empty sheet as no rows", async () => {
      const { port } = await start();
      const data = await port.read(EMPTY);
      expect(data.values).toEqual([]);
      expect(data.formats).toEqual([]);
      expect(data.tables).toEqual([]);
    });

    it("reads a hidden sheet", async () => {
      const { port } = await start();
      const data = await port.read(HIDDEN);
      expect(valueAt(data, 0, 0)).toBe("kept");
      expect(valueAt(data, 0, 1)).toBe(12);
    });

    it("names the sheet that is not there", async () => {
      const { port } = await start();
      await expect(port.read("No such sheet")).rejects.toThrow(/No such sheet/);
      await expect(port.select("No such sheet", { row: 0, column: 0, rows: 1, columns: 1 })).rejects.toThrow(
        /No such sheet/,
      );
    });

    it("brings a sheet to the front when its cells are selected", async () => {
      const { port } = await start();
      await port.select(EMPTY, { row: 2, column: 1, rows: 3, columns: 2 });
      expect(await port.activeSheet()).toBe(EMPTY);
      await port.select(LOG, { row: 4, column: 2, rows: 1, columns: 5 });
      expect(await port.activeSheet()).toBe(LOG);
    });

    it("sees what a user types, blanks included", async () => {
      const { port, setCell } = await start();
      await setCell(LOG, 8, 4, 0.5);
      await setCell(LOG, 4, 6, null);
      await setCell(LOG, 8, 6, "long");
      const data = await port.read(LOG);
      expect(valueAt(data, 8, 4)).toBe(0.5);
      expect(valueAt(data, 4, 6)).toBeNull();
      expect(valueAt(data, 8, 6)).toBe("long");
    });

    it("adds a sheet after the others with values, formats and text exactly as given", async () => {
      const { port } = await start();
      const got = await port.addSheet(results("Bend results"));
      expect(got).toBe("Bend results");
      expect((await port.sheets()).map((s) => s.name)).toEqual([LOG, EMPTY, HIDDEN, "Bend results"]);
      const data = await port.read(got);
      expect(valueAt(data, 0, 0)).toBe("Results");
      expect(valueAt(data, 1, 0)).toBeNull();
      expect(valueAt(data, 2, 0)).toBe(0.0834);
      expect(valueAt(data, 2, 1)).toBe(true);
      expect(valueAt(data, 2, 2)).toBeNull();
      expect(valueAt(data, 2, 3)).toBe("end");
      expect(valueAt(data, 3, 0)).toBe(46033);
      expect(formatAt(data, 3, 0)).toBe("yyyy-mm-dd");
      expect(valueAt(data, 3, 1)).toBe(0.95);
      expect(formatAt(data, 3, 1)).toBe("0.0%");
      // Text stays text: nothing the panel writes may turn into a formula, a number or a date.
      expect(valueAt(data, 4, 0)).toBe("=1+1");
      expect(valueAt(data, 4, 1)).toBe("007");
      expect(valueAt(data, 4, 2)).toBe("1/8");
      expect(valueAt(data, 4, 3)).toBe("'quoted");
      expect(valueAt(data, 4, 4)).toBe("<i>&amp;</i>\nsecond line");
    });

    it("never touches a cell that is there", async () => {
      const { port } = await start();
      const before = [seen(await port.read(LOG)), seen(await port.read(EMPTY)), seen(await port.read(HIDDEN))];
      await port.addSheet(results(LOG));
      await port.addSheet(results("Other"));
      await port.saveSettings('{"a":1}');
      const after = [seen(await port.read(LOG)), seen(await port.read(EMPTY)), seen(await port.read(HIDDEN))];
      expect(after).toEqual(before);
    });

    it("takes a sheet out again, and no other", async () => {
      const { port } = await start();
      const before = [seen(await port.read(LOG)), seen(await port.read(EMPTY)), seen(await port.read(HIDDEN))];
      const got = await port.addSheet(results("Bend results"));
      await port.removeSheet(got);
      expect((await port.sheets()).map((s) => s.name)).toEqual([LOG, EMPTY, HIDDEN]);
      expect([seen(await port.read(LOG)), seen(await port.read(EMPTY)), seen(await port.read(HIDDEN))]).toEqual(before);
      await expect(port.removeSheet("Bend results")).rejects.toThrow("Bend results");
    });

    it("never takes out the last sheet that shows", async () => {
      const { port } = await start();
      await port.removeSheet(EMPTY);
      await expect(port.removeSheet(LOG)).rejects.toThrow();
      expect((await port.sheets()).map((s) => s.name)).toEqual([LOG, HIDDEN]);
    });

    it("empties cells, formulas too, and only those", async () => {
      const { port } = await start();
      await port.clearCells(LOG, { row: 6, column: 2, rows: 2, columns: 3 });
      const data = await port.read(LOG);
      expect([valueAt(data, 6, 2), valueAt(data, 6, 4), valueAt(data, 7, 4)]).toEqual([null, null, null]);
      expect([valueAt(data, 7, 6), valueAt(data, 8, 4)]).toEqual(["1/8", -0.25]);
    });

    describe("a row under others", () => {
      const headings = ["Sent", "Bend (in)", "Remarks"];
      const row = (bend: number | null, remarks = "=1+1"): NewRow => ({
        sheet: "Shots",
        headings,
        cells: [{ value: 46033.5, format: "yyyy-mm-dd hh:mm" }, { value: bend }, { value: remarks }],
        columnWidths: [16, 10, 20],
      });

      it("makes the sheet, then goes under what is there, text as given", async () => {
        const { port } = await start();
        expect(await port.addRow(row(0.5))).toEqual({ sheet: "Shots", row: 1, made: true });
        expect(await port.addRow(row(null, "1/8"))).toEqual({ sheet: "Shots", row: 2, made: false });
        expect(await port.addRow(row(-0.25, "0 1/8"))).toEqual({ sheet: "Shots", row: 3, made: false });
        expect((await port.sheets()).map((s) => s.name)).toEqual([LOG, EMPTY, HIDDEN, "Shots"]);
        const data = await port.read("Shots");
        expect(data.values).toEqual([
          headings,
          [46033.5, 0.5, "=1+1"],
          [46033.5, null, "1/8"],
          [46033.5, -0.25, "0 1/8"],
        ]);
        expect([1, 2, 3].map((r) => formatAt(data, r, 0))).toEqual(Array(3).fill("yyyy-mm-dd hh:mm"));
      });

      it("touches no filled cell: notes below and columns of the user's own stay, and the row goes under them", async () => {
        const { port, setCell } = await start();
        await port.addRow(row(0.5));
        await setCell("Shots", 0, 3, "Measured");
        await setCell("Shots", 1, 3, 0.4);
        await setCell("Shots", 6, 3, "a note");
        const before = seen(await port.read("Shots")) as { cells: unknown[] };
        expect(await port.addRow(row(0.75))).toEqual({ sheet: "Shots", row: 7, made: false });
        const after = seen(await port.read("Shots")) as { cells: unknown[] };
        expect(after.cells.slice(0, before.cells.length)).toEqual(before.cells);
        expect(after.cells).toHaveLength(before.cells.length + 3);
      });

      it("makes another sheet when a heading was changed, and goes on with that one", async () => {
        const { port, setCell } = await start();
        await port.addRow(row(0.5));
        await setCell("Shots", 0, 1, "My bend");
        const before = seen(await port.read("Shots"));
        expect(await port.addRow(row(0.6))).toEqual({ sheet: "Shots 2", row: 1, made: true });
        expect(await port.addRow(row(0.7))).toEqual({ sheet: "Shots 2", row: 2, made: false });
        expect(seen(await port.read("Shots"))).toEqual(before);
      });

      it("goes far below when the sheet must grow for it", async () => {
        const { port, setCell } = await start();
        await port.addRow(row(0.5));
        const { values } = await port.read("Shots");
        expect(values).toHaveLength(2);
        for (const at of [90, 180, 199]) await setCell("Shots", at, 0, "far");
        for (let at = 200; at < 203; at++) expect(await port.addRow(row(1))).toMatchObject({ row: at });
      });
    });

    describe("cells for a row of a log", () => {
      it("go under the last row of a table, which takes the row in; other cells stay", async () => {
        const { port } = await start();
        const before = seen(await port.read(LOG)) as { cells: unknown[] };
        const cells = [
          { column: 4, value: 0.375, format: "# ??/??" },
          { column: 6, value: "=1+1" },
          { column: 2, value: 46040, format: "yyyy-mm-dd" },
        ];
        const done = await port.fillRow({ sheet: LOG, row: 9, cells });
        expect(done).toEqual({ written: [4, 6, 2] });
        const data = await port.read(LOG);
        expect([2, 3, 4, 5, 6].map((c) => valueAt(data, 9, c))).toEqual([46040, null, 0.375, null, "=1+1"]);
        expect([formatAt(data, 9, 2), formatAt(data, 9, 4)]).toEqual(["yyyy-mm-dd", "# ??/??"]);
        const after = seen(data) as { cells: unknown[] };
        expect(after.cells).toHaveLength(before.cells.length + 3);
        expect(after.cells).toEqual(expect.arrayContaining(before.cells));
        expect(data.tables[0]?.area).toEqual({ row: 3, column: 2, rows: 7, columns: 5 });
      });

      it("are all left alone where one stands in the way; an optional one only gives way itself", async () => {
        const { port } = await start();
        const before = seen(await port.read(LOG));
        const wanted = [3, 4].map((column) => ({ column, value: 7 }));
        expect(await port.fillRow({ sheet: LOG, row: 6, cells: wanted })).toEqual({ filled: 4 });
        expect(seen(await port.read(LOG))).toEqual(before);
        const cells = wanted.map((cell) => ({ ...cell, optional: true }));
        expect(await port.fillRow({ sheet: LOG, row: 6, cells })).toEqual({ written: [3] });
        const data = await port.read(LOG);
        expect([valueAt(data, 6, 3), valueAt(data, 6, 4)]).toEqual([7, 0.75]);
        expect(formatAt(data, 6, 4)).toBe("General");
        await expect(port.fillRow({ sheet: "Nowhere", row: 1, cells })).rejects.toThrow("Nowhere");
      });

      it("go far below when the sheet must grow for them, one row after the other at once", async () => {
        const { port } = await start();
        const rows = [300, 301, 302];
        const put = (row: number) => port.fillRow({ sheet: EMPTY, row, cells: [{ column: 1, value: row }] });
        expect(await Promise.all(rows.map(put))).toEqual(rows.map(() => ({ written: [1] })));
        const data = await port.read(EMPTY);
        expect(rows.map((row) => valueAt(data, row, 1))).toEqual(rows);
      });
    });

    it("finds another name when the wanted one is taken, in any case", async () => {
      const { port } = await start();
      expect(await port.addSheet(results("Results"))).toBe("Results");
      expect(await port.addSheet(results("Results"))).toBe("Results 2");
      expect(await port.addSheet(results("RESULTS"))).toBe("RESULTS 3");
      expect(await port.addSheet(results(LOG))).toBe(`${LOG} 2`);
      expect(await port.addSheet(results(HIDDEN))).toBe(`${HIDDEN} 2`);
    });

    it("mends names a sheet may not have", async () => {
      const { port } = await start();
      const wanted = ["Bend: cloth/humidity [1]?*\\", "'quoted'", "", "x".repeat(60), "x".repeat(60), "History"];
      const got: string[] = [];
      for (const name of wanted)
        got.push(await port.addSheet({ name, rows: [[{ value: name === "" ? "no name" : name }]] }));
      for (const name of got) {
        expect(name).not.toMatch(/[:\\/?*[\]]/);
        expect(name).not.toMatch(/^'|'$/);
        expect(name.length).toBeGreaterThan(0);
        expect(name.length).toBeLessThanOrEqual(31);
        expect(name.toLowerCase()).not.toBe("history");
      }
      expect(new Set(got.map((n) => n.toLowerCase())).size).toBe(got.length);
      const listed = (await port.sheets()).map((s) => s.name);
      expect(listed.slice(3)).toEqual(got);
      expect(valueAt(await port.read(got[3]), 0, 0)).toBe("x".repeat(60));
    });

    it("adds an empty sheet", async () => {
      const { port } = await start();
      const got = await port.addSheet({ name: "Blank", rows: [] });
      expect((await port.read(got)).values).toEqual([]);
    });

    it("has no settings at first, and gives back what was saved last", async () => {
      const { port } = await start();
      expect(await port.loadSettings()).toBeNull();
      const settings = JSON.stringify({
        response: "Bend (in)",
        note: "<&\"'> ]]> ü 日本 😀\n\ttab",
        drivers: Array.from({ length: 400 }, (_, i) => `driver ${i}`),
      });
      await port.saveSettings("{}");
      await port.saveSettings(settings);
      expect(await port.loadSettings()).toBe(settings);
    });

    it("calls back with the sheet's name when a cell changes, until it is told to stop", async () => {
      const { port, setCell } = await start();
      const first: string[] = [];
      const second: string[] = [];
      const stopFirst = port.onChange(({ sheet }) => first.push(sheet));
      const stopSecond = port.onChange(({ sheet }) => second.push(sheet));
      await setCell(LOG, 8, 4, 0.625);
      await until(() => first.includes(LOG) && second.includes(LOG));
      expect(first).toContain(LOG);
      expect(second).toContain(LOG);
      stopFirst();
      first.length = 0;
      second.length = 0;
      await setCell(EMPTY, 0, 0, "typed");
      await until(() => second.includes(EMPTY));
      expect(second).toContain(EMPTY);
      expect(first).toEqual([]);
      stopSecond();
    });

    it("says where a cell changed, also through what is laid over the port", async () => {
      const { port, setCell } = await start();
      const heard: SheetChange[] = [];
      const stop = portOver(port, {}).onChange((change) => heard.push(change));
      // Excel is told of a listener by a call like others, after which it stands.
      await port.read(LOG);
      await setCell(LOG, 8, 4, 0.625);
      await until(() => heard.length > 0);
      expect(heard.every(({ sheet }) => sheet === LOG)).toBe(true);
      const area = heard[0].area;
      expect(area && liesIn({ row: 8, column: 4, rows: 1, columns: 1 }, area)).toBe(true);
      stop();
    });

    it("does not say where when a sheet comes, and tells of no cell that it leaves out when formulas follow", async () => {
      const { port, setCell } = await start();
      const heard: SheetChange[] = [];
      const stop = port.onChange((change) => heard.push(change));
      const name = await port.addSheet(results("Bend results"));
      await until(() => heard.length > 0);
      for (const change of heard) expect(change.sheet).toBe(name);
      const before = await port.read(LOG);
      heard.length = 0;
      await setCell(LOG, 5, 3, 0.5);
      await until(() => heard.length > 0);
      const after = await port.read(LOG);
      const isChanged = (r: number, c: number) =>
        JSON.stringify(after.values[r][c]) !== JSON.stringify(before.values[r][c]);
      expect(isChanged(5 - after.firstRow, 3 - after.firstColumn)).toBe(true);
      after.values.forEach((line, r) =>
        line.forEach((_, c) => {
          if (!isChanged(r, c)) return;
          const cell = { row: after.firstRow + r, column: after.firstColumn + c, rows: 1, columns: 1 };
          expect(heard.some(({ area }) => !area || liesIn(cell, area))).toBe(true);
        }),
      );
      stop();
    });

    it("reads an area as it stands in the whole sheet", async () => {
      const { port } = await start();
      const data = await port.read(LOG);
      const areas = [
        { row: 4, column: 2, rows: 1, columns: 1 },
        { row: 5, column: 3, rows: 3, columns: 4 },
        { row: 1, column: 2, rows: 11, columns: 7 },
      ];
      for (const area of areas) {
        const part = await port.readArea(LOG, area);
        const [top, left] = [area.row - data.firstRow, area.column - data.firstColumn];
        const cut = <T>(grid: readonly (readonly T[])[]) =>
          grid.slice(top, top + area.rows).map((line) => line.slice(left, left + area.columns));
        expect(part.values).toEqual(cut(data.values));
        expect(part.formats).toEqual(cut(data.formats));
        expect(part.hiddenRows).toEqual(data.hiddenRows.filter((row) => row >= area.row && row < area.row + area.rows));
        expect(part.merged.map(plainArea)).toEqual(data.merged.filter((one) => meets(one, area)).map(plainArea));
        expect(part.tables).toEqual(data.tables);
      }
      await expect(port.readArea("No such sheet", areas[0])).rejects.toThrow(/No such sheet/);
    });

    it("is read anew after any change as if it were read as a whole, by fetching what changed", async () => {
      const { port, setCell } = await start();
      let whole = 0;
      const reader = new SheetReader(
        portOver(port, {
          read: (sheet) => {
            whole++;
            return port.read(sheet);
          },
        }),
      );
      const stop = port.onChange((change) => reader.note(change));
      await reader.read(LOG);
      const fetched: number[] = [];
      const typed: [number, number, CellValue][] = [
        [8, 4, 0.5],
        [5, 6, "in the middle"],
        [7, 6, null],
        [11, 8, null],
        [14, 4, 2],
      ];
      for (const [row, column, value] of typed) {
        whole = 0;
        let told = false;
        const stopWaiting = port.onChange(() => (told = true));
        await setCell(LOG, row, column, value);
        await until(() => told);
        stopWaiting();
        expect(await reader.readChanges(LOG)).toEqual(await port.read(LOG));
        fetched.push(whole);
      }
      // The last two shrink and widen the used range.
      expect(fetched).toEqual([0, 0, 0, 1, 1]);
      stop();
    });
  });
}
