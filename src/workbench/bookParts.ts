/**
 * A Book on its way between the page and its worker, in parts that neither is long busy with: first everything but the
 * rows, then the rows some hundreds at a time.
 */
import type { Book, BookCell } from "../workbook/book";

/** Some rows of a sheet, from the first one on. */
export interface RowsPart {
  readonly sheet: number;
  readonly first: number;
  readonly rows: readonly (readonly (BookCell | undefined)[] | undefined)[];
  /** What share of all rows has come with this part. */
  readonly share: number;
}

const ROWS_A_PART = 500;

/** The Book without its rows. */
export function frameOf(book: Book): Book {
  return { ...book, sheets: book.sheets.map((sheet) => ({ ...sheet, rows: [] })) };
}

/** Its rows, part by part. */
export function* rowParts(book: Book): Generator<RowsPart> {
  const total = book.sheets.reduce((count, { rows }) => count + rows.length, 0);
  let sent = 0;
  for (const [sheet, { rows }] of book.sheets.entries()) {
    for (let first = 0; first < rows.length; first += ROWS_A_PART) {
      const part = rows.slice(first, first + ROWS_A_PART);
      sent += part.length;
      yield { sheet, first, rows: part, share: sent / total };
    }
  }
}

/** Puts the parts together again. */
export class BookParts {
  private readonly rows: (readonly (BookCell | undefined)[] | undefined)[][];

  constructor(private readonly frame: Book) {
    this.rows = frame.sheets.map(() => []);
  }

  add({ sheet, first, rows }: RowsPart): void {
    const known = this.rows[sheet];
    // Rows without anything stay places without anything.
    rows.forEach((row, i) => row && known && (known[first + i] = row));
  }

  whole(): Book {
    return {
      ...this.frame,
      sheets: this.frame.sheets.map((sheet, i) => ({ ...sheet, rows: this.rows[i] ?? [] })),
    };
  }
}
