/** A sheet for a log that nothing stands in yet but its headings, the trials' numbers and what is computed. */
import type { NewSheet } from "../../workbook/port";
import { logCell } from "./planSheet";

interface EmptyLog {
  readonly name: string;
  /** "Trial" among them is numbered. */
  readonly headings: readonly string[];
  /** Rows that are computed from the start; the sheet goes on below them. */
  readonly rows: number;
  readonly columnWidths: readonly number[];
  /** Formats of columns, by heading, that the headings do not bring themselves. */
  readonly formats?: Readonly<Record<string, string>>;
}

export function emptyLog({ name, headings, rows, columnWidths, formats = {} }: EmptyLog): NewSheet {
  const cell = (heading: string, row: number) => {
    const made = logCell(headings, heading, row, heading === "Trial" ? row : null);
    const format = formats[heading];
    return format === undefined ? made : { ...made, format };
  };
  return {
    name,
    rows: [
      headings.map((value) => ({ value, bold: true })),
      ...Array.from({ length: rows }, (_, i) => headings.map((heading) => cell(heading, i + 1))),
    ],
    columnWidths,
    headingRows: 1,
  };
}
