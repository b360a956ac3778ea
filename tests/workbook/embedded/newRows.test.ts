/** Rows that are typed below a log, or put in between others, are rows of it: with its formulas and their numbers. */
import { afterEach, describe, expect, it } from "vitest";
import type { BookSheet, BookTable } from "../../../src/workbook/book";
import { createEngine, type Engine } from "../../../src/workbook/embedded/engine";
import { readXlsx } from "../../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../../src/workbook/file/save/saveCopy";
import { at, book, sheet } from "./books";

const GAP = 'IF(Trials[[#This Row],[Gap (in)]]="","",BANK.BEND(Trials[[#This Row],[Gap (in)]]))';
const table = (rows: number, more: Partial<BookTable> = {}): BookTable => ({
  name: "Trials",
  area: { row: 0, column: 0, rows, columns: 3 },
  ...more,
});

let engine: Engine | undefined;
afterEach(() => {
  engine?.dispose();
  engine = undefined;
});

async function open(log: BookSheet): Promise<Engine> {
  return (engine = await createEngine(book([log])));
}

/** Types into the sheet and gives its rows back as values, with the formulas of the last column. */
async function typed(
  running: Engine,
  cells: readonly (readonly [row: number, column: number, value: number | string])[],
): Promise<[unknown, unknown, unknown, string | undefined][]> {
  for (const [row, column, value] of cells) {
    running.setCell("Log", row, column, value);
    await Promise.resolve();
  }
  await running.live.settled();
  const now = await running.recalculate();
  return now.sheets[0].rows.map(
    (_, row) =>
      [0, 1, 2]
        .map((column) => at(now, "Log", row, column)?.value ?? null)
        .concat(at(now, "Log", row, 2)?.formula as never) as never,
  );
}

const HEADINGS = ["Trial", "Gap (in)", "Bend (in)"];

describe("a table", () => {
  it("gives a row typed below it the formulas that it states, even when it has no other row", async () => {
    const running = await open(
      sheet("Log", [HEADINGS, [1, 0.5, `=${GAP}`]], {
        tables: [table(2, { calculated: [undefined, undefined, GAP] })],
      }),
    );
    const rows = await typed(running, [
      [2, 1, 0.25],
      [3, 1, 0.125],
    ]);
    expect(rows.slice(2)).toEqual([
      [null, 0.25, 0.875, GAP],
      [null, 0.125, 1, GAP],
    ]);
    expect(running.live.book().sheets[0].tables[0].area.rows).toBe(4);
  });

  it("without stated formulas goes on as its rows do, and counts on", async () => {
    const running = await open(
      sheet("Log", [HEADINGS, [1, 0.5, "=BANK.BEND(B2)"], [2, 0.25, "=BANK.BEND(B3)"]], { tables: [table(3)] }),
    );
    expect((await typed(running, [[3, 1, 0.125]])).slice(2)).toEqual([
      [2, 0.25, 0.875, "BANK.BEND(B3)"],
      [3, 0.125, 1, "BANK.BEND(B4)"],
    ]);
  });

  it("fills a row that is put in between; nothing that was typed is counted anew", async () => {
    const running = await open(
      sheet("Log", [HEADINGS, [1, 0.5, "=BANK.BEND(B2)"], [2, 0.25, "=BANK.BEND(B3)"]], { tables: [table(3)] }),
    );
    running.live.api.getActiveWorkbook()!.getSheetByName("Log")!.insertRowsBefore(2, 1);
    await Promise.resolve();
    expect(await typed(running, [[2, 1, 0.125]])).toEqual([
      [...HEADINGS, undefined],
      [1, 0.5, 0.625, "BANK.BEND(B2)"],
      [3, 0.125, 1, "BANK.BEND(B3)"],
      [2, 0.25, 0.875, "BANK.BEND(B4)"],
    ]);
  });

  it("leaves alone what stands there, columns that only look like counting, and rows that were emptied", async () => {
    const running = await open(
      sheet(
        "Log",
        [
          ["Shot no.", "Speed", "Bend (in)"],
          [1, 1, "=BANK.BEND(B2)"],
          [2, 2, null],
          [3, 3, "=BANK.BEND(B4)"],
        ],
        { tables: [table(4)] },
      ),
    );
    expect(
      (
        await typed(running, [
          [4, 2, "mine"],
          [2, 0, 7],
        ])
      ).slice(2),
    ).toEqual([
      [7, 2, null, undefined],
      [3, 3, -1.875, "BANK.BEND(B4)"],
      [4, null, "mine", undefined],
    ]);
  });

  it("keeps its stated formulas in the saved copy, named anew where a heading was typed over", async () => {
    const running = await open(
      sheet("Log", [HEADINGS, [1, 0.5, `=${GAP}`]], {
        tables: [table(2, { calculated: [undefined, undefined, GAP] })],
      }),
    );
    const { bytes } = await saveCopy(null, await running.recalculate());
    expect((await readXlsx(bytes)).sheets[0].tables[0].calculated).toEqual([undefined, undefined, GAP]);
    running.dispose();
    engine = await createEngine(await readXlsx(bytes));
    engine.setCell("Log", 0, 0, "Shot");
    const renamed = await saveCopy(bytes, await engine.recalculate());
    expect((await readXlsx(renamed.bytes)).sheets[0].tables[0].calculated).toEqual([undefined, undefined, GAP]);
  });
});

