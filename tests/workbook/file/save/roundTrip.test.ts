/** Properties: whatever a Book holds comes back from a saved copy, and edits of a file arrive exactly. */
import fc from "fast-check";
import { expect, it } from "vitest";
import type { Book, BookCell, BookSheet, CellValue } from "../../../../src/workbook/book";
import { readXlsx } from "../../../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../../../src/workbook/file/save/saveCopy";
import { bookOf } from "../packages";

const text = fc.oneof(
  fc.string({ unit: "binary", minLength: 1, maxLength: 20 }),
  fc.constantFrom(
    "=1+1",
    "007",
    "1/8",
    " 8.5 ",
    "_x0041_",
    "a\r\nb",
    "<b>&amp;</b>",
    "]]>",
    "'",
    "\ud83d",
    "#N/A",
    "TRUE",
    "",
  ),
);
const value: fc.Arbitrary<CellValue> = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).map((n) => n + 0 || 0),
  fc.integer(),
  fc.boolean(),
  text,
  fc.constantFrom("#N/A", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#NULL!").map((error) => ({ error })),
);
const formula = fc.constantFrom(
  "A1+1",
  "SUM($A$1:B9)",
  "BANK.BEND(A1)",
  'IF(A1="","",BANK.CLEARANCE(A1,B1))',
  "'Bo''s log'!A1&\"<>\"",
  "STDEV.S(A1:A9)",
  "SORT(UNIQUE(A1:A5))",
  "SUM(B2#)",
  "LET(x,A1,x*x)",
  "A1<B1",
  '"a  b"&" "',
);
const STYLES = 4;
const cell: fc.Arbitrary<BookCell | undefined> = fc.oneof(
  { weight: 2, arbitrary: fc.constant(undefined) },
  { weight: 5, arbitrary: fc.record({ value, style: fc.nat(STYLES - 1) }) },
  {
    weight: 2,
    arbitrary: fc.record({ value: fc.oneof(value, fc.constant(null)), formula, style: fc.nat(STYLES - 1) }),
  },
  { weight: 1, arbitrary: fc.nat(STYLES - 1).map((style) => ({ value: null, style })) },
);
const rows = fc.array(fc.array(cell, { maxLength: 6 }), { maxLength: 8 });
const hidden = fc.uniqueArray(fc.nat(9), { maxLength: 3 }).map((list) => list.sort((a, b) => a - b));
const sheet = (name: string): fc.Arbitrary<BookSheet> =>
  fc
    .record({ rows, hiddenRows: hidden })
    .map((made) => ({ name, merged: [], tables: [], validations: [], columnWidths: [], ...made }));
const styles = [
  {},
  { format: "0.000", bold: true },
  { format: "yyyy-mm-dd" },
  { wrap: true, fill: "#102030", color: "#ff0000", fontSize: 14, horizontal: "right" as const },
];
const book: fc.Arbitrary<Book> = fc
  .tuple(sheet("Trials"), sheet("Bo's log"))
  .map((sheets) => bookOf(sheets, { styles }));

/** What a reader sees: cells by place, with an unstyled empty cell as no cell. */
function seen(given: Book): unknown {
  return given.sheets.map(({ name, rows, hiddenRows }) => {
    const cells: Record<string, unknown> = {};
    rows.forEach((row, r) =>
      row?.forEach((one, c) => {
        if (!one || (one.value === null && one.formula === undefined && !one.style)) return;
        cells[`${r},${c}`] = [one.value, one.formula ?? null, given.styles[one.style ?? 0] ?? {}];
      }),
    );
    return { name, hiddenRows, cells };
  });
}

it("a new workbook comes back as it was", async () => {
  await fc.assert(
    fc.asyncProperty(book, async (given) => {
      const back = await readXlsx((await saveCopy(null, given)).bytes);
      expect(seen(back)).toEqual(seen(given));
    }),
    { numRuns: 150 },
  );
});

it("a copy of one workbook with the cells of another holds the other's cells", async () => {
  await fc.assert(
    fc.asyncProperty(book, book, async (first, second) => {
      const original = (await saveCopy(null, first)).bytes;
      const read = await readXlsx(original);
      // The second's looks are numbered as the file numbers them: its first four are the same four.
      const wanted: Book = { ...read, sheets: second.sheets };
      const blanked = withBlanks(read, wanted);
      const copy = await saveCopy(original, wanted);
      expect(seen(await readXlsx(copy.bytes))).toEqual(seen(blanked));
      expect(copy.notes).toEqual([]);
    }),
    { numRuns: 150 },
  );
});

it("saving an unchanged workbook again changes no byte", async () => {
  await fc.assert(
    fc.asyncProperty(book, async (given) => {
      const once = (await saveCopy(null, given)).bytes;
      const twice = (await saveCopy(once, await readXlsx(once))).bytes;
      expect(Buffer.compare(once, twice)).toBe(0);
    }),
    { numRuns: 60 },
  );
});

/** Where the Book has no cell, a cell of the file is blanked but keeps its look. */
function withBlanks(original: Book, wanted: Book): Book {
  return {
    ...wanted,
    sheets: wanted.sheets.map((sheet, s) => ({
      ...sheet,
      rows: Array.from({ length: Math.max(sheet.rows.length, original.sheets[s].rows.length) }, (_, r) => {
        const now = sheet.rows[r] ?? [];
        const before = original.sheets[s].rows[r] ?? [];
        return Array.from(
          { length: Math.max(now.length, before.length) },
          (_, c) => now[c] ?? (before[c] && { value: null, style: before[c].style }),
        );
      }),
    })),
  };
}
