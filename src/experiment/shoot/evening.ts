/** Which session an attempt belongs to: the last row's, until a new evening begins. */
import { dayOfSerial, serialOfIso } from "../../workbook/cellText";
import { levelOf, numberOf } from "../log/reading";
import { readingAt, type LogColumn } from "../log/logColumns";
import type { ShootForm } from "./shootForm";
import type { ShootLog } from "./shootLog";

/** The serial number of a day, by this machine's clock. */
export function dayOf(now: Date): number {
  const two = (value: number) => String(value).padStart(2, "0");
  return serialOfIso(`${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`) ?? NaN;
}

export interface Evening {
  /** Label of the session that the next attempt goes into; "" where the log has none. */
  readonly session: string;
  /** Set when it has to be asked whether this is a new session. */
  readonly asks?: { readonly lastDay: string; readonly before: string; readonly next: string };
}

/** @param today serial number of the day */
export function eveningOf(shoot: ShootLog, { evening }: Pick<ShootForm, "evening">, today: number): Evening {
  const { log, shot, session, date, open, settings } = shoot;
  const planned = settings.find((one) => one.planned && one.column === session);
  if (planned) return { session: planned.text };
  const last = shot.at(-1);
  const before = session && last !== undefined ? levelOf(readingAt(session, last)).trim() : "";
  if (evening?.day === today) return { session: session ? evening.session : "" };
  if (last === undefined) return { session: session ? nextLabel("", []) : "" };
  const day = date ? dayAt(date, last) : NaN;
  if (!(day < today) || open.index !== undefined) return { session: before };
  const used = session ? log.rows.map((_, index) => levelOf(readingAt(session, index)).trim()) : [];
  return {
    session: before,
    ...(session && { asks: { lastDay: dayOfSerial(day), before, next: nextLabel(before, used) } }),
  };
}

/** The day of a row, as a serial number; NaN where it names none. */
export function dayAt(date: LogColumn, index: number): number {
  const reading = readingAt(date, index);
  const day = reading.kind === "word" ? (serialOfIso(reading.text) ?? NaN) : numberOf(reading);
  return Math.floor(day);
}

/** The label after a session's, which no session has yet. @example nextLabel("S8", ["S8"]) === "S9" */
export function nextLabel(before: string, used: readonly string[]): string {
  const [, start = "", digits] = /^(.*?)(\d+)$/.exec(before) ?? [];
  const lead = digits === undefined ? (before === "" ? "S" : `${before} `) : start;
  const taken = new Set(used);
  for (let number = digits === undefined ? (before === "" ? 1 : 2) : Number(digits) + 1; ; number++)
    if (!taken.has(`${lead}${number}`)) return `${lead}${number}`;
}
