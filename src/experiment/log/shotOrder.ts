/** What says in which order shots were taken: a trial number, or the time. */
import { numberOf, type Reading } from "./reading";
import type { LogColumn } from "./logColumns";

const CLOCK = /^(\d{1,2})[:.h](\d{2})(?::(\d{2}))?\s*([ap])?\.?(?:m\.?)?$/i;

/**
 * Where in the order a reading stands: its number, its moment in days, or a time of day as a share of one; NaN for
 * anything else.
 * @example placeInOrder({ kind: "word", text: "6:00 pm" }) === 0.75
 */
export function placeInOrder(reading: Reading): number {
  const [, hour, minute, second, half] = (reading.kind === "word" && CLOCK.exec(reading.text)) || [];
  if (hour === undefined) return numberOf(reading);
  const noon = half === undefined ? Number(hour) : (Number(hour) % 12) + (half.toLowerCase() === "p" ? 12 : 0);
  return (noon + Number(minute) / 60 + Number(second ?? 0) / 3600) / 24;
}

/** Whether a column holds times of day, as words: shots taken in the same minute are no session. */
export function isClock({ kind, readings }: Pick<LogColumn, "kind" | "readings">): boolean {
  return (
    kind === "category" &&
    readings.every((one) => one.kind === "blank" || (one.kind === "word" && CLOCK.test(one.text)))
  );
}

/** Whether a column tells shots apart that are alike in all else: a count or a clock, and no mere day. */
export function countsShots(column: Pick<LogColumn, "kind" | "meaning" | "readings">): boolean {
  const { kind, meaning, readings } = column;
  if (meaning === "trial") return kind !== "empty";
  return meaning === "date" && (isClock(column) || readings.some((one) => numberOf(one) % 1 > 0));
}
