/** The host's workbook as a Book, for tests that look at either in the same words. */
import type { Book, BookCell, BookSheet } from "../../src/workbook/book";
import { LAST_COLUMN, type HostCell, type HostSheet, type HostWorkbook } from "./workbook";

export function bookOf({ sheets }: HostWorkbook): Book {
  const styles: { format: string; bold?: boolean; wrap?: boolean }[] = [];
  const style = ({ format, bold, wrap }: HostCell) =>
    styles.push({ format, ...(bold ? { bold } : {}), ...(wrap ? { wrap } : {}) }) - 1;
  const cell = (one: HostCell): BookCell => ({
    value: one.error ? { error: String(one.value) } : one.value === "" ? null : one.value,
    ...(one.formula === undefined ? {} : { formula: one.formula.slice(1) }),
    style: style(one),
  });
  const sheet = ({ name, cells, visibility, hiddenRows, merged, tables }: HostSheet): BookSheet => {
    const rows: (BookCell | undefined)[][] = [];
    for (const [key, one] of cells) (rows[Math.floor(key / LAST_COLUMN)] ??= [])[key % LAST_COLUMN] = cell(one);
    return {
      name,
      ...(visibility === "Visible" ? {} : { hidden: true }),
      rows,
      hiddenRows: [...hiddenRows],
      merged,
      tables: tables.map(({ name: table, area, totals }) => ({ name: table, area, ...(totals ? { totals } : {}) })),
      validations: [],
      columnWidths: [],
    };
  };
  return { sheets: sheets.map(sheet), styles, names: [] };
}
