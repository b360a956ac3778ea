/** An empty log of attempts, with few columns: one row is one attempt, the required bend comes from the gap. */
import type { NewSheet } from "../../workbook/port";
import { emptyLog } from "../plan/emptyLog";

/** Rows whose required bend is computed from the start; the sheet goes on below them. */
const ROWS = 200;

const WIDTHS = [8, 13, 10, 12, 10, 14, 12, 20, 14, 16, 40];

/** The headings of a new log of attempts. */
export function attemptHeadings(units: "us" | "si"): string[] {
  const small = units === "us" ? "in" : "mm";
  return [
    "Trial",
    "Date",
    "Session",
    "Table",
    "Cloth",
    "Humidity (%)",
    `Gap (${small})`,
    `Required bend (${small})`,
    "Outcome",
    `Film bend (${small})`,
    "Remarks",
  ];
}

/** A log of attempts for a new sheet. */
export function attemptSheet(units: "us" | "si"): NewSheet {
  return emptyLog({
    name: "Attempts",
    headings: attemptHeadings(units),
    rows: ROWS,
    columnWidths: WIDTHS,
    formats: { Date: "yyyy-mm-dd" },
  });
}
