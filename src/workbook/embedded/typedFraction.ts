/**
 * A whole number with a fraction, as a person types a ruler reading into a cell. May import: nothing.
 */

/**
 * "0 1/8" or "1 3/16" as a number with a fraction format, as Excel takes it; undefined for anything else. A bare 1/8 is
 * a date in every spreadsheet and stays one.
 * @example mixedFraction("1 1/8") // { value: 1.125, format: "# ?/?" }
 */
export function mixedFraction(text: string): { readonly value: number; readonly format: string } | undefined {
  const match = /^\s*([+-]?)(\d{1,9})\s+(\d{1,5})\/([1-9]\d{0,4})\s*$/.exec(text);
  if (!match) return undefined;
  const size = Number(match[2]) + Number(match[3]) / Number(match[4]);
  return { value: match[1] === "-" ? -size : size, format: match[4].length > 1 ? "# ??/??" : "# ?/?" };
}
