/** What changed, merged into what was read, is what a whole reading gives. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { around, liesIn, meets } from "../../src/workbook/area";
import type { Area, Book, BookCell, CellValue } from "../../src/workbook/book";
import { FilePort } from "../../src/workbook/file/filePort";
import { mergeArea, readExtent } from "../../src/workbook/mergeArea";
import type { Port, SheetData, SheetPart } from "../../src/workbook/port";
import { SheetReader } from "../../src/workbook/sheetReader";

const NAME = "Log";
const SIZE = 5;

const value = fc.oneof(fc.constant(null), {
  weight: 4,
  arbitrary: fc.constantFrom<CellValue>(0, 1.5, "", "text", true, { error: "#N/A" }),
});
const cell = fc.oneof(
  fc.constant(undefined),
  { weight: 6, arbitrary: fc.record({ value, style: fc.constantFrom(0, 1) }).map((made): BookCell => made) },
  fc.constant<BookCell>({ value: null, formula: "A1" }),
);
const area = fc.tuple(...Array.from({ length: 4 }, () => fc.nat(SIZE - 1))).map(([a, b, c, d]): Area => ({
  row: Math.min(a, b),
  column: Math.min(c, d),
  rows: Math.abs(a - b) + 1,
  columns: Math.abs(c - d) + 1,
}));
const book = fc
  .record({
    rows: fc.array(fc.array(cell, { minLength: 1, maxLength: SIZE }), { minLength: 2, maxLength: SIZE }),
    hiddenRows: fc.uniqueArray(fc.nat(SIZE)).map((rows) => rows.sort((a, b) => a - b)),
    merged: fc.uniqueArray(area, { maxLength: 2, selector: (one) => JSON.stringify(one) }),
  })
  .map((parts): Book => ({
    sheets: [{ name: NAME, tables: [], validations: [], columnWidths: [], ...parts }],
    styles: [{}, { format: "0.00" }],
    names: [],
  }));
const edits = fc.array(fc.tuple(fc.nat(SIZE), fc.nat(SIZE), value), { minLength: 1, maxLength: 4 });

const sorted = (data: SheetData) => ({
  ...data,
  merged: [...data.merged].sort(
    (a, b) => a.row - b.row || a.column - b.column || a.rows - b.rows || a.columns - b.columns,
  ),
});

describe("a sheet brought up to date", () => {
  it("equals a whole reading wherever it says anything", async () => {
    let merged = 0;
    await fc.assert(
      fc.asyncProperty(book, edits, async (given, typed) => {
        const port = new FilePort(given);
        const before = await port.read(NAME);
        for (const [row, column, now] of typed) await port.setCell(NAME, row, column, now);
        const touched = typed
          .map(([row, column]): Area | undefined => ({ row, column, rows: 1, columns: 1 }))
          .reduce(around)!;
        const whole = await port.read(NAME);
        const found = mergeArea(before, touched, await port.readArea(NAME, touched));
        if (!liesIn(touched, readExtent(before))) expect(found).toBeUndefined();
        if (!found) return;
        merged++;
        expect(sorted(found)).toEqual(sorted(whole));
      }),
      { seed: 7, numRuns: 2000 },
    );
    expect(merged).toBeGreaterThan(100);
  });

  it("is fetched as parts and equals a whole reading after every change", async () => {
    await fc.assert(
      fc.asyncProperty(book, edits, async (given, typed) => {
        const port = new FilePort(given);
        const reader = new SheetReader(port);
        port.onChange((change) => reader.note(change));
        await reader.read(NAME);
        for (const [i, [row, column, now]] of typed.entries()) {
          await port.setCell(NAME, row, column, now);
          if (i % 2 === 0) continue;
          expect(sorted((await reader.readChanges(NAME))!)).toEqual(sorted(await port.read(NAME)));
        }
      }),
      { seed: 8, numRuns: 500 },
    );
  });

  it("takes up rows that were hidden, cells that were merged and tables that grew inside the area alone", () => {
    const data: SheetData = {
      sheet: NAME,
      firstRow: 2,
      firstColumn: 1,
      values: [["Gap"], [1], [2]],
      formats: [["General"], ["0.0"], ["0.0"]],
      hiddenRows: [2, 3],
      merged: [
        { row: 2, column: 1, rows: 1, columns: 2 },
        { row: 3, column: 1, rows: 1, columns: 2 },
      ],
      tables: [],
    };
    const tables = [{ name: "Gaps", area: { row: 2, column: 1, rows: 3, columns: 1 } }];
    const part: SheetPart = {
      values: [[7], [8]],
      formats: [["General"], ["0.00"]],
      hiddenRows: [4],
      merged: [{ row: 4, column: 1, rows: 1, columns: 2 }],
      tables,
    };
    expect(mergeArea(data, { row: 3, column: 1, rows: 2, columns: 1 }, part)).toEqual({
      ...data,
      values: [["Gap"], [7], [8]],
      formats: [["General"], ["General"], ["0.00"]],
      hiddenRows: [2, 4],
      merged: [data.merged[0], part.merged[0]],
      tables,
    });
  });
});

describe("areas", () => {
  const cells = ({ row, column, rows, columns }: Area) =>
    Array.from({ length: rows * columns }, (_, i) => `${row + Math.floor(i / columns)},${column + (i % columns)}`);

  it("meet where they share a cell, and lie in one another where all are shared", () => {
    fc.assert(
      fc.property(area, area, (one, other) => {
        const shared = cells(one).filter((at) => cells(other).includes(at)).length;
        expect(meets(one, other)).toBe(shared > 0);
        expect(liesIn(one, other)).toBe(shared === cells(one).length);
      }),
    );
  });

  it("have a smallest one around them", () => {
    fc.assert(
      fc.property(area, area, (one, other) => {
        const both = around(one, other)!;
        expect(liesIn(one, both) && liesIn(other, both)).toBe(true);
        const narrower = [
          { ...both, row: both.row + 1, rows: both.rows - 1 },
          { ...both, rows: both.rows - 1 },
          { ...both, column: both.column + 1, columns: both.columns - 1 },
          { ...both, columns: both.columns - 1 },
        ];
        for (const less of narrower) expect(liesIn(one, less) && liesIn(other, less)).toBe(false);
        expect(around(one, undefined)).toBeUndefined();
      }),
    );
  });
});

/** A port whose answers come when the test says so. */
function slowPort(first: SheetData) {
  const waiting: { area?: Area; answer(data: SheetData | SheetPart): void }[] = [];
  const ask = (asked?: Area) =>
    new Promise((resolve) => waiting.push({ ...(asked && { area: asked }), answer: resolve }));
  const port = { read: () => ask(), readArea: (_: string, asked: Area) => ask(asked) } as unknown as Port;
  const reader = new SheetReader(port);
  const started = reader.read(NAME);
  waiting.shift()!.answer(first);
  return started.then(() => ({ reader, waiting }));
}

