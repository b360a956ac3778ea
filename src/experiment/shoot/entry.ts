/** One shot typed beside the sheet: the row that it goes into, what stays as it was, what is wrong with a gap. */
import type { Said } from "../language/said";
import { attemptPlaces } from "../log/attemptLog";
import { readingAt, type LogColumn } from "../log/logColumns";
import type { TrialLog } from "../log/trialLog";
import type { SheetData } from "../../workbook/port";
import { gapProblem, readLength } from "./shootNow";
import { shootLog, settingsOf, type ShootLog } from "./shootLog";

/**
 * The log with the row of the next gap open: unlike an attempt at an obstacle, a shot is there once its gap is.
 * @param next where the next gap goes, sheet row and column from 0
 * @param ball diameter in m
 * @returns undefined for a log that has no place for it
 */
export function entryLog(
  log: TrialLog,
  data: SheetData,
  next: { readonly row: number; readonly column: number },
  ball: number,
): ShootLog | undefined {
  const gap = log.columns.find(({ column }) => column === next.column);
  const places = attemptPlaces(log);
  const shoot = shootLog(log, data, ball);
  if (!gap || !places || !shoot || "problem" in shoot) return undefined;
  const shot = log.rows.flatMap((_, index) => (readingAt(gap, index).kind === "blank" ? [] : [index]));
  const index = log.rows.indexOf(next.row);
  const open = { row: next.row, index: index < 0 ? undefined : index, hidden: data.hiddenRows.includes(next.row) };
  const own = { ...places, position: { as: "gap" as const, column: gap } };
  return { ...shoot, places: own, shot, open, settings: settingsOf(log, data, own, shot, open) };
}

/** A gap as typed, in the log's unit, or what is wrong with it, in a sentence. */
export function typedGap(
  entry: ShootLog,
  text: string,
): { readonly gap: number; readonly doubt?: Said } | { readonly problem: Said } {
  const { heading }: LogColumn = entry.places.position.column;
  const read = readLength(text.trim(), entry.unit);
  if (typeof read !== "number")
    return { problem: `${heading.text}: "${text.trim()}" ${read.why}. Give a gap such as ${example(entry)}.` };
  const doubt = gapProblem(entry, read);
  if (doubt?.out) return { problem: doubt.text };
  return { gap: read, ...(doubt && { doubt: doubt.text }) };
}

const example = ({ unit }: ShootLog) => (unit === "in" ? "5/16 or 0.3125 in" : unit === "mm" ? "8 mm" : "0.8 cm");
