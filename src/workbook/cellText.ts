/** Numbers and dates as cells write them. */

/**
 * Text that is plainly a number: "8.5", " 8.5 ", "1e-3", "45 %" (0.45).
 * @returns undefined when it is not
 * @example plainNumber(" 45 % ") === 0.45
 */
export function plainNumber(text: string): number | undefined {
  const match = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*(%?)\s*$/i.exec(text.replace(/\u2212/g, "-"));
  if (!match) return undefined;
  return match[2] ? Number(`${match[1]}e-2`) : Number(match[1]);
}

/** True when a number format code shows a date or a time. @example isDateFormat("d-mmm") === true */
export function isDateFormat(format: string): boolean {
  // A sheet has few formats and many cells.
  let known = dateFormats.get(format);
  if (known === undefined) dateFormats.set(format, (known = showsDate(format)));
  return known;
}

const dateFormats = new Map<string, boolean>();

function showsDate(format: string): boolean {
  const codes = format
    .replace(/;.*/s, "")
    .replace(/"[^"]*"|\\.|_.|\*./g, "")
    .replace(/\[(?!h+\]|m+\]|s+\])[^\]]*\]/gi, "");
  return !/^(general|@|standard)$/i.test(codes.trim()) && /[dmyhs]/i.test(codes);
}

/**
 * A day, or a moment, as ISO 8601 writes it, as a spreadsheet's serial number.
 * @returns undefined for anything else, and for a day that no calendar has
 * @example serialOfIso("2026-01-08") === 46030
 */
export function serialOfIso(text: string): number | undefined {
  const match = /^\s*(\d{4}-\d{2}-\d{2})(?:[T ](\d{2}):(\d{2})(?::(\d{2}))?)?\s*$/.exec(text);
  if (!match) return undefined;
  const [, day, hours = "0", minutes = "0", seconds = "0"] = match;
  const time = Date.parse(`${day}T00:00:00Z`);
  if (
    Number.isNaN(time) ||
    new Date(time).toISOString().slice(0, 10) !== day ||
    Number(hours) > 23 ||
    Number(minutes) > 59 ||
    Number(seconds) > 59
  )
    return undefined;
  return 25569 + time / 86400000 + (Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds)) / 86400;
}

/** The calendar day of a spreadsheet's serial number. @example dayOfSerial(46030) === "2026-01-08" */
export function dayOfSerial(serial: number): string {
  const whole = Math.floor(serial);
  const known = DAYS.get(whole);
  if (known !== undefined) return known;
  const day = new Date((whole - 25569) * 86400000);
  if (Number.isNaN(day.getTime())) return String(serial);
  const text = day.toISOString().slice(0, 10);
  if (DAYS.size < MOST_DAYS) DAYS.set(whole, text);
  return text;
}

/** Days that were written before: a log has a few, each many times. */
const DAYS = new Map<number, string>();
const MOST_DAYS = 4096;
