/**
 * In place of "numfmt" within the grid library, which asks of every text in sight, each time it draws, whether it reads
 * as a date, a time or a number: half of each drawing went into that. Nearly all read as none of them, and that is
 * remembered. What reads as one is read anew, since a date without a year is of the year in which it is read.
 */
import * as numfmt from "../node_modules/numfmt/lib/index.js";

export * from "../node_modules/numfmt/lib/index.js";

/** More texts than a screen shows many times over; then it begins anew. */
const MOST = 20_000;

export const parseDate = remembering(numfmt.parseDate);
export const parseTime = remembering(numfmt.parseTime);
export const parseNumber = remembering(numfmt.parseNumber);

/** The same reader, which gives null to what it cannot read. */
function remembering(read) {
  const unread = new Set();
  return (text, ...options) => {
    if (typeof text !== "string" || options.length > 0) return read(text, ...options);
    if (unread.has(text)) return null;
    const found = read(text);
    if (found === null) {
      if (unread.size >= MOST) unread.clear();
      unread.add(text);
    }
    return found;
  };
}
