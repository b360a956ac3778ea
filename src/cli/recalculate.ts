/** bendbook recalculate. May import: workbook/, readLog.ts, usage.ts. */
import { parseArgs } from "node:util";
import { cellAddress, quoteSheetName } from "../workbook/address";
import { isCellError, type Book, type BookCell, type CellValue } from "../workbook/book";
import { fileExists, samePath, writeFileBytes } from "../workbook/file/disk";
import { saveCopy } from "../workbook/file/saveCopy";
import { callsBank, openFile, recomputed } from "./readLog";
import { CommandError, UsageError } from "./usage";

interface Changed {
  readonly cell: string;
  readonly formula: string;
  readonly stored: CellValue;
  readonly computed: CellValue;
}

/** Recomputes, lists and writes the copy. @returns the exit code */
export async function recalculate(args: string[], print: (text: string) => void): Promise<number> {
  const { values, positionals } = parseArgs({
    args,
    allowPositionals: true,
    options: { out: { type: "string" }, force: { type: "boolean" }, json: { type: "boolean" } },
  });
  if (positionals.length !== 1) throw new UsageError("recalculate needs one file (.xlsx).");
  if (values.out === undefined) throw new UsageError("recalculate needs --out FILE, where the copy goes.");
  const [file] = positionals;
  if (samePath(file, values.out)) throw new UsageError(`--out is the file itself (${file}): give the copy another name.`);
  if (!values.force && (await fileExists(values.out))) throw new CommandError(`${values.out} is there already: give another name, or --force to replace it.`);
  const { bytes, book } = await openFile(file);
  if (!/\.xlsx$/i.test(file)) throw new CommandError(`${file} holds no formulas to recalculate: give an .xlsx file.`);
  const computed = await recomputed(book);
  const { formulas, changed, unsupported, merged } = compare(book, computed);
  const { bytes: copy, notes } = await saveCopy(bytes, merged);
  await writeFileBytes(values.out, copy);
  if (values.json) print(JSON.stringify({ file, out: values.out, formulas, changed, unsupported, notes }, null, 2));
  else {
    print(`${formulas} BANK formula${formulas === 1 ? "" : "s"} recomputed; ${changed.length === 0 ? "every stored value agrees" : `${changed.length} stored value${changed.length === 1 ? " differs" : "s differ"}`}.`);
    for (const { cell, formula, stored, computed: now } of changed) print(`  ${cell} =${formula}: stored ${shown(stored)}, computed ${shown(now)}`);
    for (const { cell, formula } of unsupported) print(`  ${cell} =${formula}: kept as stored, it uses a function that cannot be computed here`);
    for (const note of notes) print(`  ${note}`);
    print(`Copy written to ${values.out}.`);
  }
  return 0;
}

/** Stored against computed values. Formulas without BANK functions that come out as #NAME? keep their stored value. */
function compare(stored: Book, computed: Book) {
  const changed: Changed[] = [];
  const unsupported: { cell: string; formula: string }[] = [];
  let formulas = 0;
  const sheets = computed.sheets.map((sheet, s) => {
    const before = stored.sheets[s];
    const rows = sheet.rows.map((row, r) =>
      row?.map((cell, c): BookCell | undefined => {
        const old = before.rows[r]?.[c];
        const formula = cell?.formula;
        if (!cell || formula === undefined) {
          if (cell?.spilled && old && !same(old.value, cell.value)) changed.push({ cell: at(sheet.name, r, c), formula: "(spilled)", stored: old.value, computed: cell.value });
          return cell;
        }
        const ours = callsBank(formula);
        if (ours) formulas++;
        const was = old?.value ?? null;
        if (!ours && isCellError(cell.value) && !isCellError(was)) {
          unsupported.push({ cell: at(sheet.name, r, c), formula });
          return { ...cell, value: was };
        }
        if (!same(was, cell.value)) changed.push({ cell: at(sheet.name, r, c), formula, stored: was, computed: cell.value });
        return cell;
      }),
    );
    return { ...sheet, rows };
  });
  return { formulas, changed, unsupported, merged: { ...computed, sheets } };
}

function at(sheet: string, row: number, column: number): string {
  return `${quoteSheetName(sheet)}!${cellAddress(row, column)}`;
}

/** Alike to 12 digits: programs store 15 to 17, and sums may be taken in another order. */
function same(a: CellValue, b: CellValue): boolean {
  if (typeof a === "number" && typeof b === "number") return Math.abs(a - b) <= 1e-12 * Math.max(Math.abs(a), Math.abs(b));
  if (isCellError(a) && isCellError(b)) return a.error === b.error;
  return a === b || ((a === null || a === "") && (b === null || b === ""));
}

function shown(value: CellValue): string {
  if (value === null) return "nothing";
  if (isCellError(value)) return `${value.error}${value.message ? ` (${value.message})` : ""}`;
  return typeof value === "string" ? `"${value}"` : String(value);
}
