/** bendbook gather as people call it; what it writes is read by other libraries. */
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import ExcelJS from "exceljs";
import { asyncBufferFromFile, parquetReadObjects } from "hyparquet";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeBook } from "../../scripts/samples/book";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../src/workbook/file/save/saveCopy";
import { commandLine } from "./commandLine";

let folder: string;
const bendbook = commandLine(() => folder);
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "bendbook-gather-test-"));
  mkdirSync(join(folder, "halls", "north"), { recursive: true });
  const book = makeBook([
    {
      name: "Log",
      widths: [],
      rows: [
        ["Trial", "Session", "Gap (in)", "Bend (in)", "Made"],
        ...[1, 2, 3, 4].map((n) => [n, "s1", n / 8, `=BANK.BEND(C${n + 1})`, n % 2 ? "yes" : "no"]),
      ],
    },
  ]);
  const stale = {
    ...book,
    sheets: book.sheets.map((sheet) => ({
      ...sheet,
      rows: sheet.rows.map((row) => row?.map((cell) => (cell?.formula ? { ...cell, value: 99 } : cell))),
    })),
  };
  writeFileSync(join(folder, "halls", "east.xlsx"), (await saveCopy(null, stale)).bytes);
  writeFileSync(
    join(folder, "halls", "north", "log.csv"),
    'Trial;Session;Bend (mm);Made;Remarks\n1;n1;12,7;made;"a; b"\n2;n1;;missed;=1+1\n',
  );
  writeFileSync(join(folder, "halls", "broken.xlsx"), "x");
  writeFileSync(join(folder, "halls", "list.csv"), "Name,Price\ncue,3\n");
  writeFileSync(join(folder, "halls", "~$east.xlsx"), "lock");
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("gather", () => {
  it("takes an answer that fills cells for no log", () => {
    mkdirSync(join(folder, "answered"));
    copyFileSync(join(import.meta.dirname, "../../sample-workbooks/attempts.xlsx"), join(folder, "answered", "a.xlsx"));
    const { status, out } = bendbook("gather", "answered", "--out", "answered.csv", "--json");
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ rows: 192, sources: [{ sheet: "Attempts" }] });
    const [headings = ""] = readFileSync(join(folder, "answered.csv"), "utf8").split("\n");
    expect(headings).not.toMatch(/scatter|low|high/i);
  });

  it("makes one tidy .csv with origins, computed anew, and lists what it did", () => {
    const { status, out, err } = bendbook("gather", "halls", "--out", "set.csv", "--json");
    // Nothing but how far it is, which a slow machine is told now and then.
    expect(err).toMatch(/^(\d+ of \d+ files read, [\d,]+ rows\n|[\d,]+ of [\d,]+ rows written\n)*$/);
    expect(status).toBe(0);
    const told = JSON.parse(out);
    expect(told).toMatchObject({
      rows: 6,
      files: 4,
      conversions: ['"Bend (mm)" of north/log.csv was turned from mm into in.'],
      conflicts: [],
      leftBlank: [],
    });
    expect(told.sources.map((one: { origin: string }) => one.origin)).toEqual(["east.xlsx", "north/log.csv"]);
    expect(told.notGathered).toEqual([
      { origin: "broken.xlsx", reason: expect.stringMatching(/^The file is not an \.xlsx workbook/) },
      { origin: "list.csv", reason: expect.stringContaining("no table with a column of bend") },
    ]);
    expect(readFileSync(join(folder, "set.csv"), "utf8")).toBe(
      "\ufeffOrigin,Origin sheet,Origin row,Trial,Session,Gap (in),Bend (in),Made,Remarks\r\n" +
        "east.xlsx,Log,2,1,s1,0.125,1,TRUE,\r\neast.xlsx,Log,3,2,s1,0.25,0.875,FALSE,\r\neast.xlsx,Log,4,3,s1,0.375,0.75,TRUE,\r\neast.xlsx,Log,5,4,s1,0.5,0.625,FALSE,\r\n" +
        'north/log.csv,log,2,1,n1,,0.5,TRUE,"a; b"\r\nnorth/log.csv,log,3,2,n1,,,FALSE,\'=1+1\r\n',
    );
    const again = bendbook("regress", "set.csv", "--response", "Bend (in)", "--category", "Origin", "--json");
    expect(JSON.parse(again.out)).toMatchObject({ rowsRead: 6, rowsUsed: 5 });
  });

  it("joins columns of two names and units, reads decimal commas and rows of units, and says each", () => {
    mkdirSync(join(folder, "two"));
    writeFileSync(
      join(folder, "two", "de.csv"),
      "Datum,Bogen,Tempo\n,mm,km/h\n2026-01-08,25.4,16.09344\n2026-01-09,12.7,8.04672\n",
    );
    writeFileSync(
      join(folder, "two", "us.csv"),
      'Datum,Bend (in),Speed (mph)\n2026-01-10,"0,75",9\n2026-01-11,"0,5",8\n2026-01-12,1,7\n',
    );
    const { status, out } = bendbook(
      "gather",
      "two",
      "--out",
      "two.csv",
      "--same",
      "Bogen",
      "Bend (in)",
      "--same",
      "Tempo",
      "Speed (mph)",
      "--json",
    );
    expect(status).toBe(0);
    const told = JSON.parse(out);
    expect(told.readAs).toEqual([
      "de.csv, de: Row 2 holds units and is no trial: Bogen in mm, Tempo in km/h.",
      'us.csv, us: Bend (in): 2 cells are text with a decimal comma, the first B2 with "0,75"; read as numbers.',
    ]);
    expect(told.conversions).toEqual([
      '"Bogen" of de.csv was turned from mm into in.',
      '"Tempo" of de.csv was turned from km/h into mph.',
    ]);
    expect(readFileSync(join(folder, "two.csv"), "utf8")).toBe(
      "\ufeffOrigin,Origin sheet,Origin row,Datum,Bogen (in),Tempo (mph)\r\n" +
        "de.csv,de,3,2026-01-08,1,10\r\nde.csv,de,4,2026-01-09,0.5,5\r\nus.csv,us,2,2026-01-10,0.75,9\r\nus.csv,us,3,2026-01-11,0.5,8\r\nus.csv,us,4,2026-01-12,1,7\r\n",
    );
    expect(told.columns[0]).toEqual({ heading: "Datum", kind: "date", unit: "" });
  });

  it("does not count a set of its own twice, nor read anything for a place that cannot be written to", () => {
    expect(bendbook("gather", "halls", "--out", "halls/before.csv").status).toBe(0);
    const { status, out } = bendbook("gather", "halls", "--out", "after.csv", "--json");
    rmSync(join(folder, "halls", "before.csv"));
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ rows: 6, conflicts: [] });
    expect(JSON.parse(out).notGathered).toContainEqual({
      origin: "before.csv",
      reason: expect.stringContaining("it is a gathered set itself"),
    });
    const nowhere = bendbook("gather", "halls", "--out", "nowhere/set.csv");
    expect(nowhere.status).toBe(1);
    expect(nowhere.err).toMatch(/^bendbook: There is no folder for nowhere\/set\.csv/);
  });

  it("writes an .xlsx that this program and another read alike, notes on a second sheet", async () => {
    expect(bendbook("gather", "halls", "--out", "set.xlsx").status).toBe(0);
    const ours = await readXlsx(readFileSync(join(folder, "set.xlsx")));
    expect(ours.sheets.map(({ name }) => name)).toEqual(["Trials", "Gathered from"]);
    expect(ours.sheets[0].tables[0]).toEqual({ name: "Trials", area: { row: 0, column: 0, rows: 7, columns: 9 } });
    const theirs = new ExcelJS.Workbook();
    await theirs.xlsx.readFile(join(folder, "set.xlsx"));
    const [trials, notes] = theirs.worksheets;
    expect((trials.getRow(6).values as unknown[]).slice(1)).toEqual([
      "north/log.csv",
      "log",
      2,
      1,
      "n1",
      undefined,
      0.5,
      true,
      "a; b",
    ]);
    ours.sheets[0].rows.forEach((row, r) =>
      row?.forEach((cell, c) => expect(trials.getCell(r + 1, c + 1).value ?? null).toEqual(cell?.value ?? null)),
    );
    expect(notes.getColumn(1).values).toContain("Not gathered");
  });

  it("writes Parquet that another library reads, with dates as moments", async () => {
    writeFileSync(join(folder, "halls", "north", "dated.csv"), "Date,Bend (in)\n2026-01-08,1\n");
    expect(bendbook("gather", "halls", "--out", "set.parquet", "--units", "si").status).toBe(0);
    const rows = await parquetReadObjects({ file: await asyncBufferFromFile(join(folder, "set.parquet")) });
    expect(rows).toHaveLength(7);
    expect(rows[0]).toMatchObject({
      Origin: "east.xlsx",
      "Origin row": 2,
      "Bend (mm)": 25.4,
      Made: true,
      Remarks: null,
    });
    rmSync(join(folder, "halls", "north", "dated.csv"));
  });

  it("gathers its own output only once when it lies in the folder", () => {
    expect(bendbook("gather", "halls", "--out", "halls/all.csv").status).toBe(0);
    const second = bendbook("gather", "halls", "--out", "halls/all.csv", "--force", "--json");
    expect(JSON.parse(second.out).rows).toBe(6);
    rmSync(join(folder, "halls", "all.csv"));
  });

  it.each([
    [["gather", "halls"], 2, "needs --out"],
    [["gather", "--out", "x.csv"], 2, "needs the folder"],
    [["gather", "halls", "--out", "x.txt"], 2, ".xlsx, .csv or .parquet"],
    [["gather", "halls", "--out", "x.csv", "--units", "metric"], 2, '--units is "metric"'],
    [["gather", "halls", "--out", "x.csv", "--same", "Bend"], 2, "second heading"],
    [["gather", "nowhere", "--out", "x.csv"], 1, "There is no folder nowhere"],
    [["gather", "halls/east.xlsx", "--out", "x.csv"], 1, "is a file, not a folder"],
    [["gather", "halls", "--out", "nowhere/x.csv"], 1, "no folder for"],
    [["gather", "halls", "--out", "x.csv", "--sheet", "Spring"], 1, 'no sheet "Spring"'],
    [["gather", "halls", "--out", "set.csv"], 1, "is there already"],
  ])("%j ends with %i and says why, and leaves no file", (args, status, words) => {
    const result = bendbook(...args);
    expect(result.err).toContain(words);
    expect(result.status).toBe(status);
    expect(existsSync(join(folder, "x.csv"))).toBe(false);
    expect(readdirSync(folder).filter((name) => name.endsWith(".part"))).toEqual([]);
  });
});