describe("a log without a table", () => {
  const rows = (count: number) => Array.from({ length: count }, (_, i) => [i + 1, 0.5, `=BANK.BEND(B${i + 2})`]);

  it("goes on below three rows that agree", async () => {
    const running = await open(sheet("Log", [HEADINGS, ...rows(3)]));
    expect((await typed(running, [[4, 1, 0.25]])).at(-1)).toEqual([4, 0.25, 0.875, "BANK.BEND(B5)"]);
  });

  it("fills rows that are put in between, and counts on", async () => {
    const running = await open(sheet("Log", [HEADINGS, ...rows(3)]));
    running.live.api.getActiveWorkbook()!.getSheetByName("Log")!.insertRowsBefore(2, 2);
    await Promise.resolve();
    const now = await typed(running, [
      [2, 1, 0.25],
      [3, 1, 0.125],
    ]);
    expect(now.slice(1)).toEqual([
      [1, 0.5, 0.625, "BANK.BEND(B2)"],
      [4, 0.25, 0.875, "BANK.BEND(B3)"],
      [5, 0.125, 1, "BANK.BEND(B4)"],
      [2, 0.5, 0.625, "BANK.BEND(B5)"],
      [3, 0.5, 0.625, "BANK.BEND(B6)"],
    ]);
  });

  it.each([
    ["two rows", rows(2)],
    ["rows that do not agree", [...rows(2), [3, 0.5, "=BANK.BEND(B2)"]]],
  ])("does not go on below %s", async (_, above) => {
    const running = await open(sheet("Log", [HEADINGS, ...above]));
    expect((await typed(running, [[above.length + 1, 1, 0.25]])).at(-1)).toEqual([null, 0.25, null, undefined]);
  });
});

describe("a sheet that is added", () => {
  it("keeps its headings in sight and its charts for a copy; the grid draws none", async () => {
    const running = await open(sheet("Log", [HEADINGS, [1, 0.5, 0.6]]));
    const column = (place: number) => ({ row: 1, column: place, rows: 1, columns: 1 });
    const chart = { title: "t", kind: "scatter", xTitle: "x", yTitle: "y", x: column(0), y: column(1) } as const;
    running.live.addSheet({
      name: "Results",
      rows: [
        [{ value: "x" }, { value: "y" }],
        [{ value: 1 }, { value: 2 }],
      ],
      headingRows: 1,
      charts: [chart],
    });
    const added = (await running.recalculate()).sheets[1];
    expect(added).toMatchObject({ name: "Results", frozenRows: 1, charts: [chart] });
  });
});
