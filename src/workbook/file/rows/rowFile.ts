/**
 * A table that is written row by row, so that a million rows need no more memory than a few thousand.
 */

/** What a column holds: numbers, serial days, TRUE or FALSE, or text. */
export interface RowColumn {
  readonly heading: string;
  readonly kind: "number" | "date" | "made" | "text";
}

export type RowValue = number | string | boolean | null;

/** A table of notes beside the rows, where the form has room for one. */
export interface NotesSheet {
  readonly name: string;
  readonly rows: readonly (readonly string[])[];
}

export interface RowFile {
  write(rows: readonly (readonly RowValue[])[]): Promise<void>;
  /** Writes what belongs at the end. */
  end(notes: NotesSheet): Promise<void>;
}

/** Most rows of a sheet, its headings among them. */
export const MOST_SHEET_ROWS = 1_048_576;
