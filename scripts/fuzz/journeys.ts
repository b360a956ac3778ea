/**
 * What a workbook goes through, from a seed: written, opened, edited, saved and opened again, each time read by a
 * second reader as well (exceljs), or written by it first. A journey throws where anything comes back otherwise.
 */
import ExcelJS from "exceljs";
import { cellAddress } from "../../src/workbook/address";
import { isCellError, sheetOfRows, type Book, type CellValue } from "../../src/workbook/book";
import { createEngine } from "../../src/workbook/embedded/engine";
import { FileProblem } from "../../src/workbook/file/package/fileProblem";
import { readCsv, writeCsv } from "../../src/workbook/file/read/csv";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../src/workbook/file/save/saveCopy";
import { Chance, edited, randomBook, randomValue } from "./randomBooks";

/** A value as text that two readers can be compared by; a blank and a text without characters are one. */
function plain(value: unknown): string {
  if (value === null || value === undefined || value === "") return "blank";
  if (isCellError(value)) return `error ${value.error}`;
  if (typeof value === "object" && "result" in value) return plain(value.result);
  if (typeof value === "object" && "richText" in value)
    return plain((value.richText as { text: string }[]).map(({ text }) => text).join(""));
  return typeof value === "string"
    ? `text ${JSON.stringify(value.replace(/\r\n?/g, "\n"))}`
    : `${typeof value} ${String(value)}`;
}

function expectSame(where: string, found: unknown, wanted: unknown): void {
  const [a, b] = [plain(found), plain(wanted)];
  if (a !== b) throw new Error(`${where}: ${a} came back where ${b} went in`);
}

/** Every cell of a sheet by its place, up to the farthest of either book. */
function eachCell(wanted: Book, visit: (sheet: number, row: number, column: number, value: CellValue) => void): void {
  wanted.sheets.forEach(({ rows }, s) => {
    for (let r = 0; r < 24; r++) for (let c = 0; c < 12; c++) visit(s, r, c, rows[r]?.[c]?.value ?? null);
  });
}

/** Reads the bytes with both readers and compares with what was meant. @returns our reading */
async function readBoth(stage: string, bytes: Uint8Array, wanted: Book): Promise<Book> {
  const ours = await readXlsx(bytes);
  eachCell(wanted, (s, r, c, value) => {
    const sheet = ours.sheets[s];
    const where = `${stage}, ${sheet?.name ?? "no sheet"}!${cellAddress(r, c)}`;
    expectSame(where, sheet?.rows[r]?.[c]?.value, value);
    const [formula, meant] = [sheet?.rows[r]?.[c]?.formula, wanted.sheets[s]?.rows[r]?.[c]?.formula];
    if (formula !== meant) throw new Error(`${where}: the formula ${formula} came back where ${meant} went in`);
  });
  const second = new ExcelJS.Workbook();
  await second.xlsx.load(bytes.slice().buffer as ArrayBuffer);
  eachCell(wanted, (s, r, c, value) => {
    const sheet = second.worksheets[s];
    const cell = sheet?.getRow(r + 1).getCell(c + 1);
    // Of merged cells the second reader gives the first one's value for all.
    if (cell?.isMerged) return;
    // It drops what is stored beside a formula where that is 0, FALSE or no text.
    if (cell?.formula !== undefined && !cell.result && !value) return;
    // It reads no escapes there either.
    if (cell?.formula !== undefined && value === "_x000D_") return;
    expectSame(`${stage}, second reader, ${sheet?.name}!${cellAddress(r, c)}`, cell?.value, value);
  });
  return ours;
}

/** Written here, opened, edited and saved three times. */
async function writtenHere(chance: Chance): Promise<void> {
  const first = randomBook(chance);
  let { bytes } = await saveCopy(null, first);
  let book = await readBoth("new", bytes, first);
  for (let round = 1; round <= 3; round++) {
    const unchanged = await saveCopy(bytes, book);
    if (Buffer.compare(unchanged.bytes, bytes) !== 0) throw new Error(`round ${round}: nothing changed, other bytes`);
    const now = edited(book, chance);
    bytes = (await saveCopy(bytes, now)).bytes;
    book = await readBoth(`round ${round}`, bytes, now);
  }
}

