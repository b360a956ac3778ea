/** Rows of a results sheet as they grow, and what stands on each: what was asked, checks, rows left out. */
import { toText } from "../language/said";
import type { NewCell } from "../../workbook/port";
import type { Analysis } from "../question/analysis";
import type { RowCheck } from "../question/rowCheck";
import type { TrustRemark } from "../trust/trustWords";

/** Rows of a results sheet as they grow. */
export function sheetRows() {
  const rows: NewCell[][] = [];
  const plain = (value: NewCell["value"]): NewCell =>
    typeof value === "number" && !Number.isFinite(value) ? { value: String(value) } : { value };
  return {
    rows,
    add: (...values: NewCell["value"][]) => void rows.push(values.map(plain)),
    heading: (...values: string[]) => {
      if (rows.length > 0) rows.push([]);
      rows.push(values.map((value) => ({ value, bold: true })));
    },
  };
}

/** A number for a cell, blank where there is none. */
export const number = (value: number | null | undefined) => value ?? "";
export const WIDTHS = [44, 22, 16, 16, 16, 12, 12];

export type SheetRows = ReturnType<typeof sheetRows>;

/** What was asked, of which rows, when and with what. */
export function addAsked(
  { rows, add, heading }: SheetRows,
  { log, choice, check }: Pick<Analysis, "log" | "choice" | "check">,
  method: string,
  made: Date,
  version: string,
  more: readonly (readonly [string, NewCell["value"]])[] = [],
): void {
  heading("Asked", "Value");
  add("Sheet", log.sheet);
  add("Table", log.title);
  add("Response", choice.response);
  more.forEach(([name, value]) => add(name, value));
  choice.drivers.forEach(({ heading: text, as, degree }) =>
    add("Driver", `${text}, as a ${as}${degree > 1 ? `, curve of degree ${degree}` : ""}`),
  );
  choice.joint.forEach(([a, b]) => add("Acting together", `${a} and ${b}`));
  add("Constant", choice.constant ? "yes" : "no, forced through the origin");
  add("Confidence of intervals", choice.confidence);
  add("Method", method);
  add("Rows read", log.rows.length);
  add("Rows used", check.used.length);
  add("Rows left out", check.leftOut.length);
  add("Hidden or filtered rows counted in", log.hiddenRows);
  add("Bendbook", version);
  rows.push([{ value: "Made" }, { value: serialOf(made), format: "yyyy-mm-dd hh:mm" }]);
}

/** What each check found, the check named beside its first finding. */
export function addChecks({ add, heading }: SheetRows, of: string, checks: readonly TrustRemark[]): void {
  heading(`Checks of ${of}`, "What was found");
  for (const { title, found } of checks) found.forEach((text, line) => add(line === 0 ? title : "", toText(text)));
  add("A check that finds nothing proves nothing: few rows hide much.");
}

/** Which rows were left out, and which are worth a look. */
export function addRemarks({ add, heading }: SheetRows, { leftOut, suspicious }: RowCheck): void {
  if (leftOut.length > 0) {
    heading("Row left out", "Cell", "Why");
    for (const { row, address, reason } of leftOut) add(row + 1, address, toText(reason));
  }
  if (suspicious.length > 0) {
    heading("Used, but worth a look", "Cell", "Why");
    for (const { row, address, reason } of suspicious) add(row + 1, address, toText(reason));
  }
}

/** A moment as a spreadsheet's serial day in local time. */
export function serialOf(moment: Date): number {
  return (moment.getTime() - moment.getTimezoneOffset() * 60000) / 86400000 + 25569;
}
