/**
 * Ruler fractions in cells: as a person types them, and as a cell shows what it holds.
 */
import { rulerFraction } from "../../../bank/ruler";

/** A number with the format that shows it as a fraction. */
export interface TypedFraction {
  readonly value: number;
  readonly format: string;
}

/**
 * "0 1/8" or "1 3/16" as a number with a fraction format, as Excel takes it; undefined for anything else. A bare 1/8 is
 * a date in every spreadsheet and stays one, unless the cell shows fractions already.
 * @example mixedFraction("1 1/8") // { value: 1.125, format: "# ?/?" }
 */
export function mixedFraction(text: string): TypedFraction | undefined {
  return fractionOf(/^\s*([+-]?)(\d{1,9})\s+(\d{1,5})\/([1-9]\d{0,4})\s*$/.exec(text));
}

/**
 * "5/16" as a number with a fraction format; undefined for anything else.
 * @example bareFraction("5/16")?.value === 0.3125
 */
export function bareFraction(text: string): TypedFraction | undefined {
  return fractionOf(/^\s*([+-]?)()(\d{1,5})\/([1-9]\d{0,4})\s*$/.exec(text));
}

function fractionOf(match: RegExpExecArray | null): TypedFraction | undefined {
  const [, sign, whole, over, under] = match ?? [];
  if (under === undefined) return undefined;
  const size = Number(whole) + Number(over) / Number(under);
  return { value: sign === "-" ? -size : size, format: under.length > 1 ? "# ??/??" : "# ?/?" };
}

/**
 * Whether a number format code shows fractions, such as "# ??/16".
 * @example isFractionFormat("yyyy/mm/dd") === false
 */
export function isFractionFormat(format: string): boolean {
  const codes = format.replace(/;.*/s, "").replace(/"[^"]*"|\\.|\[[^\]]*\]/g, "");
  return /[#?0]\s*\/\s*[#?\d]/.test(codes) && !/[dmyhs]/i.test(codes);
}

/** The finest part of an inch that rulers and films are read to. */
const FINEST = 64;

/**
 * What a cell with a fraction format shows: the format's own text where that is just what is stored, in lowest terms;
 * otherwise the stored value, as a ruler's fraction or as a decimal. A format never hides what is stored.
 * @param formatted the value as its format writes it
 * @example shownFraction(0.375, "6/16") === "3/8"
 * @example shownFraction(1 / 32, "1/16") === "1/32"
 * @example shownFraction(0.3, "5/16") === "0.3"
 */
export function shownFraction(value: number, formatted: string): string {
  const text = formatted.trim();
  const under = Number(/\/\s*(\d+)$/.exec(text)?.[1] ?? 1);
  if (isWhole(value * under)) return inLowestTerms(value, under);
  return isWhole(value * FINEST) ? inLowestTerms(value, FINEST) : String(Number(value.toPrecision(12)));
}

function isWhole(value: number): boolean {
  return Math.abs(value - Math.round(value)) < 1e-9;
}

/** The value, which is so many parts of that size to within rounding, as a fraction. */
function inLowestTerms(value: number, under: number): string {
  return rulerFraction(Math.round(value * under) / under, under);
}
