/**
 * Which sheet of a file a sheet of the Book comes from.
 */
import type { BookSheet } from "../../book";
import { sameValue } from "./cellXml";
import type { SheetEntry } from "../read/readXlsx";
import { scanSheet, type CellContext } from "../read/sheetScan";
import type { Archive } from "../package/zip";

/**
 * For each sheet of the Book the sheet of the file it comes from: the one of its name, else one that holds the same
 * cells.
 */
export function pairedSheets(
  archive: Archive,
  entries: readonly SheetEntry[],
  context: CellContext,
  sheets: readonly BookSheet[],
): (SheetEntry | undefined)[] {
  const pairs = sheets.map((sheet) => entries.find(({ name }) => name === sheet.name));
  const free = entries.filter((entry) => !pairs.includes(entry));
  sheets.forEach((sheet, i) => {
    if (pairs[i] || free.length === 0) return;
    const likeness = free.map((entry) => shareAlike(archive.text(entry.part), context, sheet));
    const best = Math.max(...likeness);
    if (best >= 0.5) pairs[i] = free.splice(likeness.indexOf(best), 1)[0];
  });
  return pairs;
}

/** Share of the first cells with something in them that stand unchanged in the other sheet; 1 when both are empty. */
function shareAlike(xml: string, context: CellContext, sheet: BookSheet): number {
  let seen = 0;
  let same = 0;
  const scan = scanSheet(xml, context, {
    cell: ({ row, column, value, formula }) => {
      if (value === null && formula === undefined) return;
      seen++;
      if (sameValue(sheet.rows[row]?.[column]?.value ?? null, value)) same++;
    },
  });
  scan.next();
  if (seen === 0) return sheet.rows.some((row) => row?.some((cell) => cell && cell.value !== null)) ? 0 : 1;
  return same / seen;
}
