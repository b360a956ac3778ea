/** bendbook recalculate. */
import { parseArgs } from "node:util";
import { counted } from "../experiment/language/wording";
import { cellAddress, quoteSheetName } from "../workbook/address";
import { isCellError, type Book, type CellValue } from "../workbook/book";
import { sameValue } from "../workbook/file/save/cellXml";
import { fileExists, samePath, writeFileBytes } from "../workbook/file/package/disk";
import { saveCopy } from "../workbook/file/save/saveCopy";
import { callsBank } from "../workbook/file/package/storageFormula";
import { computed, openFile } from "./readLog";
import { CommandError, UsageError, type Voices } from "./usage";

interface Changed {
  readonly sheet: string;
  readonly cell: string;
  readonly stored: CellValue;
  readonly computed: CellValue;
}

interface Kept {
  readonly sheet: string;
  readonly cell: string;
  readonly why: string;
}

/** Recomputes, lists and writes the copy. @returns the exit code */
export async function recalculate(args: string[], { print }: Voices): Promise<number> {
  const { values, positionals } = parseArgs({
    args,
    allowPositionals: true,
    options: { out: { type: "string" }, force: { type: "boolean" }, json: { type: "boolean" } },
  });
  const [file, ...others] = positionals;
  if (file === undefined || others.length > 0) throw new UsageError("recalculate needs one file (.xlsx).");
  if (values.out === undefined) throw new UsageError("recalculate needs --out FILE, where the copy goes.");
  if (samePath(file, values.out))
    throw new UsageError(`--out is the file itself (${file}): give the copy another name.`);
  if (!values.force && (await fileExists(values.out)))
    throw new CommandError(`${values.out} is there already: give another name, or --force to replace it.`);
  const { bytes, book } = await openFile(file);
  if (/\.(csv|parquet)$/i.test(file))
    throw new CommandError(`${file} holds no formulas to recalculate: give an .xlsx or .xlsm file.`);
  const now = await computed(book);
  const found = compare(book, now);
  const { bytes: copy, notes } = await saveCopy(bytes, now, { computed: true });
  await writeFileBytes(values.out, copy);
  print(
    values.json
      ? JSON.stringify({ file, out: values.out, ...found, notes }, null, 2)
      : asText(found, notes, values.out),
  );
  return 0;
}

interface Found {
  readonly formulas: number;
  readonly bank: number;
  readonly changed: readonly Changed[];
  readonly kept: readonly Kept[];
}

/** Stored against computed values, the cells that formulas fill included. */
function compare(stored: Book, now: Book): Found {
  const changed: Changed[] = [];
  let formulas = 0;
  let bank = 0;
  now.sheets.forEach((sheet, s) =>
    sheet.rows.forEach((row, r) =>
      row?.forEach((cell, c) => {
        if (!cell || (cell.formula === undefined && !cell.spilled)) return;
        if (cell.formula !== undefined) formulas++;
        if (cell.formula !== undefined && callsBank(cell.formula)) bank++;
        const was = stored.sheets[s]?.rows[r]?.[c]?.value ?? null;
        if (!sameValue(was, cell.value))
          changed.push({ sheet: sheet.name, cell: cellAddress(r, c), stored: was, computed: cell.value });
      }),
    ),
  );
  const kept = (now.kept ?? []).map(({ sheet, row, column, why }) => ({ sheet, cell: cellAddress(row, column), why }));
  return { formulas, bank, changed, kept };
}

function asText({ formulas, bank, changed, kept }: Found, notes: readonly string[], out: string): string {
  const lines = [
    `${counted(formulas, "formula")}, ${bank} with a BANK function; ${changed.length === 0 ? "every stored value agrees" : `${counted(changed.length, "stored value")} ${changed.length === 1 ? "differs" : "differ"}`}.`,
  ];
  for (const { sheet, cell, stored, computed } of changed)
    lines.push(`  ${quoteSheetName(sheet)}!${cell}: stored ${shown(stored)}, computed ${shown(computed)}`);
  for (const { sheet, cell, why } of kept) lines.push(`  ${quoteSheetName(sheet)}!${cell} kept as stored: ${why}`);
  return [...lines, ...notes.map((note) => `  ${note}`), `Copy written to ${out}.`].join("\n");
}

function shown(value: CellValue): string {
  if (value === null) return "nothing";
  if (isCellError(value)) return `${value.error}${value.message ? ` (${value.message})` : ""}`;
  return typeof value === "string" ? `"${value}"` : String(value);
}
