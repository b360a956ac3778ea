/** A workbook computed without a screen: values, errors and their words, spills, looks, tables, names. */
import { afterEach, describe, expect, it } from "vitest";
import { isCellError, type Book } from "../../../src/workbook/book";
import type { FunctionLibrary } from "../../../src/functions/call";
import { createEngine, type Engine } from "../../../src/workbook/embedded/engine";
import { at, book, cell, sheet, valuesOf } from "./books";

let engine: Engine | undefined;
afterEach(() => {
  engine?.dispose();
  engine = undefined;
});
const open = async (opened: Book, library?: FunctionLibrary): Promise<Engine> =>
  (engine = library ? await createEngine(opened, library) : await createEngine(opened));

describe("recalculate", () => {
  it("opens a workbook without sheets", async () => {
    expect((await (await open(book([]))).recalculate()).sheets).toHaveLength(1);
  });

  it("computes formulas and replaces stored values", async () => {
    const stale = sheet("Log", [[0.5, "=BANK.BEND(A1)"]]);
    const opened = book([{ ...stale, rows: [[cell(0.5), { value: 99, formula: "BANK.BEND(A1)" }]] }]);
    expect(valuesOf((await (await open(opened)).recalculate()).sheets[0])).toEqual([[0.5, 0.625]]);
  });

  it("says in words what an error is, spilled cells included, and forgets it when the cell is mended", async () => {
    const running = await open(book([sheet("Log", [["x", "=BANK.BEND(A1)", "=BANK.BEND(A1:A3)"], [0.5], ["y"]])]));
    const words = (row: number, column: number) => running.live.messageAt("Log", row, column);
    expect(words(0, 1)).toContain('"x"');
    expect(words(0, 2)).toContain('"x"');
    expect(words(1, 2)).toBeUndefined();
    expect(words(2, 2)).toContain('"y"');
    const found = at(running.live.book(), "Log", 2, 2)!.value;
    expect(isCellError(found) && found.message).toContain('"y"');
    running.setCell("Log", 0, 0, 1);
    await running.live.settled();
    expect(words(0, 1)).toBeUndefined();
    expect(words(0, 2)).toBeUndefined();
    expect(words(2, 2)).toContain('"y"');
  });

  it("does not keep words of a formula that is no longer there", async () => {
    const running = await open(book([sheet("Log", [['=BANK.BEND("x")']])]));
    running.setCell("Log", 0, 0, '=1+"y"');
    await running.live.settled();
    expect(at(running.live.book(), "Log", 0, 0)?.value).toEqual({ error: "#VALUE!" });
  });

  it("survives a function that throws anything", async () => {
    const library: FunctionLibrary = {
      namespace: "BANK",
      metadata: { functions: ["BREAK", "BARE"].map((id) => ({ id, name: id, parameters: [] })) },
      functions: {
        BREAK: () => {
          throw new TypeError("no such thing");
        },
        BARE: () => {
          throw "just text";
        },
      },
    };
    const running = await open(book([sheet("Log", [["=BANK.BREAK()", "=BANK.BARE()", "=1+1"]])]), library);
    expect(valuesOf(running.live.book().sheets[0])).toEqual([
      [
        { error: "#VALUE!", message: "BANK.BREAK stopped: no such thing" },
        { error: "#VALUE!", message: "BANK.BARE stopped: just text" },
        2,
      ],
    ]);
  });

  it("refuses metadata without a function", async () => {
    await expect(
      createEngine(book([]), {
        namespace: "BANK",
        metadata: { functions: [{ id: "GONE", name: "GONE", parameters: [] }] },
        functions: {},
      }),
    ).rejects.toThrow(/no function GONE/);
  });

  it("hands over blanks, errors, text and truth as they are", async () => {
    const seen: unknown[][] = [];
    const library: FunctionLibrary = {
      namespace: "BANK",
      metadata: {
        functions: [
          {
            id: "SEE",
            name: "SEE",
            parameters: ["a", "b", "c"].map((name) => ({ name, optional: true, dimensionality: "matrix" })),
          },
        ],
      },
      functions: {
        SEE: (...values) => {
          seen.push(values);
          return 1;
        },
      },
    };
    await open(
      book([sheet("Log", [[null, "8.5 ", true, { error: "#N/A" }, 0, "1/8"], ['=BANK.SEE(A1:F1,,"1/2")']])]),
      library,
    );
    expect(seen.at(-1)).toEqual([[[null, "8.5 ", true, { error: "#N/A" }, 0, "1/8"]], null, [["1/2"]]]);
  });

  it("spills, and says what is in the way", async () => {
    const running = await open(book([sheet("Log", [["={1,2;3,4}"], [], ["={5;6}"], ["in the way"]])]));
    const found = running.live.book().sheets[0];
    expect(found.rows[0]![0]).toEqual({
      value: 1,
      formula: "{1,2;3,4}",
      spill: { row: 0, column: 0, rows: 2, columns: 2 },
    });
    expect(found.rows[1]![1]).toEqual({ value: 4, spilled: true });
    expect(found.rows[2]![0]).toEqual({
      value: { error: "#SPILL!", message: expect.stringMatching(/A3:A4.*Log!A4 is not empty/) },
      formula: "{5;6}",
    });
    expect(found.rows[3]![0]).toEqual({ value: "in the way" });
    running.setCell("Log", 3, 0, null);
    await running.live.settled();
    expect(valuesOf(running.live.book().sheets[0])).toEqual([[1, 2], [3, 4], [5], [6]]);
  });

  it("opens what it saved, spills included", async () => {
    const first = await (await open(book([sheet("Log", [["=BANK.SPREAD({1;2;4})"]])]))).recalculate();
    engine!.dispose();
    const second = await (await open(first)).recalculate();
    expect(second).toEqual(first);
  });

  it("finds other sheets by name, apostrophes and blanks included", async () => {
    const running = await open(
      book([
        sheet("Sum", [["='Bo''s log'!A1+'two words'!A1"]]),
        sheet("Bo's log", [[1]]),
        sheet("two words", [[2]], { hidden: true }),
      ]),
    );
    expect(at(running.live.book(), "Sum", 0, 0)?.value).toBe(3);
  });

  it("reads one formula rightly after another that nobody can read", async () => {
    const running = await open(
      book([
        sheet("Log", [["=SUM(A["], ["=BANK.BEND(1"], ["='x"], ['="y'], ['=IF(0.50=0.5,"same","other")'], ["=1e5+1"]]),
      ]),
    );
    const values = valuesOf(running.live.book().sheets[0]).flat();
    expect(values.slice(0, 4).every((value) => isCellError(value) && value.message !== undefined)).toBe(true);
    expect(values.slice(4)).toEqual(["same", 100001]);
  });

  it("keeps every kind of value, look and place through a round trip", async () => {
    const kinds = [["007", "1/8", "=1+1", true, false, 0, -1.5, { error: "#N/A" }, "TRUE", "  ", "<b>\n&"]];
    const opened = book(
      [
        {
          ...sheet("Log", [], {
            hiddenRows: [2, 5],
            merged: [{ row: 3, column: 1, rows: 2, columns: 2 }],
            columnWidths: [10, undefined, 12.5],
            frozenRows: 1,
            frozenColumns: 2,
          }),
          rows: [
            kinds[0].map((value, i) => ({ value, style: i % 3 })),
            undefined,
            [undefined, { value: null, style: 2 }],
          ],
          validations: [{ areas: [{ row: 1, column: 0, rows: 9, columns: 1 }], choices: ["worn", "new"] }],
        },
        sheet("Hidden", [[1]], { hidden: true }),
      ],
      {
        styles: [
          { bold: true, color: "#112233", fill: "#ffee00" },
          { format: "yyyy-mm-dd", horizontal: "right" },
          { wrap: true, italic: true, fontSize: 14 },
        ],
        settings: "{}",
        names: [{ name: "One", reference: "Hidden!$A$1" }],
      },
    );
    const back = await (await open(opened)).recalculate();
    expect(back.sheets.map((one) => ({ ...one, rows: Array.from(one.rows, (row) => Array.from(row ?? [])) }))).toEqual(
      opened.sheets.map((one) => ({ ...one, rows: Array.from(one.rows, (row) => Array.from(row ?? [])) })),
    );
    expect({ styles: back.styles, names: back.names, settings: back.settings }).toEqual({
      styles: opened.styles,
      names: opened.names,
      settings: opened.settings,
    });
  });

  it("does not give a formula the format of the cells it reads", async () => {
    const opened = book([{ ...sheet("Log", []), rows: [[{ value: 46030, style: 0 }, cell("=A1+1")]] }], {
      styles: [{ format: "yyyy-mm-dd" }],
    });
    expect(at(await (await open(opened)).recalculate(), "Log", 0, 1)).toEqual({ value: 46031, formula: "A1+1" });
  });

  it("refuses a sheet that is not there", async () => {
    const running = await open(book([sheet("Log", [])]));
    expect(() => running.setCell("Lag", 0, 0, 1)).toThrow(/no sheet "Lag".*"Log"/);
  });
});

