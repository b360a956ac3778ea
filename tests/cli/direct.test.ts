/** Computing without the grid's engine: whatever is answered without it is what the engine answers. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { makeBook } from "../../scripts/samples/book";
import { seededRandom } from "../../scripts/samples/random";
import { bankLibrary } from "../../src/functions/library";
import { isCellError, type Book, type CellValue } from "../../src/workbook/book";
import { computeBook, computeFormulas, type Wanted } from "../../src/workbook/direct/computeBook";
import { createEngine } from "../../src/workbook/embedded/engine";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";

const samples = ["attempts", "demonstration", "messy-log", "trial-log"];

async function byEngine(book: Book): Promise<Book> {
  const engine = await createEngine(book);
  try {
    return await engine.recalculate();
  } finally {
    engine.dispose();
  }
}

/** A cell's value to 12 digits, as the engine compares them; errors by their code, "" as a blank. */
function plain(value: CellValue | undefined): unknown {
  if (isCellError(value)) return value.error;
  return typeof value === "number" ? Number(value.toPrecision(12)) : value === "" ? null : (value ?? null);
}

/** Every cell with something in it, as "Sheet!row,column: value formula spill". */
function told(book: Book): string[] {
  return book.sheets.flatMap(({ name, rows }) =>
    rows.flatMap((cells, r) =>
      (cells ?? []).flatMap((cell, c) => {
        const value = plain(cell?.value);
        return value === null && !cell?.formula
          ? []
          : [JSON.stringify([name, r, c, value, cell?.formula, cell?.spill])];
      }),
    ),
  );
}

const PIECES = [
  "BANK.BEND(A#)",
  'BANK.BEND(A#,,"mm")',
  'IF(A#="","",BANK.BEND(A#))',
  "BANK.CLEARANCE(B#,C#)",
  "A#+C#*0.1-0.3",
  "-C#/3+2%",
  "IF(AND(C#>0.5,NOT(C#>=0.75)),BANK.BEND(C#),C#^2)",
  'IF(OR(A#="",C#="x"),"none",A#&"")',
  "BANK.BEND(C2:C4)",
  "SUM(C2:C9)+BANK.BEND(C#)",
  "BANK.INCHES(A#)",
  "BANK.BEND(C#,D#)",
  'COUNTIF(A2:A9,"x")+ROWS(A2:C9)',
  "NOWHERE(1)",
  "BANK.BEND(",
];
const VALUES: readonly CellValue[] = [0.125, 1, "1 1/8", "x", "", null, 0.1, 2.5, true, -0.5];

/** A sheet of inputs and of formulas of which no value is stored. */
function randomBook(seed: number): Book {
  const random = seededRandom(seed);
  const pick = <T>(from: readonly T[]) => from[Math.floor(random.uniform() * from.length)] as T;
  const rows = Array.from({ length: 8 }, (_, i): CellValue[] => [
    pick(VALUES),
    i < 2 ? `=${pick(PIECES).replaceAll("#", String(2 + Math.floor(random.uniform() * 8)))}` : pick(VALUES),
    Math.round(20 * random.uniform()) / 16,
    null,
    i < 2 ? `=${pick(PIECES).replaceAll("#", String(i + 2))}` : null,
  ]);
  return makeBook([{ name: "Log", widths: [], rows: [["Gap", "One", "Number", "", "Two"], ...rows] }]);
}

describe("without the grid's engine", () => {
  it("computes the sample workbooks as the engine does", { timeout: 60_000 }, async () => {
    for (const sample of samples) {
      const bytes = readFileSync(join(import.meta.dirname, "../../sample-workbooks", `${sample}.xlsx`));
      const book = await readXlsx(new Uint8Array(bytes));
      const wanted = told(await byEngine(book));
      for (const which of ["ours", "all"] satisfies Wanted[]) {
        const direct = computeBook(book, bankLibrary, which);
        expect(direct, sample).toBeDefined();
        expect(direct && told(direct), sample).toEqual(wanted);
      }
    }
  });

  it("computes a random workbook as the engine does, or leaves it to the engine", { timeout: 120_000 }, async () => {
    let direct = 0;
    for (let seed = 1; direct < 25; seed++) {
      const book = randomBook(seed);
      const computed = computeBook(book, bankLibrary, "all");
      if (!computed) continue;
      direct++;
      expect(told(computed), `seed ${seed}`).toEqual(told(await byEngine(book)));
    }
  });

  it("computes single formulas as the engine does, or leaves them to the engine", async () => {
    const formulas = [...PIECES, "1+2*3-4/8", "2^3%", '"a"&"b"', "0.1+0.2", "1/3", "{1,2;3,4}", "BANK.BEND({1;0.5})"]
      .map((formula) => formula.replaceAll("#", "2"))
      .concat("-2^2", "1=1.0000000001", '"A"="a"', "BANK.BEND()", "BANK.BEND(1,2,3,4,5)", 'BANK.BEND("x")');
    const engine = await createEngine();
    const wanted = await engine.evaluate(formulas);
    engine.dispose();
    const found = computeFormulas(formulas, bankLibrary);
    const answered = formulas.filter((_, i) => found[i] !== undefined);
    expect(answered).toContain("0.1+0.2");
    expect(answered).toContain('BANK.BEND("x")');
    found.forEach((value, i) => {
      if (value !== undefined) expect(value, formulas[i]).toEqual(wanted[i]);
    });
  });
});
