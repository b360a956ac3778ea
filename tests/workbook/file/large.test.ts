/** A log of 200,000 rows is read, edited and saved. How the time grows is measured by `npm run bench`. */
import { describe, expect, it } from "vitest";
import type { Book, BookCell } from "../../../src/workbook/book";
import { readXlsx } from "../../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../../src/workbook/file/save/saveCopy";
import { bookOf } from "./packages";

const HEADERS = ["Trial", "Cloth", "Gap", "Bend"];

function log(trials: number, formulas: boolean): Book {
  const rows: BookCell[][] = [HEADERS.map((value) => ({ value }))];
  for (let i = 1; i <= trials; i++) {
    const gap = ((i * 17) % 33) / 16;
    const values = [i, i % 2 ? "slow" : "fast", gap];
    rows.push([
      ...values.map((value) => ({ value })),
      formulas ? { value: 1.125 - gap, formula: `BANK.BEND(C${i + 1})` } : { value: 1.125 - gap },
    ]);
  }
  return bookOf([{ name: "Trials", rows }]);
}

describe("200,000 rows of 4 columns", () => {
  it("are read, given formulas, saved and read again", async () => {
    const trials = 200_000;
    const plain = log(trials, false);
    const original = (await saveCopy(null, plain)).bytes;
    const read = await readXlsx(original);
    expect(read.sheets[0].rows.length).toBe(trials + 1);
    expect(read.sheets[0].rows[trials]?.map((cell) => cell?.value)).toEqual(
      plain.sheets[0].rows[trials]?.map((cell) => cell?.value),
    );
    const copy = await saveCopy(original, { ...read, sheets: log(trials, true).sheets });
    expect(copy.notes).toEqual([]);
    const last = (await readXlsx(copy.bytes)).sheets[0].rows[trials]?.[3];
    expect(last?.formula).toBe(`BANK.BEND(C${trials + 1})`);
  }, 120_000);
});
