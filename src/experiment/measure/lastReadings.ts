/** The gap of the last shot in the log, every reading of it, as the form of a measurement takes them. */
import { asRead } from "../../bank/ruler";
import { convertUnit, kindOfUnit } from "../language/unitConversion";
import { numberOf } from "../log/reading";
import type { TrialLog } from "../log/trialLog";

export interface LastReadings {
  /** "5/16, 1/4" */
  readonly text: string;
  /** Row of the sheet, from 0. */
  readonly row: number;
}

/** Undefined where no row has a gap. */
export function lastReadings(log: TrialLog, units: "us" | "si"): LastReadings | undefined {
  const unit = units === "us" ? "in" : "mm";
  const all = log.columns.filter(({ meaning, heading }) => meaning === "gap" && kindOfUnit(heading.unit) === "length");
  // Readings of one gap are numbered; what it was set to is none.
  const numbered = all.filter(({ heading }) => /^gap \d+$/i.test(heading.name));
  const read = all.find(({ heading }) => /^gap\b/i.test(heading.name)) ?? all[0];
  const gaps = numbered.length > 1 ? numbered : read ? [read] : [];
  for (let index = log.rows.length - 1; index >= 0; index--) {
    const lengths = gaps.flatMap(({ readings, heading }) => {
      const reading = readings[index];
      const length = reading ? convertUnit(numberOf(reading), heading.unit, unit) : NaN;
      return Number.isFinite(length) ? [length] : [];
    });
    const row = log.rows[index];
    if (lengths.length > 0 && row !== undefined)
      return {
        row,
        text: lengths
          .map((length) => (unit === "in" ? asRead(length) : String(Number(length.toPrecision(4)))))
          .join(", "),
      };
  }
  return undefined;
}
