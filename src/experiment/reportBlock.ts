/** What a report is made of, whoever shows it. May import: nothing. */

/** A cell of a table: a number is shown in the reader's way. */
export type ReportCell = string | number | null;

export type ReportBlock =
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "list"; readonly items: readonly string[] }
  | { readonly kind: "table"; readonly head: readonly string[]; readonly rows: readonly (readonly ReportCell[])[] }
  /** A drawing, by the name under which whoever shows the report finds it. */
  | { readonly kind: "figure"; readonly id: string; readonly caption: string };
