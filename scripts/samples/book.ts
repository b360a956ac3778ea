/** Building blocks of the sample workbooks. */
import type {
  Area,
  Book,
  BookTable,
  BookCell,
  BookSheet,
  CellStyle,
  CellValue,
  ListValidation,
} from "../../src/workbook/book";

/** A cell to be: a bare value, a formula ("=…"), or either with a look. */
export type Draft = CellValue | { readonly value: CellValue; readonly look: keyof typeof LOOKS };

/** Looks by name; the first is the plain one. */
export const LOOKS = {
  plain: {},
  title: { bold: true, fontSize: 16, color: "#1f4e5f" },
  heading: { bold: true, fill: "#dfeae4" },
  text: { wrap: true },
  note: { italic: true, color: "#5a5a5a", wrap: true },
  date: { format: "yyyy-mm-dd" },
  fraction: { format: "# ??/??" },
  decimal3: { format: "0.000" },
  decimal1: { format: "0.0" },
  percent: { format: "0%" },
  dayMonth: { format: "d-mmm" },
} satisfies Record<string, CellStyle>;

const NAMES = Object.keys(LOOKS) as (keyof typeof LOOKS)[];

export interface SheetDraft {
  readonly name: string;
  readonly rows: readonly (readonly Draft[])[];
  readonly widths: readonly number[];
  readonly frozenRows?: number;
  readonly table?: BookTable;
  readonly validations?: readonly ListValidation[];
  readonly hiddenRows?: readonly number[];
  readonly merged?: readonly Area[];
}

function cell(draft: Draft): BookCell | undefined {
  const { value: drafted, look } =
    typeof draft === "object" && draft !== null && "look" in draft ? draft : { value: draft, look: "plain" as const };
  // A cell with a text of no characters would count as filled.
  const value = drafted === "" ? null : drafted;
  if (value === null && look === "plain") return undefined;
  const style = NAMES.indexOf(look);
  return typeof value === "string" && value.startsWith("=")
    ? { value: null, formula: value.slice(1), style }
    : { value, style };
}

export function makeBook(sheets: readonly SheetDraft[], title?: string): Book {
  return {
    ...(title === undefined ? {} : { title }),
    styles: Object.values(LOOKS),
    names: [],
    sheets: sheets.map((sheet): BookSheet => ({
      name: sheet.name,
      rows: sheet.rows.map((row) => row.map(cell)),
      hiddenRows: sheet.hiddenRows ?? [],
      merged: sheet.merged ?? [],
      tables: sheet.table ? [sheet.table] : [],
      validations: sheet.validations ?? [],
      columnWidths: sheet.widths,
      ...(sheet.frozenRows ? { frozenRows: sheet.frozenRows } : {}),
    })),
  };
}

/**
 * Cells as a BANK function is to get them: some builds of Excel hand over a blank as 0, but text without characters as
 * such, which is left out everywhere.
 */
export function guarded(cells: string): string {
  return `IF(${cells}="","",${cells})`;
}

/** One value per row with a look. */
export function looks(look: keyof typeof LOOKS, values: readonly CellValue[]): Draft[] {
  return values.map((value) => ({ value, look }));
}
