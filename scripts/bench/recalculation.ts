/** Recalculation in the embedded grid, and reading and saving of files: how the time grows with the rows. */
import type { Book, BookCell } from "../../src/workbook/book";
import { createEngine } from "../../src/workbook/embedded/engine";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../src/workbook/file/save/saveCopy";
import { makeBook } from "../samples/book";
import { best, ratioAtMost, type Measurement, sized } from "./measure";

function gaps(rows: number): Book {
  return makeBook([
    { name: "Log", widths: [], rows: Array.from({ length: rows }, (_, i) => [i / rows, `=BANK.BEND(A${i + 1})`]) },
  ]);
}

async function recalculation(rows: number): Promise<number> {
  const engine = await createEngine(gaps(rows));
  try {
    return await best(2, () => engine.live.recalculate());
  } finally {
    engine.dispose();
  }
}

async function copying(rows: number): Promise<number> {
  const book = gaps(rows);
  const { bytes } = await saveCopy(null, book);
  return best(2, async () => {
    const read = await readXlsx(bytes);
    const sheets = read.sheets.map((sheet) => ({
      ...sheet,
      rows: sheet.rows.map((row): BookCell[] => (row ?? []).map((cell) => ({ ...cell!, value: 1 }))),
    }));
    await saveCopy(bytes, { ...read, sheets });
  });
}

export async function recalculationBench(): Promise<Measurement[]> {
  return [
    {
      name: "recalculate 100,000 BANK formulas",
      ours: await recalculation(sized(100_000)),
      reference: "the same, 25,000 formulas",
      referenceTime: await recalculation(sized(25_000)),
      goal: ratioAtMost(4.4),
    },
    {
      name: "read and save 200,000 rows",
      ours: await copying(sized(200_000)),
      reference: "the same, 50,000 rows",
      referenceTime: await copying(sized(50_000)),
      goal: ratioAtMost(4.4),
    },
  ];
}
