/**
 * The door to Excel, and what its refusals mean.
 */

/** The one call of Office.js that everything here goes through; tests hand in their own. */
export interface ExcelHost {
  run<T>(options: { delayForCellEdit: boolean }, batch: (context: Excel.RequestContext) => Promise<T>): Promise<T>;
}

/** Excel itself, once Office.js is there. */
export const officeExcel: ExcelHost = { run: (options, batch) => Excel.run(options, batch) };

/** Runs a batch, waiting for the user to finish the cell being typed in. */
export function inExcel<T>(excel: ExcelHost, batch: (context: Excel.RequestContext) => Promise<T>): Promise<T> {
  return excel.run({ delayForCellEdit: true }, batch);
}

/** Whether Excel refused because an answer or a range was too large for one step. */
export function isTooMuch(problem: unknown): boolean {
  return [
    "RequestPayloadSizeLimitExceeded",
    "ResponsePayloadSizeLimitExceeded",
    "RangeExceedsLimit",
    "OperationCellsExceedLimit",
  ].includes(officeCode(problem) ?? "");
}

/** Office.js's code of a failure, such as "ItemNotFound"; undefined when the failure is not Excel's. */
export function officeCode(problem: unknown): string | undefined {
  const code = (problem as { code?: unknown } | null | undefined)?.code;
  return typeof code === "string" ? code : undefined;
}

const MEANINGS: Readonly<Record<string, string>> = {
  AccessDenied: "the workbook or the sheet is protected. Take the protection off (Review), then try again.",
  InvalidOperationInCellEditMode: "a cell is being typed in. Press Enter or Esc, then try again.",
  RequestAborted: "Excel broke off. Try again.",
  ActivityLimitReached: "Excel is too busy. Wait a little, then try again.",
  RequestPayloadSizeLimitExceeded: "there is too much in one step for Excel.",
  ResponsePayloadSizeLimitExceeded: "a cell holds more text than Excel hands over in one step.",
  ApiNotFound: "this version of Excel lacks what Bendbook needs. Update Excel, or open the file with npm start.",
  UnsupportedFeature: "this version of Excel lacks what Bendbook needs. Update Excel, or open the file with npm start.",
  InactiveWorkbook: "the workbook is no longer in front. Go to it, then try again.",
};

/**
 * A failure as a person can read it.
 *
 * @param doing what was being done, such as `read the sheet "Trials"`
 * @example officeProblem({ code: "AccessDenied" }, "add a sheet").message // "Excel could not add a sheet: the workbook or the sheet is protected. …"
 */
export function officeProblem(problem: unknown, doing: string): Error {
  const code = officeCode(problem);
  const text =
    problem instanceof Error ? problem.message : String((problem as { message?: unknown } | null)?.message ?? problem);
  const why = (code !== undefined && MEANINGS[code]) || text.trim() || "it gave no reason. Try again.";
  return new Error(`Excel could not ${doing}: ${why}`, { cause: problem });
}
