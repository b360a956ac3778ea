/**
 * Ruler readings: fractions of an inch as people write them, to decimals and back.
 */

/** Why a text is no ruler reading; `why` completes the sentence "the text … ". */
export interface UnreadableLength {
  readonly why: string;
}

/** How many of each unit of length that a reading may carry make an inch; exact. */
export const PER_INCH: Readonly<Record<string, number>> = { in: 1, mm: 25.4, cm: 2.54 };

/**
 * Reads a length as people write it on a score sheet and gives decimal inches.
 * Understands 1 1/8, 1-1/8, 1⅛, 9/16, 1.125, each with a sign before and `"`, in, inch, inches, mm or cm behind.
 * A note in brackets at the end, as rulerFraction writes it, is passed over.
 * @returns inches, or why the text cannot be read
 * @example parseInches("1-1/8") === 1.125
 */
export function parseInches(text: string): number | UnreadableLength {
  const plain = text
    .replace(/\s*\([^)]*\)\s*$/, "")
    .replace(/[\u00bc-\u00be\u2150-\u215e\u2189]/g, (character) => ` ${character.normalize("NFKC")}`)
    .normalize("NFKC")
    .replace(/[\u2044\u2215]/g, "/")
    .replace(/[\u2010-\u2015\u2212]/g, "-")
    .replace(/[\u2033\u201d\u201c]|''|\u2032\u2032|\u2019\u2019/g, '"')
    .trim();
  if (plain === "") return { why: "is blank" };
  const [, sign, digits, unit = "in"] = /^([+-]?)\s*(.*?)\s*(?:("|in\.?|inch|inches|mm|cm))?$/i.exec(plain) ?? [];
  if (digits === undefined) return { why: "is no length" };
  const size = parseUnsigned(digits);
  if (typeof size !== "number") return size;
  const inches = size / (PER_INCH[unit.toLowerCase()] ?? 1);
  return sign === "-" ? -inches : inches;
}

function parseUnsigned(text: string): number | UnreadableLength {
  if (/^(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text))
    return Number.isFinite(Number(text)) ? Number(text) : { why: "is too large for a number" };
  if (/^\d+,\d+$/.test(text))
    return { why: "has a comma, which may be a decimal sign or a thousands sign: write a point" };
  const match = /^(?:(\d+)\s*[\s-]\s*)?(\d+)\s*\/\s*(\d+)$/.exec(text);
  if (!match) return { why: "is no number and no fraction" };
  const numerator = Number(match[2]);
  const denominator = Number(match[3]);
  if (denominator === 0) return { why: "has 0 below the line" };
  if (match[1] === undefined) return numerator / denominator;
  if (numerator >= denominator)
    return { why: `has a whole number and a fraction of one or more (${numerator}/${denominator})` };
  return Number(match[1]) + numerator / denominator;
}

/**
 * A decimal length as the nearest fraction on a ruler, in lowest terms, with the rounding named.
 * Halfway goes away from zero. Unit in is unit out.
 * @param denominator divisions per unit on the ruler, a whole number from 1
 * @example rulerFraction(1.125, 16) === "1 1/8"
 * @example rulerFraction(1.13, 16) === "1 1/8 (rounded down 0.005 to 1/16)"
 */
export function rulerFraction(value: number, denominator: number): string {
  const size = Math.abs(value);
  // The whole part is taken off first: times the denominator, a huge value would be no number any more.
  const below = Math.floor(size);
  const divisions = Math.round((size - below) * denominator);
  const whole = divisions === denominator ? below + 1 : below;
  const numerator = divisions === denominator ? 0 : divisions;
  const divisor = greatestCommonDivisor(numerator, denominator);
  const fraction = numerator === 0 ? "" : `${numerator / divisor}/${denominator / divisor}`;
  const sign = value < 0 && (whole > 0 || numerator > 0) ? "-" : "";
  const text = sign + (fraction === "" ? `${whole}` : whole === 0 ? fraction : `${whole} ${fraction}`);
  const off = whole + numerator / denominator - size;
  if (Math.abs(off) <= 1e-12 * Math.max(1, size)) return text;
  const direction = off > 0 === value > 0 ? "up" : "down";
  return `${text} (rounded ${direction} ${Number(Math.abs(off).toPrecision(2))} to 1/${denominator})`;
}

/** The finest division of a ruler that this program takes a reading for. */
const FINEST = 64;

/**
 * A length as it was read: a fraction where it is one of a ruler (down to 1/64), otherwise decimals. Nothing is rounded
 * to a ruler that the reader does not have. Unit in is unit out.
 * @example asRead(5 / 32) === "5/32"
 * @example asRead(0.3) === "0.3"
 */
export function asRead(value: number): string {
  const onRuler = Math.abs(value * FINEST - Math.round(value * FINEST)) < 1e-6;
  return onRuler ? rulerFraction(Math.round(value * FINEST) / FINEST, FINEST) : String(Number(value.toPrecision(5)));
}

function greatestCommonDivisor(a: number, b: number): number {
  for (; a !== 0; [a, b] = [b % a, a]);
  return b;
}
