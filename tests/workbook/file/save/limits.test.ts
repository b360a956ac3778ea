/** What a spreadsheet would repair a file for: each loss is said, and what can be is kept. */
import { describe, expect, it } from "vitest";
import type { BookCell } from "../../../../src/workbook/book";
import { readXlsx } from "../../../../src/workbook/file/read/readXlsx";
import { withinLimits, withListsInCells, withoutDroppedTables } from "../../../../src/workbook/file/save/limits";
import { saveCopy } from "../../../../src/workbook/file/save/saveCopy";
import { bookOf } from "../packages";

const sheetOf = (rows: (BookCell | undefined)[][], more = {}) => bookOf([{ name: "Log", rows, ...more }]).sheets[0]!;

describe("texts", () => {
  it("of 32,767 characters stay, longer ones lose their end and are noted with their row", () => {
    const notes = new Set<string>();
    const [most, more] = ["a".repeat(32_767), "a".repeat(32_768)];
    const fits = sheetOf([[{ value: most }], [{ value: 1 }]]);
    expect(withinLimits(fits, notes)).toBe(fits);
    expect(notes.size).toBe(0);
    // A letter outside the basic plane is not cut in two.
    const cut = withinLimits(
      sheetOf([[{ value: 1 }], [{ value: more, style: 3 }, { value: `${"a".repeat(32_766)}😀` }]]),
      notes,
    );
    expect(cut.rows[1]).toEqual([{ value: most, style: 3 }, { value: "a".repeat(32_766) }]);
    expect([...notes]).toEqual([
      'A text in row 2 of the sheet "Log" is longer than the 32767 characters a cell can hold; the copy has its beginning.',
    ]);
  });
});

describe("formulas that name a table that is no longer one", () => {
  it("become their values, and others stay", () => {
    const notes = new Set<string>();
    const sheet = sheetOf([
      [
        { value: 3, formula: "SUM(trials[Gap])", style: 2 },
        { value: 1, formula: "Trials!A1+1" },
        { value: 2, formula: 'LEN("Trials")' },
        { value: "Trials" },
        { value: 4, formula: "SUM(Other[Gap])" },
      ],
    ]);
    const { rows } = withoutDroppedTables(sheet, ["Trials"], notes);
    expect(rows[0]).toEqual([{ value: 3, style: 2 }, ...sheet.rows[0]!.slice(1)]);
    expect([...notes]).toEqual(['Formulas on the sheet "Log" that name the table Trials were kept as their values.']);
    expect(withoutDroppedTables(sheet, [], new Set())).toBe(sheet);
    expect(withoutDroppedTables(sheet, ["Nowhere"], new Set())).toBe(sheet);
  });
});

describe("drop-down lists", () => {
  const area = { row: 1, column: 0, rows: 3, columns: 1 };
  const list = (...choices: string[]) => ({ areas: [area], choices });
  it("of 255 characters without a comma stay as text, others stand in cells of a hidden sheet, each once", () => {
    const short = list("a".repeat(127), "b".repeat(127));
    const long = list("a".repeat(127), "b".repeat(128));
    const commas = list("3,5 mph", "4 mph", "5 mph");
    const validations = [short, long, commas, long, { areas: [area], formula: "Cloths" }];
    const sheets = [sheetOf([], { validations }), sheetOf([[{ value: 1 }]], { name: "Lists" }), sheetOf([])];
    const { sheets: changed, lists } = withListsInCells(sheets, () => new Set());
    expect(changed[0]!.validations.map(({ choices, formula }) => choices ?? formula)).toEqual([
      short.choices,
      expect.stringMatching(/!\$A\$1:\$A\$2$/),
      expect.stringMatching(/!\$B\$1:\$B\$3$/),
      expect.stringMatching(/!\$A\$1:\$A\$2$/),
      "Cloths",
    ]);
    expect(changed.slice(1)).toEqual(sheets.slice(1));
    expect(lists).toMatchObject([{ hidden: true }]);
    expect(lists[0]!.name).not.toBe("Lists");
    expect(lists[0]!.rows.map((row) => row!.map((cell) => cell?.value))).toEqual([
      [long.choices[0], "3,5 mph"],
      [long.choices[1], "4 mph"],
      [undefined, "5 mph"],
    ]);
  });

  it("come back from a copy with the choices that they had, and those that the file has stay", async () => {
    const commas = list("3,5 mph", "4 mph");
    const { bytes } = await saveCopy(null, bookOf([{ name: "Log", rows: [[{ value: 1 }]], validations: [commas] }]));
    const book = await readXlsx(bytes);
    expect(book.sheets).toHaveLength(2);
    expect(book.sheets[1]!.rows.map((row) => row?.map((cell) => cell?.value))).toEqual([["3,5 mph"], ["4 mph"]]);
    expect(book.sheets[0]!.validations[0]!.formula).toMatch(/\$A\$1:\$A\$2$/);
    const { sheets } = await readXlsx((await saveCopy(bytes, book)).bytes);
    expect(sheets).toHaveLength(2);
  });
});