describe("named ranges", () => {
  const named = (reference: string) =>
    book(
      [
        sheet("Log", [
          [1, 2],
          [3, 4],
        ]),
        sheet("Sum", [["=SUM(Gaps)"]]),
      ],
      { names: [{ name: "Gaps", reference }] },
    );

  it("follow a sheet that gets another name, and rows that are put in", async () => {
    const running = await open(named("Log!$A$1:$A$2"));
    const log = running.live.api.getActiveWorkbook()!.getSheetByName("Log")!;
    log.setName("Bo's log");
    await running.live.settled();
    running.setCell("Bo's log", 0, 0, 10);
    await running.live.settled();
    expect(at(running.live.book(), "Sum", 0, 0)?.value).toBe(13);
    log.insertRowsBefore(0, 2);
    await running.live.settled();
    const now = running.live.book();
    expect(at(now, "Sum", 0, 0)?.value).toBe(13);
    expect(now.names).toEqual([{ name: "Gaps", reference: "'Bo''s log'!$A$3:$A$4" }]);
  });

  it("mean another range in the next workbook", async () => {
    const first = await open(named("Log!$A$1:$A$2"));
    expect(at(first.live.book(), "Sum", 0, 0)?.value).toBe(4);
    first.dispose();
    expect(at((await open(named("Log!$B$1:$B$2"))).live.book(), "Sum", 0, 0)?.value).toBe(6);
  });
});