describe("late answers", () => {
  const data: SheetData = {
    sheet: NAME,
    firstRow: 0,
    firstColumn: 0,
    values: [["Gap"], [1], [2]],
    formats: [["General"], ["General"], ["General"]],
    hiddenRows: [],
    merged: [],
    tables: [],
  };
  const at = (row: number): Area => ({ row, column: 0, rows: 1, columns: 1 });
  const part = (...values: number[]): SheetPart => ({
    values: values.map((one) => [one]),
    formats: values.map(() => ["General"]),
    hiddenRows: [],
    merged: [],
    tables: [],
  });

  it("are dropped, and what they were to bring comes with the newer one", async () => {
    const { reader, waiting } = await slowPort(data);
    reader.note({ sheet: NAME, area: at(1) });
    const early = reader.readChanges(NAME);
    reader.note({ sheet: NAME, area: at(2) });
    const late = reader.readChanges(NAME);
    expect(waiting.map((one) => one.area)).toEqual([at(1), { ...at(1), rows: 2 }]);
    waiting[1].answer(part(10, 20));
    expect((await late)?.values).toEqual([["Gap"], [10], [20]]);
    waiting[0].answer(part(9));
    expect(await early).toBeUndefined();
    // What changes from here on is fetched alone.
    reader.note({ sheet: NAME, area: at(1) });
    const next = reader.readChanges(NAME);
    expect(waiting[2].area).toEqual(at(1));
    waiting[2].answer(part(11));
    expect((await next)?.values).toEqual([["Gap"], [11], [20]]);
  });

  it("leave what changed while they were on their way to the next reading", async () => {
    const { reader, waiting } = await slowPort(data);
    reader.note({ sheet: NAME, area: at(1) });
    const first = reader.readChanges(NAME);
    reader.note({ sheet: NAME, area: at(2) });
    waiting[0].answer(part(10));
    expect((await first)?.values).toEqual([["Gap"], [10], [2]]);
    const second = reader.readChanges(NAME);
    expect(waiting[1].area).toEqual(at(2));
    waiting[1].answer(part(20));
    expect((await second)?.values).toEqual([["Gap"], [10], [20]]);
  });

  it("are asked for as a whole where anything may have changed, or another sheet is wanted", async () => {
    const { reader, waiting } = await slowPort(data);
    reader.note({ sheet: NAME, area: at(1) });
    reader.note({ sheet: NAME });
    void reader.readChanges(NAME);
    reader.note({ sheet: "Other", area: at(1) });
    void reader.readChanges("Other");
    expect(waiting.map((one) => one.area)).toEqual([undefined, undefined]);
  });
});
