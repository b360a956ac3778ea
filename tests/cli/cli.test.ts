/** The command line as people call it: a process, its output, its exit code. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../src/workbook/file/save/saveCopy";
import { makeBook } from "../../scripts/samples/book";
import { commandProcess } from "./commandLine";

const root = join(import.meta.dirname, "../..");
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "bendbook-cli-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const bendbook = commandProcess(() => folder);
const json = (...args: string[]) => {
  const { status, out, err } = bendbook(...args, "--json");
  return { status, err, data: JSON.parse(out) };
};
function file(name: string, text: string): string {
  writeFileSync(join(folder, name), text);
  return name;
}
const demonstration = join(root, "sample-workbooks", "demonstration.xlsx");

describe("evaluate", () => {
  it("computes what the sheet computes, at full precision", () => {
    const { status, data } = json(
      "evaluate",
      "BANK.BEND(1/8)",
      "BANK.BEND({1,2;3,4})",
      'BANK.BEND(3,,"mm")',
      'BANK.INCHES("3/16""")',
      'BANK.INCHES("1⅛")',
      "=bank.bend(1/3)",
      "SUM(BANK.BEND({1,0.5}))",
      'IF(BANK.BEND(1)>0,"short","long")',
    );
    expect(status).toBe(0);
    expect(data.map((one: { value: unknown }) => one.value)).toEqual([
      1,
      [
        [0.125, -0.875],
        [-1.875, -2.875],
      ],
      25.575,
      0.1875,
      1.125,
      2.25 / 2 - 1 / 3,
      0.75,
      "short",
    ]);
    expect(data[0].formula).toBe("BANK.BEND(1/8)");
  });

  it("ends with 1 when any formula or cell of a spill is an error, and says why", () => {
    const { status, data } = json(
      "evaluate",
      "BANK.BEND(1)",
      'BANK.BEND("x")',
      "BANK.BENT(1)",
      "BANK.BEND(1",
      'BANK.BEND({1;"x"})',
      "BANK.BEND(46030)",
    );
    expect(status).toBe(1);
    expect(data[0].value).toBe(0.125);
    expect(data[1]).toMatchObject({ error: "#VALUE!", message: expect.stringContaining('gap is "x"') });
    expect(data[2]).toMatchObject({ error: "#NAME?", message: expect.stringContaining("BANK.BEND") });
    expect(data[3].message).toContain("closing )");
    expect(data[4].value[1][0]).toMatchObject({ error: "#VALUE!" });
    expect(data[5].message).toContain("turned into a date");
  });
});

describe("regress", () => {
  it("answers in the form and order that is promised", () => {
    const { status, data } = json(
      "regress",
      demonstration,
      "--response",
      "Bend (in)",
      "--category",
      "Cloth",
      "--curve",
      "Spin",
      "2",
      "--driver",
      "Humidity (%)",
      "--joint",
      "Humidity (%)",
      "Cloth",
      "--confidence",
      "0.9",
    );
    expect(status).toBe(0);
    expect(data.terms.map((term: { term: string }) => term.term)).toEqual([
      "constant",
      "Cloth: new",
      "Spin",
      "Spin²",
      "Humidity (%)",
      "Humidity (%) × Cloth: new",
    ]);
    expect(data).toMatchObject({
      rowsRead: 240,
      rowsUsed: 239,
      leftOut: [{ row: 142, column: "Bend (in)", reason: "Bend (in) is blank" }],
    });
    for (const key of ["estimate", "standardError", "t", "p", "low", "high"])
      expect(typeof data.terms[1][key]).toBe("number");
    expect(data.residual.df).toBe(239 - 6);
    expect(data.F).toMatchObject({ df1: 5, df2: 233 });
  });

  it("recomputes BANK formulas before it reads them", async () => {
    const stale = makeBook([
      {
        name: "Log",
        widths: [],
        rows: [["x", "Gap", "Bend"], ...[1, 2, 3, 4].map((x) => [x, x / 4, `=BANK.BEND(B${x + 1})`])],
      },
    ]);
    const wrong = {
      ...stale,
      sheets: stale.sheets.map((sheet) => ({
        ...sheet,
        rows: sheet.rows.map((row) => row?.map((cell) => (cell?.formula ? { ...cell, value: 99 } : cell))),
      })),
    };
    writeFileSync(join(folder, "stale.xlsx"), (await saveCopy(null, wrong)).bytes);
    expect(json("regress", "stale.xlsx", "--response", "Bend", "--driver", "x").data.terms[1].estimate).toBeCloseTo(
      -0.25,
      12,
    );

    const { status, data } = json("recalculate", "stale.xlsx", "--out", "fresh.xlsx");
    expect(status).toBe(0);
    expect(data.formulas).toBe(4);
    expect(data.bank).toBe(4);
    expect(data.changed[0]).toEqual({ sheet: "Log", cell: "C2", stored: 99, computed: 0.875 });
    expect((await readXlsx(readFileSync(join(folder, "fresh.xlsx")))).sheets[0].rows[4]?.[2]?.value).toBe(0.125);
    expect(bendbook("recalculate", "stale.xlsx", "--out", "fresh.xlsx")).toMatchObject({
      status: 1,
      err: expect.stringContaining("is there already"),
    });
    expect(bendbook("recalculate", "stale.xlsx", "--out", "./stale.xlsx")).toMatchObject({
      status: 2,
      err: expect.stringContaining("the file itself"),
    });
    expect(json("recalculate", "fresh.xlsx", "--out", "again.xlsx").data.changed).toEqual([]);
  });

  it("reads numbers kept as text, percentages and fractions from .csv, and lists every row left out", () => {
    const name = file(
      "log.csv",
      'Humidity (%),Gap (in),Cloth,Bend (in)\n40,"8.5 ",new,0.5\n45 %,1/2,new,0.52\n50,1 1/8,worn,0.71\n55,0.25,worn,1/2\n,1,worn,0.6\n60,1,new,#N/A\n65,0.5,worn,0.6\n70,0.75,new,0.35\n',
    );
    const { data } = json("regress", name, "--response", "Bend (in)", "--driver", "humidity", "--driver", "Gap (in)");
    expect(data.leftOut).toEqual([
      { row: 6, column: "Humidity (%)", cell: "A6", reason: "Humidity (%) is blank" },
      { row: 7, column: "Bend (in)", cell: "D7", reason: "Bend (in) is the error #N/A" },
    ]);
    expect([data.rowsRead, data.rowsUsed]).toEqual([8, 6]);
  });

  it("leaves out cells beyond any measurement, with their addresses, and prints no NaN", () => {
    const rows = ["1e999", "1e200", "-1e307", "1e31", "8", "9", "10", "11"]
      .map((speed, i) => `${speed},${0.5 + i / 10}`)
      .join("\n");
    const name = file("huge.csv", `Speed (mph),Bend (in)\n${rows}\n`);
    for (const args of [
      ["--driver", "Speed (mph)"],
      ["--curve", "Speed (mph)", "2"],
    ]) {
      const { status, data, err } = json("regress", name, "--response", "Bend (in)", ...args);
      expect([status, err, data.rowsUsed]).toEqual([0, "", 4]);
      expect(
        data.leftOut.map(({ cell, reason }: { cell: string; reason: string }) => [
          cell,
          /beyond any measurement/.test(reason),
        ]),
      ).toEqual([
        ["A2", true],
        ["A3", true],
        ["A4", true],
        ["A5", true],
      ]);
      expect(JSON.stringify(data)).not.toMatch(/NaN|Infinity/);
    }
    const plain = bendbook("regress", name, "--response", "Speed (mph)", "--driver", "Bend (in)");
    expect(plain.status).toBe(0);
    expect(plain.out).not.toMatch(/NaN|Infinity/);
  });

  it("says what cannot be estimated, and prints text that a person can read", () => {
    const name = file("pair.csv", "speed,draw,bend\n1,2,1\n2,4,2.5\n3,6,2.9\n4,8,4.2\n");
    const { out, status } = bendbook("regress", name, "--response", "bend", "--driver", "speed", "--driver", "draw");
    expect(status).toBe(0);
    expect(out).toContain("Not estimated: speed always changes together with draw: their effects cannot be separated.");
    expect(out).not.toMatch(/\*{1,3}\s|~/);
  });

  it.each([
    [["regress", "nowhere.csv", "--response", "x"], 1, "There is no file nowhere.csv"],
    [["regress", "log.csv", "--response", "Swing"], 1, 'no column headed "Swing"; there are: "Humidity (%)"'],
    [["regress", "log.csv", "--response", "Bend (in)", "--driver", "Cloth", "--sheet", "Nope"], 1, 'no sheet "Nope"'],
    [["regress", "log.csv", "--response", "Bend (in)", "--driver", "Cloth"], 1, "None of the 8 rows can be used"],
    [
      ["regress", "log.csv", "--response", "Bend (in)", "--curve", "Humidity (%)", "11"],
      2,
      "whole number from 1 to 10",
    ],
    [["regress", "log.csv", "--response", "Bend (in)", "--joint", "Cloth"], 2, "needs a second heading behind it"],
    [
      ["regress", "log.csv", "--response", "Bend (in)", "--joint", "Cloth", "Gap (in)"],
      1,
      "is no driver: add it as a driver first",
    ],
    [["regress", "log.csv", "--confidence", "2", "--response", "Bend (in)"], 2, "between 0 and 1"],
    [["regress", "log.csv"], 2, "--response"],
    [["regress", "log.csv", "--answer", "x"], 2, "--answer"],
    [["evaluate"], 2, "needs a formula"],
    [["bend"], 2, 'no command "bend"'],
    [[], 2, "bendbook evaluate FORMULA"],
  ] as const)("%j ends with %i", (args, status, message) => {
    const result = bendbook(...args);
    expect(result.status).toBe(status);
    expect(result.err).toContain(message);
    expect(result.out).toBe("");
  });

  it("--help and --version", () => {
    expect(bendbook("--help")).toMatchObject({
      status: 0,
      out: expect.stringContaining("bendbook regress FILE --response HEADER"),
    });
    expect(bendbook("--version").out.trim()).toBe(JSON.parse(readFileSync(join(root, "package.json"), "utf8")).version);
  });
});
