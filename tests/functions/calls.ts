/** How tests call worksheet functions. */
import { SheetError } from "../../src/functions/sheetError";

/** A single cell as an argument. */
export const at = (cell: unknown) => [[cell]];

/** The error that a call ends in, as "code message". */
export function failure(call: () => unknown): string {
  try {
    call();
  } catch (problem) {
    if (problem instanceof SheetError) return `${problem.code} ${problem.message}`;
    throw problem;
  }
  throw new Error("no error");
}
