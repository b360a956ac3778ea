/**
 * What one cell of a log says: a number, a word, nothing, or something that cannot be used, and then why.
 */
import { parseInches, PER_INCH } from "../../bank/ruler";
import { isCellError, type CellValue } from "../../workbook/book";
import { dayOfSerial, isDateFormat, plainNumber, serialOfIso } from "../../workbook/cellText";

export type Reading =
  /** `said`: the cell's own words, where they name another unit than the heading. */
  | { readonly kind: "number"; readonly value: number; readonly said?: string }
  | { readonly kind: "date"; readonly value: number }
  | { readonly kind: "word"; readonly text: string }
  | { readonly kind: "blank" }
  | { readonly kind: "unusable"; readonly reason: string };

/**
 * Reads a cell.
 * @param value as the port gives it
 * @param format number format code; tells dates and percentages
 * @param unit the heading's unit: in a column of %, 45, 45 % and the text "45 %" all read as 45
 * @example readCell("1 1/8", "General", "in") // { kind: "number", value: 1.125 }
 */
export function readCell(value: CellValue, format: string, unit: string): Reading {
  const reading = asSaid(value, format, unit);
  if (reading.kind !== "number" || Math.abs(reading.value) <= LARGEST.value) return reading;
  return {
    kind: "unusable",
    reason: `${typeof value === "string" ? `"${value}"` : reading.value}, beyond any measurement`,
  };
}

/**
 * Powers of it are still numbers, as a curve needs them. It is a reading itself, made before all others, because V8
 * gives objects a field for small whole numbers until the first other one comes, and then turns each of them into
 * another form when it is read next, at a microsecond each: half a second for a column that counts 500,000 trials.
 */
const LARGEST = { kind: "number", value: 1e30 } as const;

function asSaid(value: CellValue, format: string, unit: string): Reading {
  if (value === null) return { kind: "blank" };
  if (isCellError(value))
    return { kind: "unusable", reason: `the error ${value.error}${value.message ? ` (${value.message})` : ""}` };
  if (typeof value === "boolean") return { kind: "word", text: value ? "TRUE" : "FALSE" };
  if (typeof value === "string") return readText(value.replace(/\s+/g, " ").trim(), unit);
  if (!Number.isFinite(value)) return { kind: "unusable", reason: `${value}, which is no number that can be used` };
  if (isDateFormat(format)) return { kind: "date", value };
  return { kind: "number", value: unit === "%" && format.includes("%") ? percentPoints(value) : value };
}

function readText(text: string, unit: string): Reading {
  if (text === "") return { kind: "blank" };
  if (/^#(N\/A|VALUE!|REF!|DIV\/0!|NUM!|NAME\?|NULL!|ERROR!)$/i.test(text))
    return { kind: "unusable", reason: `the error ${text.toUpperCase()}` };
  const day = serialOfIso(text);
  if (day !== undefined) return { kind: "date", value: day };
  const number = plainNumber(withoutUnit(text, unit));
  if (number !== undefined) return { kind: "number", value: number };
  const share = plainNumber(text);
  if (share !== undefined) return { kind: "number", value: share };
  const inches = parseInches(text);
  if (typeof inches !== "number")
    return /^\d+,\d+$/.test(text)
      ? { kind: "unusable", reason: `"${text}", which ${inches.why}` }
      : { kind: "word", text };
  const saysUnit = /(mm|cm|in\.?|inch|inches|["″”]|'')\s*$/i.test(text);
  if (saysUnit && unit !== "" && !(unit in PER_INCH))
    return { kind: "unusable", reason: `"${text}", a length in a column of ${unit}` };
  if (/(mm|cm)\s*$/i.test(text) && unit === "")
    return { kind: "unusable", reason: `"${text}", which names a unit that the heading does not` };
  if (!saysUnit && unit in PER_INCH && unit !== "in")
    return { kind: "unusable", reason: `"${text}", a fraction of an inch in a column of ${unit}` };
  const value = saysUnit ? inches * (PER_INCH[unit] ?? 1) : inches;
  const own = /(mm|cm)\s*$/i.exec(text)?.[1]?.toLowerCase() ?? "in";
  return saysUnit && unit !== "" && own !== unit ? { kind: "number", value, said: text } : { kind: "number", value };
}

/** "12 mph" in a column of mph, "45 %" in a column of %. */
function withoutUnit(text: string, unit: string): string {
  return unit !== "" && text.toLowerCase().endsWith(unit.toLowerCase()) ? text.slice(0, -unit.length) : text;
}

/** 0.45 → 45 without the rounding of a product (0.07 × 100 is not 7 in doubles). */
function percentPoints(share: number): number {
  return Number((share * 100).toPrecision(15));
}

/** The number that a reading stands for, a date as its serial day; NaN for anything else. */
export function numberOf(reading: Reading): number {
  return reading.kind === "number" || reading.kind === "date" ? reading.value : NaN;
}

/** The level that a reading stands for when its column is a category. */
export function levelOf(reading: Reading): string {
  if (reading.kind === "word") return reading.text;
  if (reading.kind === "number") return String(reading.value);
  return reading.kind === "date" ? dayOfSerial(reading.value) : "";
}