describe("what a user types", () => {
  it.each([
    ["0 1/8", 0.125, "# ?/?"],
    ["1 3/16", 1.1875, "# ??/??"],
    ["-1 1/2", -1.5, "# ?/?"],
  ])("%s is a number with a fraction format", async (typed, value, format) => {
    const running = await open(book([sheet("Log", [])]));
    running.setCell("Log", 0, 0, typed);
    await running.live.settled();
    const now = running.live.book();
    const found = at(now, "Log", 0, 0)!;
    expect([found.value, now.styles[found.style!]]).toEqual([value, { format }]);
  });

  it.each(["1 1/0", "1 1/8 in", "a 1/8", "1  "])("%s stays text", async (typed) => {
    const running = await open(book([sheet("Log", [])]));
    running.setCell("Log", 0, 0, typed);
    await running.live.settled();
    expect(at(running.live.book(), "Log", 0, 0)?.value).toBe(typed);
  });
});

describe("tables", () => {
  const trials = (): Book =>
    book([
      sheet(
        "Log",
        [
          ["Gap", "Humidity (%)", "Bend"],
          [1, 40, "=BANK.BEND([@Gap])"],
          [0.5, 50, "=BANK.BEND(Trials[[#This Row],[Gap]])"],
        ],
        {
          tables: [{ name: "Trials", area: { row: 0, column: 0, rows: 3, columns: 3 } }],
        },
      ),
      sheet("Sum", [
        [
          "=SUM(Trials[Bend])",
          "=AVERAGE(trials[humidity (%)])",
          "=COUNTA(Trials[#Headers])",
          "=SUM(Trials[[Gap]:[Humidity (%)]])",
        ],
      ]),
    ]);

  it("reads structured references of every form and gives them back as written", async () => {
    const now = await (await open(trials())).recalculate();
    expect(valuesOf(now.sheets[0]).slice(1)).toEqual([
      [1, 40, 0.125],
      [0.5, 50, 0.625],
    ]);
    expect(valuesOf(now.sheets[1])).toEqual([[0.75, 45, 3, 91.5]]);
    expect(now.sheets[1].rows[0]!.map((one) => one!.formula)).toEqual(
      trials().sheets[1].rows[0]!.map((one) => one!.formula),
    );
    expect(now.sheets[0].rows[1]![2]!.formula).toBe("BANK.BEND([@Gap])");
  });

  it("grow with rows typed below them, and formulas follow", async () => {
    const running = await open(trials());
    running.setCell("Log", 3, 0, 0.25);
    running.setCell("Log", 3, 2, "=BANK.BEND([@Gap])");
    await running.live.settled();
    const now = running.live.book();
    expect(now.sheets[0].tables[0].area.rows).toBe(4);
    expect(at(now, "Sum", 0, 0)).toMatchObject({ value: 1.625, formula: "SUM(Trials[Bend])" });
  });

  it("do not take in what stood below them from the start", async () => {
    const opened = trials();
    const log = opened.sheets[0];
    const running = await open({
      ...opened,
      sheets: [{ ...log, rows: [...log.rows, [cell("a note")]] }, opened.sheets[1]],
    });
    running.setCell("Log", 3, 0, "another note");
    await running.live.settled();
    expect(running.live.book().sheets[0].tables[0].area.rows).toBe(3);
  });

  it("get other headers, and formulas follow", async () => {
    const running = await open(trials());
    running.setCell("Log", 0, 0, "Gap (in)");
    running.setCell("Log", 0, 2, "Bend [in]");
    await running.live.settled();
    const now = running.live.book();
    expect(now.sheets[0].rows[1]![2]).toMatchObject({ value: 0.125, formula: "BANK.BEND([@[Gap (in)]])" });
    expect(now.sheets[0].rows[2]![2]).toMatchObject({
      value: 0.625,
      formula: "BANK.BEND(Trials[[#This Row],[Gap (in)]])",
    });
    expect(now.sheets[1].rows[0]![0]).toMatchObject({ value: 0.75, formula: "SUM(Trials[Bend '[in']])" });
    engine!.dispose();
    expect(valuesOf((await (await open(now)).recalculate()).sheets[1])).toEqual([[0.75, 45, 3, 91.5]]);
  });

  it("move and stretch with rows put in and taken out", async () => {
    const running = await open(trials());
    const log = running.live.api.getActiveWorkbook()!.getSheetByName("Log")!;
    log.insertRowsBefore(0, 2);
    log.insertRowsBefore(3, 1);
    await Promise.resolve();
    // The new row has the column's formula, and a gap that asks for no bend.
    running.setCell("Log", 3, 0, 1.125);
    await running.live.settled();
    let now = running.live.book();
    expect(now.sheets[0].tables[0].area).toEqual({ row: 2, column: 0, rows: 4, columns: 3 });
    expect(at(now, "Sum", 0, 0)).toMatchObject({ value: 0.75, formula: "SUM(Trials[Bend])" });
    log.deleteRows(3, 1);
    log.deleteColumns(1, 1);
    await running.live.settled();
    now = running.live.book();
    expect(now.sheets[0].tables[0].area).toEqual({ row: 2, column: 0, rows: 3, columns: 2 });
    expect(at(now, "Sum", 0, 0)?.value).toBe(0.75);
  });
});

describe("blank, empty text and zero in guards", () => {
  // Empty text that a guard gives reads back as a blank.
  it("a measured zero is not blank", async () => {
    const engine = await createEngine(
      book([
        sheet("Log", [
          [0, '=IF(A1="","",BANK.BEND(A1))', '=IF(A2="","",BANK.BEND(A2))', '=IF(A1="","",BANK.BEND(A1))'],
          [null],
        ]),
      ]),
    );
    expect([1, 2, 3].map((column) => at(engine.live.book(), "Log", 0, column)?.value)).toEqual([1.125, null, 1.125]);
    engine.dispose();
  });
});
