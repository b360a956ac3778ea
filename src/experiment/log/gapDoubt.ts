/**
 * What is odd about a gap that was read.
 */
import { say, type Said } from "../language/said";
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import { asRead } from "../../bank/ruler";
import { dateMend } from "./datedFraction";
import { readingAt, type LogColumn } from "./logColumns";
import { convertUnit, kindOfUnit } from "../language/unitConversion";
import { withUnit } from "../language/wording";

/** Half a division of the coarsest useful ruler, in m: a straight ball may be read a little beyond its radius. */
const COARSE = 0.0254 / 16;

export interface GapDoubt {
  readonly text: Said;
  /** It cannot be a reading at all. */
  readonly out: boolean;
}

/**
 * What is odd about a gap, in a sentence that follows the cell's address.
 * @param index of the log's row
 * @param ballDiameter in m
 * @returns undefined for a sound gap or a blank
 */
export function gapDoubt(
  column: Pick<LogColumn, "readings" | "heading">,
  index: number,
  ballDiameter = STANDARD_BALL_DIAMETER.mm / 1000,
): GapDoubt | undefined {
  const impossible = (text: Said): GapDoubt => ({ text, out: true });
  const reading = readingAt(column, index);
  if (reading.kind === "blank") return undefined;
  if (reading.kind === "date") return impossible(say`${dateMend(reading.value)}.`);
  if (reading.kind === "word") return impossible(`"${reading.text}" is no length.`);
  if (reading.kind === "unusable") return impossible(`${reading.reason}.`);
  const unit = column.heading.unit || "in";
  if (kindOfUnit(unit) !== "length") return undefined;
  const gap = convertUnit(reading.value, unit, "m");
  const said = withUnit(unit === "in" ? asRead(reading.value) : String(reading.value), unit);
  if (Math.abs(gap) > ballDiameter) {
    return impossible(say`${said} is more than a ball's diameter. Is a point missing, or another unit meant?`);
  }
  if (gap > ballDiameter / 2 + COARSE) {
    const why = "a straight ball passes there without touching, so it asks for no bend";
    return impossible(say`${said} is more than a ball's radius: ${why}.`);
  }
  const rare = say`${said} is past the near mark, a bend of more than a ball's radius. That is rare; it counts.`;
  return gap < 0 ? { text: rare, out: false } : undefined;
}
