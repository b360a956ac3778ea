/** Lengths of a layout in words: where a tape is read, and how far something may be off. SI. */
import { say, type Said } from "../language/said";
import { asRead, rulerFraction } from "../../bank/ruler";
import { INCH } from "../../bank/units";
import { significant } from "../language/wording";

/**
 * Divisions of an inch that places are given to: half of one is less than the 1/32 in that a bend may usually be wrong
 * by.
 */
const TAPE_DIVISIONS = 32;

/**
 * Where a tape is read: a length in m in both units, the user's first; inches to the nearest 1/32, millimetres to the
 * nearest 1.
 * @example bothUnits(0.0254, "us") === "1 in (25 mm)"
 */
export function bothUnits(length: number, units: "us" | "si"): string {
  return inOrder(inchFraction(length, TAPE_DIVISIONS), `${Math.round(length * 1000)}`, units);
}

/**
 * What was chosen, or follows from it: a length in m in both units, the user's first, as a fraction where it is one of
 * a ruler, otherwise to five digits, and to 0.01 mm. A bend of 3/32 in must not be printed as 1/8.
 * @example bothExactly(0.015875, "us") === "5/8 in (15.88 mm)"
 */
export function bothExactly(length: number, units: "us" | "si"): string {
  return inOrder(asRead(length / INCH), String(Number((length * 1000).toFixed(2))), units);
}

function inOrder(inches: string, millimetres: string, units: "us" | "si"): string {
  return units === "us" ? `${inches} in (${millimetres} mm)` : `${millimetres} mm (${inches} in)`;
}

/**
 * The nearest fraction of an inch, without what was rounded away.
 * @example inchFraction(0.0254 * 1.13, 16) === "1 1/8"
 */
export function inchFraction(length: number, denominator: number): string {
  return rulerFraction(length / INCH, denominator).replace(/ \(.*$/, "");
}

/** A tolerance for reading: millimetres or 32nds, or that it hardly matters. */
export function toleranceWords(length: number, units: "us" | "si"): Said {
  if (!(length < 0.1)) return "hardly matters";
  return units === "us" ? say`${significant(length / INCH, 2)} in` : say`${significant(length * 1000, 2)} mm`;
}
