/**
 * What a cell shows is what the engine computes from the same formula: in random workbooks of calls, of other formulas
 * beside them, of errors, blanks and text, as they are opened and after each edit.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CellValue } from "../../../src/workbook/book";
import { createEngine, type Engine } from "../../../src/workbook/embedded/engine";
import { book, sheet } from "../embedded/books";

const ROWS = 6;
const LETTERS = "ABCDE";
const SHEETS = ["Log", "Bo's log"];

const constant: fc.Arbitrary<CellValue> = fc.oneof(
  fc.constantFrom<CellValue>(null, 0, 0.5, 1.25, 20, "3/8", "x", "0.5", true),
  fc.double({ min: 0, max: 60, noNaN: true }),
);

/** A formula for the column; it reads columns before its own only, so that none stands in a circle. */
function formulaIn(column: number): fc.Arbitrary<string> {
  const reference = fc
    .tuple(
      fc.nat(column - 1),
      fc.nat(ROWS - 1),
      fc.constantFrom("", "$"),
      fc.constantFrom("", "", "Log!", "'Bo''s log'!"),
    )
    .map(([read, row, dollar, other]) => `${other}${dollar}${LETTERS[read]}${dollar}${row + 1}`);
  const argument = fc.oneof(
    { weight: 6, arbitrary: reference },
    { weight: 1, arbitrary: fc.constantFrom("0.5", ".25", "1e-1", '"3/8"', '"us"', '"si"', "TRUE", "2.") },
  );
  const two = fc.tuple(argument, argument);
  return fc.oneof(
    argument.map((a) => `BANK.BEND(${a})`),
    two.map(([a, b]) => `BANK.CLEARANCE(${a}, ${b})`),
    two.map(([a, b]) => `BANK.BEND(${a},,${b})`),
    two.map(([a, b]) => `BANK.DEWPOINT(${a},${b},"si")`),
    argument.map((a) => `BANK.FRACTION(${a})`),
    argument.map((a) => `BANK.INCHES(${a})`),
    fc.constantFrom("BANK.BEND()", "BANK.BEND(BANK.BEND(A1))"),
    // A sum, since the engine takes a text without characters for 0 beside "+", but not when it is asked alone.
    fc.tuple(reference, reference).map(([a, b]) => `SUM(${a},${b})`),
    reference.map((a) => `IF(${a}="","",BANK.BEND(${a}))`),
    fc.constantFrom("SUM(A1:A3)", "SEQUENCE(2,1)", "1/0", 'A1&"/8"', "BANK.BEND(A1:A2)"),
  );
}

const typedIn = (column: number): fc.Arbitrary<CellValue> =>
  column === 0
    ? constant
    : fc.oneof(
        { weight: 1, arbitrary: constant },
        { weight: 2, arbitrary: formulaIn(column).map((formula): CellValue => `=${formula}`) },
      );
const cells = fc.array(fc.tuple(...[0, 1, 2, 3, 4].map(typedIn)), { minLength: ROWS, maxLength: ROWS });
const edit = fc
  .nat(LETTERS.length - 1)
  .chain((column) => fc.tuple(fc.constantFrom(...SHEETS), fc.nat(ROWS - 1), fc.constant(column), typedIn(column)));

/** Every formula's cell against the same formula computed alone by the engine. */
async function compare(engine: Engine): Promise<number> {
  // Beside a formula a text without characters is kept as the blank that the file holds.
  const plain = (value: CellValue) => (typeof value === "object" ? (value?.error ?? "") : value);
  let compared = 0;
  // What stands in no cell is computed as if on the first sheet.
  const [log] = engine.live.book().sheets;
  for (const cell of (log?.rows ?? []).flatMap((row) => row ?? [])) {
    if (cell?.formula === undefined || cell.spill) continue;
    const [alone] = await engine.evaluate([cell.formula]);
    if (Array.isArray(alone)) continue;
    expect([cell.formula, plain(cell.value)]).toEqual([cell.formula, plain(alone ?? null)]);
    compared++;
  }
  return compared;
}

describe("calls computed by column", () => {
  it("give what the engine gives, on opening and after edits", { timeout: 120_000 }, async () => {
    let compared = 0;
    await fc.assert(
      fc.asyncProperty(cells, cells, fc.array(edit, { maxLength: 4 }), async (log, bo, edits) => {
        const engine = await createEngine(book([sheet("Log", log), sheet("Bo's log", bo)]));
        try {
          compared += await compare(engine);
          for (const one of edits) engine.setCell(...one);
          await engine.live.settled();
          compared += await compare(engine);
        } finally {
          engine.dispose();
        }
      }),
      { numRuns: 30, seed: 16 },
    );
    expect(compared).toBeGreaterThan(300);
  });
});
