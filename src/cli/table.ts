/** Aligned columns of text, and remarks on rows. */
import { say, toText } from "../experiment/language/said";
import type { CellRemark } from "../experiment/question/rowCheck";
import type { TrialLog } from "../experiment/log/trialLog";
import { confidenceText, significant } from "../experiment/language/wording";
import type { Term } from "../statistics/fit/estimates";
import { columnLetters } from "../workbook/address";

/** Lines of a table: the first column flush left, the others right. */
export function tableLines(rows: readonly (readonly string[])[]): string[] {
  const widthOf = (j: number) => Math.max(...rows.map((row) => row[j]?.length ?? 0));
  const aligned = (text: string, j: number) => (j === 0 ? text.padEnd(widthOf(j)) : text.padStart(widthOf(j)));
  return rows.map((row) => `  ${row.map(aligned).join("  ")}`);
}

/** "row 7, D7: Bend is blank", one line each, under a headline; nothing when there is none. */
export function remarkLines(headline: string, remarks: readonly CellRemark[]): string[] {
  if (remarks.length === 0) return [];
  return [
    "",
    headline,
    ...remarks.map(({ row, address, reason }) => toText(say`  row ${row + 1}, ${address}: ${reason}`)),
  ];
}

/** Which rows an answer is about; a table that is named like its sheet is named once. */
export function sheetLine({ sheet, title }: TrialLog): string {
  return `Sheet "${sheet}"${title === sheet ? "" : `, ${title}`}.`;
}

/** How the log was read where that is not plain, below a blank line; nothing when there is nothing to say. */
export function readAsLines({ readAs }: TrialLog): string[] {
  return readAs.length === 0 ? [] : ["", ...readAs];
}

/** Remarks as JSON has them: sheet rows counted from 1. */
export function remarksJson(remarks: readonly CellRemark[]): unknown[] {
  return remarks.map(({ row, heading, address, reason }) => ({
    row: row + 1,
    column: heading,
    cell: address,
    reason: toText(reason),
  }));
}

/** What stands around the log's table, as JSON; null where nothing does. */
export function outsideJson({ outside }: TrialLog): unknown {
  return outside
    ? {
        rows: outside.rows.map((row) => row + 1),
        columns: outside.columns.map(({ column }) => columnLetters(column)),
        takenIn: outside.takenIn,
      }
    : null;
}

/** Coefficients as rows of a table, under their headings. */
export function termRows(confidence: number, terms: readonly Term[]): string[][] {
  const percent = say`${confidenceText(confidence)} %`;
  const cell = (value: number | null) => (value === null ? "not estimated" : toText(significant(value, 6)));
  return [
    ["term", "estimate", "standard error", toText(say`${percent} low`), toText(say`${percent} high`), "p"],
    ...terms.map(({ label, estimate, standardError, low, high, p }) => [
      label,
      cell(estimate),
      cell(standardError),
      cell(low),
      cell(high),
      p === null ? "" : toText(significant(p, 3)),
    ]),
  ];
}
