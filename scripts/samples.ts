/** Writes the sample workbooks: node scripts/run.mjs samples. Cached values come from the functions themselves. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Book } from "../src/workbook/book";
import { createEngine } from "../src/workbook/embedded/engine";
import { saveCopy } from "../src/workbook/file/save/saveCopy";
import { root } from "./install.mjs";
import { attemptsLog } from "./samples/attempts";
import { demonstration } from "./samples/demonstration";
import { makeBook } from "./samples/book";
import { conditionsSheet, guideSheet, logSheet } from "./samples/log";
import { messyLog } from "./samples/messy";

/** File name → workbook, formulas not yet computed. */
export const SAMPLES: Readonly<Record<string, () => Book>> = {
  "trial-log.xlsx": () =>
    makeBook(
      [
        logSheet(Array.from({ length: 200 }, (_, i) => ({ Trial: i + 1 }))),
        conditionsSheet(
          [
            ["Table 1", "say which, and how it is covered"],
            ["Table 2", ""],
          ],
          [
            ["worn", ""],
            ["new", ""],
          ],
        ),
        guideSheet([]),
      ],
      "Trial log",
    ),
  "demonstration.xlsx": demonstration,
  "attempts.xlsx": attemptsLog,
  "messy-log.xlsx": messyLog,
};

/** The workbook with every formula computed. */
export async function computed(book: Book): Promise<Book> {
  const engine = await createEngine(book);
  try {
    return await engine.recalculate();
  } finally {
    engine.dispose();
  }
}

if (process.argv[1] === undefined || !process.argv[1].includes("vitest")) {
  for (const [name, make] of Object.entries(SAMPLES)) {
    const { bytes, notes } = await saveCopy(null, await computed(make()), { computed: true });
    writeFileSync(join(root, "sample-workbooks", name), bytes);
    process.stderr.write(`${name}: ${bytes.length} bytes${notes.length ? `; ${notes.join("; ")}` : ""}\n`);
  }
}
