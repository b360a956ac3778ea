/** What is odd about a gap that was read. May import: datedFraction.ts, trialLog.ts, unitConversion.ts, wording.ts, bank/. */
import { STANDARD_BALL_DIAMETER } from "../bank/bend";
import { asRead } from "../bank/ruler";
import { dateMend } from "./datedFraction";
import type { LogColumn } from "./trialLog";
import { convertUnit, kindOfUnit } from "./unitConversion";
import { withUnit } from "./wording";

/** Half a division of the coarsest ruler that is of use, in m: a straight ball may be read a little beyond its radius. */
const COARSE = 0.0254 / 16;

/**
 * What is odd about a gap, in a sentence that follows the cell's address, and whether it can be a reading at all.
 * @param index of the log's row
 * @param ballDiameter in m
 * @returns undefined for a sound gap or a blank
 */
export function gapDoubt({ readings, heading }: LogColumn, index: number, ballDiameter = STANDARD_BALL_DIAMETER.mm / 1000): { readonly text: string; readonly out: boolean } | undefined {
  const reading = readings[index];
  if (reading.kind === "blank") return undefined;
  if (reading.kind === "date") return { text: `${dateMend(reading.value)}.`, out: true };
  if (reading.kind === "word") return { text: `"${reading.text}" is no length.`, out: true };
  if (reading.kind === "unusable") return { text: `${reading.reason}.`, out: true };
  const unit = heading.unit || "in";
  if (kindOfUnit(unit) !== "length") return undefined;
  const gap = convertUnit(reading.value, unit, "m");
  const said = withUnit(unit === "in" ? asRead(reading.value) : String(reading.value), unit);
  if (Math.abs(gap) > ballDiameter) return { text: `${said} is more than a ball's diameter. Is a point missing, or another unit meant?`, out: true };
  if (gap > ballDiameter / 2 + COARSE) return { text: `${said} is more than a ball's radius: a straight ball passes there without touching, so it asks for no bend.`, out: true };
  if (gap < 0) return { text: `${said} is past the near mark, a bend of more than a ball's radius. That is rare; it counts.`, out: false };
  return undefined;
}