/** Written by the other library, with what it knows of, then edited here. */
async function writtenElsewhere(chance: Chance): Promise<void> {
  const made = new ExcelJS.Workbook();
  const sheet = made.addWorksheet("Log");
  const wanted = new Map<string, CellValue>();
  for (let r = 0; r < 10; r++)
    for (let c = 0; c < 6; c++) {
      if (chance.once(3)) continue;
      const value = randomValue(chance);
      // The other library writes a text like that of an escape as the escape itself.
      if (value === "_x000D_") continue;
      const cell = sheet.getCell(r + 1, c + 1);
      const shown = isCellError(value) ? ({ error: value.error } as ExcelJS.CellErrorValue) : value;
      cell.value =
        chance.once(4) && !isCellError(value)
          ? { formula: "1+1", result: value as number }
          : (shown as ExcelJS.CellValue);
      if (chance.once(4)) cell.font = { bold: true };
      wanted.set(cellAddress(r, c), value);
    }
  if (chance.once(2)) sheet.mergeCells(15, 1, 16, 3);
  if (chance.once(2)) sheet.autoFilter = "A1:F1";
  const bytes = new Uint8Array(await made.xlsx.writeBuffer());
  const book = await readXlsx(bytes);
  for (const [address, value] of wanted) {
    const { row, col } = sheet.getCell(address) as unknown as { row: number; col: number };
    expectSame(`their ${address}`, book.sheets[0]?.rows[row - 1]?.[col - 1]?.value, value);
  }
  const now = edited(book, chance);
  await readBoth("theirs, edited", (await saveCopy(bytes, now)).bytes, now);
}

/** Edited in the running grid's engine: what was typed is there, and what reads it is computed anew. */
async function typedIntoEngine(chance: Chance): Promise<void> {
  const gaps = Array.from({ length: 6 }, () => chance.below(40) / 16);
  const rows = gaps.map((gap, i) => [{ value: gap }, { value: 99, formula: `BANK.BEND(A${i + 1})` }]);
  const sheet = sheetOfRows("Log", rows);
  const { bytes } = await saveCopy(null, { sheets: [sheet], styles: [], names: [] });
  const engine = await createEngine(await readXlsx(bytes));
  try {
    for (let times = 3; times > 0; times--) {
      const r = chance.below(gaps.length);
      gaps[r] = chance.below(40) / 16;
      engine.setCell("Log", r, 0, gaps[r] as number);
    }
    const copy = (await saveCopy(bytes, await engine.recalculate())).bytes;
    const wanted = gaps.map((gap, i) => [{ value: gap }, { value: 1.125 - gap, formula: `BANK.BEND(A${i + 1})` }]);
    await readBoth("typed", copy, { sheets: [{ ...sheet, rows: wanted }], styles: [], names: [] });
  } finally {
    engine.dispose();
  }
}

/** Bytes changed or cut off: a file is read, or it is said what is wrong with it. */
async function damaged(chance: Chance): Promise<void> {
  const { bytes } = await saveCopy(null, randomBook(chance));
  const hurt = bytes.slice(0, chance.once(3) ? chance.below(bytes.length) : bytes.length);
  for (let times = 1 + chance.below(8); times > 0 && hurt.length > 0; times--)
    hurt[chance.below(hurt.length)] = chance.below(256);
  try {
    await readXlsx(hurt);
  } catch (problem) {
    if (!(problem instanceof FileProblem)) throw problem;
  }
}

/** As .csv: numbers and words come back as they were. */
async function commaSeparated(chance: Chance): Promise<void> {
  const [sheet] = randomBook(chance).sheets;
  if (!sheet) return;
  // A comma in the first row decides what parts the fields.
  const heading = { value: "Gap, in" };
  const rows = [
    [heading, { value: "Bend" }],
    ...sheet.rows.map((row) => (row ?? []).map((cell) => cell && { value: cell.value })),
  ];
  const [back] = readCsv(writeCsv({ ...sheet, rows }), "log.csv").sheets;
  rows.forEach((row, r) =>
    row.forEach((cell, c) => {
      const value = cell?.value ?? null;
      const wanted = isCellError(value)
        ? value.error
        : typeof value === "boolean"
          ? String(value).toUpperCase()
          : value;
      // 1e+21 and text that is plainly a number have no other form in a .csv.
      if (typeof wanted === "string" && /^[\d.]+$/.test(wanted)) return;
      expectSame(`.csv ${cellAddress(r, c)}`, back?.rows[r]?.[c]?.value, wanted);
    }),
  );
}

/** By name, for the report. */
export const JOURNEYS: Readonly<Record<string, (chance: Chance) => Promise<void>>> = {
  writtenHere,
  writtenElsewhere,
  typedIntoEngine,
  damaged,
  commaSeparated,
};

/** The journey of that name with that seed. @throws what went wrong */
export function travel(name: string, seed: number): Promise<void> {
  const journey = JOURNEYS[name];
  if (!journey) throw new Error(`There is no journey ${name}; there are ${Object.keys(JOURNEYS).join(", ")}.`);
  return journey(new Chance(seed));
}
