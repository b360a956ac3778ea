/**
 * The page with the embedded grid. May import: workbook/.
 */
import type { Book } from "../workbook/book";
import { openGrid } from "../workbook/embedded/grid";

/** Shown when the server has no workbook to open. */
const SAMPLE: Book = {
  sheets: [
    {
      name: "Trials",
      rows: [
        ["Gap (in)", "Bend (in)"].map((value) => ({ value, style: 0 })),
        ...[0.875, 0.75, 0.625, 0.5].map((gap, i) => [{ value: gap }, { value: null, formula: `BANK.BEND(A${i + 2})` }]),
        [],
        [{ value: null, formula: "BANK.SPREAD(B2:B5)" }],
      ],
      hiddenRows: [],
      merged: [],
      tables: [],
      validations: [],
      columnWidths: [18, 14, 14, 14],
      frozenRows: 1,
    },
  ],
  styles: [{ bold: true }],
  names: [],
};

async function start(): Promise<void> {
  const answer = await fetch("demo.json").catch(() => undefined);
  const book = answer?.ok ? ((await answer.json()) as Book) : SAMPLE;
  const began = performance.now();
  const grid = await openGrid(document.getElementById("grid")!, book, { onError: (error) => console.error(error) });
  performance.measure("grid computed", { start: began });
  Object.assign(window, { bendbook: grid });
}

void start();
