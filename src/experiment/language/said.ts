/**
 * Text that carries its numbers and days whole. How they are written is settled where the text is shown or printed: no
 * sentence is taken apart again to put its numbers into a reader's language.
 */
import { listed } from "../../statistics/fit/listOfWords";
import { inLanguage } from "./locale";

/**
 * A number with the digits that are worth reading: so many decimals, or so many significant ones, with a power of ten
 * where `power` says so.
 */
export type Figured = { readonly value: number } & (
  | { readonly decimals: number }
  | { readonly digits: number; readonly power?: true }
);

/** A day in the calendar, "2026-05-02". */
export interface Day {
  readonly day: string;
}

type Piece = string | number | Figured | Day;

/** Words alone are a string, so that most texts need no thought. */
export type Said = string | Figured | Day | readonly Piece[];

/**
 * A text from its words and what stands among them.
 * @example toText(say`${{ value: 0.25, decimals: 2 }} in of ${"Gap 1.5"}`, "de") === "0,25 in of Gap 1.5"
 */
export function say(words: TemplateStringsArray, ...parts: readonly (Said | number)[]): Said {
  return joinTexts(words.flatMap((word, i) => (i === 0 ? [word] : [parts[i - 1] ?? "", word])));
}

/** Parts one after the other. @example joinTexts(["a", "b"], ", ") === "a, b" */
export function joinTexts(parts: readonly (Said | number)[], between = ""): Said {
  const pieces: Piece[] = [];
  parts.forEach((part, i) => {
    if (i > 0) add(pieces, between);
    if (isList(part)) for (const piece of part) add(pieces, piece);
    else add(pieces, part);
  });
  const [first = "", ...more] = pieces;
  return more.length === 0 && typeof first !== "number" ? first : pieces;
}

function isList(part: Said | number): part is readonly Piece[] {
  return Array.isArray(part);
}

/** Words are put together where they meet; a whole number is written alike everywhere. */
function add(pieces: Piece[], piece: Piece): void {
  const next = Number.isSafeInteger(piece) ? String(piece).replace("-", "−") : piece;
  const last = pieces[pieces.length - 1];
  if (typeof next === "string" && typeof last === "string") pieces[pieces.length - 1] = last + next;
  else if (next !== "") pieces.push(next);
}

/** "a", "a and b", "a, b and c" of texts that may carry numbers. */
export function listOf(parts: readonly string[], last?: "and" | "or"): string;
export function listOf(parts: readonly Said[], last?: "and" | "or"): Said;
export function listOf(parts: readonly Said[], last: "and" | "or" = "and"): Said {
  return joinTexts(listed<Said>(parts, last));
}

/**
 * The text as it is read.
 * @param language of its numbers and days; without one, as the panel and the command line write them: 0.25, 2026-05-02
 * @example toText(say`made ${{ day: "2026-05-02" }}`) === "made 2026-05-02"
 */
export function toText(text: Said | number, language?: string): string {
  return isList(text) ? text.map((piece) => written(piece, language)).join("") : written(text, language);
}

function written(piece: Piece, language: string | undefined): string {
  if (typeof piece === "string") return piece;
  if (typeof piece === "number") return inLanguage(String(piece).replaceAll("-", "−"), language);
  if ("day" in piece) return dayShown(piece.day, language);
  return inLanguage("decimals" in piece ? toDecimals(piece.value, piece.decimals) : toDigits(piece), language);
}

function dayShown(day: string, language: string | undefined): string {
  if (language === undefined || Number.isNaN(Date.parse(day))) return day;
  return new Intl.DateTimeFormat(language, { dateStyle: "medium", timeZone: "UTC" }).format(new Date(day));
}

/** Plain digits with a true minus sign; few digits of very large ones. */
function toDecimals(value: number, decimals: number): string {
  const text = Math.abs(value) >= 1e9 ? value.toPrecision(4) : value.toFixed(decimals);
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
}

function toDigits({ value, digits, power }: { value: number; digits: number; power?: true }): string {
  const rounded = Number(value.toPrecision(digits));
  return (power ? rounded.toExponential().replace("e+", "e") : String(rounded)).replaceAll("-", "−");
}

/** Whether two texts say the same, to the last digit that is shown. */
export const saysSame = (one: Said, other: Said): boolean => toText(one) === toText(other);

/** The text as a sentence begins. @example capital("ten points") === "Ten points" */
export function capital(text: string): string;
export function capital(text: Said): Said;
export function capital(text: Said): Said {
  return withFirst(text, (words) => words.charAt(0).toUpperCase() + words.slice(1));
}

/** The text as it goes on inside a sentence. @example uncapital("At 3 mph") === "at 3 mph" */
export function uncapital(text: Said): Said {
  return withFirst(text, (words) => words.charAt(0).toLowerCase() + words.slice(1));
}

function withFirst(text: Said, change: (words: string) => string): Said {
  if (typeof text === "string") return change(text);
  if (!isList(text)) return text;
  const [first, ...more] = text;
  return typeof first === "string" ? [change(first), ...more] : text;
}
