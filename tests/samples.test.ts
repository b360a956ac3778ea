/**
 * The sample workbooks: what the script makes is what is committed, and their stored values are what the functions
 * give.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { computed, SAMPLES } from "../scripts/samples";
import { demonstrationTrials, SEED } from "../scripts/samples/demonstration";
import { bendFormula } from "../src/experiment/plan/planSheet";
import { attemptSheet } from "../src/experiment/shoot/attemptSheet";
import { firstLog } from "../src/experiment/start/firstLog";
import { isCellError, type Book } from "../src/workbook/book";
import { readXlsx } from "../src/workbook/file/read/readXlsx";
import type { NewSheet } from "../src/workbook/port";
import { saveCopy } from "../src/workbook/file/save/saveCopy";

const stored = (name: string) => readFileSync(join(import.meta.dirname, "..", "sample-workbooks", name));
const formulas = (book: Book) =>
  book.sheets.flatMap((sheet) =>
    sheet.rows.flatMap((row, r) =>
      (row ?? []).flatMap((cell, c) =>
        cell?.formula || cell?.spilled ? [{ at: `${sheet.name} ${r} ${c}`, value: cell.value }] : [],
      ),
    ),
  );

describe.each(Object.keys(SAMPLES))("%s", (name) => {
  it("is what the script makes, to the byte", async () => {
    const { bytes, notes } = await saveCopy(null, await computed(SAMPLES[name]()), { computed: true });
    expect(notes).toEqual([]);
    expect(Buffer.from(bytes).equals(stored(name))).toBe(true);
  });

  it("has no cell in error but where the row's remark says what is wrong", async () => {
    const { sheets } = await readXlsx(stored(name));
    const wrong = sheets.flatMap((sheet) =>
      sheet.rows.flatMap((row, r) =>
        (row ?? []).flatMap((cell, c) =>
          cell && isCellError(cell.value)
            ? [{ at: `${sheet.name} ${r} ${c}`, remark: String(row!.at(-1)?.value ?? "") }]
            : [],
        ),
      ),
    );
    for (const { at, remark } of wrong) expect(remark, at).toMatch(/an error cell|became a date/);
    // The log that is spoilt on purpose is what shows that errors would be seen here.
    expect(wrong.length).toBe(name === "messy-log.xlsx" ? 2 : 0);
  });

  it("holds the values that its formulas give", async () => {
    const book = await readXlsx(stored(name));
    const fresh = formulas(await computed(book));
    const kept = formulas(book);
    expect(kept.length).toBeGreaterThan(20);
    // A file holds an error's code, not its words; a spill's empty cells and empty text read back as nothing.
    const plain = (cells: typeof kept) =>
      cells
        .filter(({ value }) => value !== null && value !== "")
        .map(({ at, value }) => [at, isCellError(value) ? value.error : value]);
    expect(plain(kept)).toEqual(plain(fresh));
  });
});

/** Cells and ranges in a formula: "B4", "Trials!N2:N241", "Trials[[#This Row],[Gap (in)]]". */
const REFERENCE = /\w+\[\[#This Row\],\[[^\]]+\]\]|(?:\w+!)?\b[A-Z]{1,2}\d+(?::[A-Z]{1,2}\d+)?\b/g;
/** Text in every workbook: the headings of a log. */
const HEADINGS = /!\w*[A-Z]1:[A-Z]1$/;

it("hands no function a cell that a blank would make 0", () => {
  const written: NewSheet[] = [attemptSheet("us"), attemptSheet("si"), firstLog("us"), firstLog("si")];
  // As a plan's rows have it.
  const planned = bendFormula(["Gap (in)", "Gate correction (in)"], 1);
  const formulasOf = [
    ...Object.values(SAMPLES).flatMap((make) => make().sheets.flatMap(({ rows }) => rows.flatMap((row) => row ?? []))),
    ...written.flatMap(({ rows }) => rows.flat()),
    { formula: planned },
  ].flatMap((cell) => (cell?.formula?.includes("BANK.") ? [cell.formula] : []));
  expect(formulasOf.length).toBeGreaterThan(1000);
  const isGuarded = (reference: string, formula: string) =>
    HEADINGS.test(reference) ||
    [`${reference}=""`, `ISNUMBER(${reference})`, `COUNTIF(${reference},`].some((guard) => formula.includes(guard));
  const open = formulasOf.filter((formula) =>
    [...formula.matchAll(REFERENCE)].some(([reference]) => !isGuarded(reference, formula)),
  );
  expect(open).toEqual([]);
});

describe("the demonstration", () => {
  it("says that it is invented, by which model and seed", async () => {
    const guide = (await readXlsx(stored("demonstration.xlsx"))).sheets.find(({ name }) => name === "Guide")!;
    const text = guide.rows.flatMap((row) => row?.map((cell) => String(cell?.value ?? "")) ?? []).join(" ");
    expect(text).toMatch(/invented/);
    expect(text).toContain(`seed ${SEED}`);
    expect(text).toContain("Nobody's face goes on the shot line");
  });

  it("has 240 trials on three tables, two cloths and four weeks, none of them bound to another", () => {
    const trials = demonstrationTrials();
    const kinds = (key: "Table" | "Cloth") => new Set(trials.map((trial) => trial[key])).size;
    expect([
      trials.length,
      kinds("Table"),
      kinds("Cloth"),
      new Set(trials.map((trial) => String(trial.Session).slice(0, 2))).size,
    ]).toEqual([240, 3, 2, 4]);
    expect(new Set(trials.map((trial) => `${trial.Table} ${trial.Cloth}`)).size).toBe(6);
  });

  it("is ready for work in the blank log: a table, lists for cloth and table, a frozen heading, guarded formulas", async () => {
    const log = (await readXlsx(stored("trial-log.xlsx"))).sheets[0];
    expect(log.tables[0]).toMatchObject({ name: "Trials", area: { rows: 201, columns: 16 } });
    expect(log.frozenRows).toBe(1);
    expect(log.validations.map(({ formula, choices }) => formula ?? choices?.join())).toEqual(
      expect.arrayContaining([expect.stringContaining("Conditions!"), "made,cleared,hit obstacle,missed"]),
    );
    expect(log.rows[1]?.[13]).toMatchObject({
      formula: 'IF(Trials[[#This Row],[Gap (in)]]="","",BANK.BEND(Trials[[#This Row],[Gap (in)]]))',
    });
    expect(log.rows[1]?.[13]?.value ?? "").toBe("");
  });
});
