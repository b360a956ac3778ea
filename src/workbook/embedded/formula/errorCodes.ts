/**
 * The error values a cell of the embedded grid can hold.
 */
const CODES: ReadonlySet<string> = new Set([
  "#DIV/0!",
  "#NAME?",
  "#VALUE!",
  "#NUM!",
  "#N/A",
  "#CYCLE!",
  "#REF!",
  "#SPILL!",
  "#CALC!",
  "#ERROR!",
  "#GETTING_DATA",
  "#NULL!",
]);

export function isErrorCode(text: string): boolean {
  return CODES.has(text);
}
