/** What a report is made of, whoever shows it. */
import type { Said } from "../language/said";
import { decimalsFor } from "../language/wording";

/** A cell of a table: a plain number, such as a count, is shown in the reader's way. */
export type ReportCell = Said | number | null;

export type ReportBlock =
  | { readonly kind: "text"; readonly text: Said }
  /** What is read first, and from further away. */
  | { readonly kind: "verdict"; readonly text: Said }
  | { readonly kind: "list"; readonly items: readonly Said[] }
  | { readonly kind: "table"; readonly head: readonly Said[]; readonly rows: readonly (readonly ReportCell[])[] }
  /** A drawing, by the name under which whoever shows the report finds it. */
  | { readonly kind: "figure"; readonly id: string; readonly caption: Said };

/** A value to the digits that its standard error leaves it; without an error to six digits. Null stays nothing. */
export function toError(value: number | null, standardError: number | null): ReportCell {
  if (value === null) return null;
  const known = standardError !== null && standardError > 0 && Number.isFinite(standardError);
  return known ? { value, decimals: decimalsFor(standardError) } : { value, digits: 6 };
}

/** A value to so many significant digits. */
export function toDigits(value: number | null, digits: number): ReportCell {
  return value === null ? null : { value, digits };
}
