/** A log of 200,000 rows is read, edited and saved; the work grows with the rows, not with their square. */
import { describe, expect, it } from "vitest";
import type { Book, BookCell } from "../../../src/workbook/book";
import { readXlsx } from "../../../src/workbook/file/readXlsx";
import { saveCopy } from "../../../src/workbook/file/saveCopy";
import { bookOf } from "./packages";

const HEADERS = ["Trial", "Cloth", "Humidity (%)", "Speed", "Spin", "Table", "Gap", "Bend"];

function log(trials: number, formulas: boolean): Book {
  const rows: BookCell[][] = [HEADERS.map((value) => ({ value }))];
  for (let i = 1; i <= trials; i++) {
    const gap = ((i * 17) % 33) / 16;
    const values = [i, i % 2 ? "slow" : "fast", 40 + ((i * 7919) % 2000) / 100, ((i * 31) % 70) / 10, ((i * 13) % 9) - 4, `Table ${i % 3}`, gap];
    rows.push([...values.map((value) => ({ value })), formulas ? { value: 1.125 - gap, formula: `BANK.BEND(G${i + 1})` } : { value: 1.125 - gap }]);
  }
  return bookOf([{ name: "Trials", rows }]);
}

async function timed<T>(work: () => Promise<T>): Promise<[T, number]> {
  const start = performance.now();
  const result = await work();
  return [result, performance.now() - start];
}

describe("200,000 rows of 8 columns", () => {
  it("are read, given formulas, saved and read again, in time that grows with the rows", async () => {
    const times: number[] = [];
    for (const trials of [25_000, 200_000]) {
      const plain = log(trials, false);
      const original = (await saveCopy(null, plain)).bytes;
      const [read, reading] = await timed(() => readXlsx(original));
      expect(read.sheets[0].rows.length).toBe(trials + 1);
      expect(read.sheets[0].rows[trials]?.map((cell) => cell?.value)).toEqual(plain.sheets[0].rows[trials]?.map((cell) => cell?.value));
      const [copy, saving] = await timed(() => saveCopy(original, { ...read, sheets: log(trials, true).sheets }));
      expect(copy.notes).toEqual([]);
      const last = (await readXlsx(copy.bytes)).sheets[0].rows[trials]?.[7];
      expect(last?.formula).toBe(`BANK.BEND(G${trials + 1})`);
      times.push(reading + saving);
    }
    // Eight times the rows: linear work takes eight times as long, quadratic work 64 times. Twenty-four leaves room for
    // a small run that was lucky and for the collector in the large one.
    expect(times[1]).toBeLessThan(24 * times[0]);
  }, 120_000);
});
