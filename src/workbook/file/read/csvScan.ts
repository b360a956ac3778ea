/**
 * Takes comma-separated bytes apart, without making text of them: the signs that part fields and records are one byte
 * each in every form of text that comes here.
 */

const QUOTE = 0x22;
const LINE_FEED = 0x0a;
const RETURN = 0x0d;
const SPACE = 0x20;

export interface CsvForm {
  /** Where the text begins, behind its mark. */
  readonly start: number;
  /** The byte that parts fields. */
  readonly delimiter: number;
}

/** A quote that is not closed as it should be, in the record of that number, from 1. */
export class OpenQuote extends Error {
  constructor(readonly record: number) {
    super(`The quote in record ${record} is not closed.`);
  }
}

/** Hears of a field that holds something: record and column from 0, its bytes, and whether quotes in it stand twice. */
export type FieldVisitor = (record: number, column: number, from: number, to: number, doubled: boolean) => void;

/**
 * Visits the fields that hold something. Lines may end in any way; a quote opens a field only at its beginning, and
 * line ends between quotes are text.
 * @returns how many records there are
 * @throws OpenQuote
 */
export function scanFields(bytes: Uint8Array, { start, delimiter }: CsvForm, visit: FieldVisitor): number {
  const end = bytes.length;
  let record = 0;
  let column = 0;
  for (let at = start; at < end; at++) {
    if (bytes[at] === QUOTE) {
      const { to, doubled } = closingQuote(bytes, at + 1, record);
      if (to > at + 1) visit(record, column, at + 1, to, doubled);
      at = to + 1;
      while (bytes[at] === SPACE) at++;
      if (at < end && bytes[at] !== delimiter && bytes[at] !== LINE_FEED && bytes[at] !== RETURN)
        throw new OpenQuote(record + 1);
    } else {
      let to = at;
      for (; to < end; to++) {
        const byte = bytes[to];
        if (byte === delimiter || byte === LINE_FEED || byte === RETURN) break;
      }
      if (to > at) visit(record, column, at, to, false);
      at = to;
    }
    if (bytes[at] === delimiter) column++;
    else {
      if (bytes[at] === RETURN && bytes[at + 1] === LINE_FEED) at++;
      record++;
      column = 0;
    }
  }
  return column > 0 ? record + 1 : record;
}

/** The quote that ends a field, and whether quotes stand twice before it. @throws OpenQuote */
function closingQuote(bytes: Uint8Array, from: number, record: number): { to: number; doubled: boolean } {
  let doubled = false;
  for (let to = bytes.indexOf(QUOTE, from); to >= 0; to = bytes.indexOf(QUOTE, to + 2)) {
    if (bytes[to + 1] !== QUOTE) return { to, doubled };
    doubled = true;
  }
  throw new OpenQuote(record + 1);
}
