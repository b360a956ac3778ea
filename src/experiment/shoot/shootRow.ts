/** What a press writes into the row of an attempt. */
import { evidenceOf } from "../log/outcomeWords";
import { outcomeOf, type Outcome } from "../log/outcome";
import { levelOf, numberOf } from "../log/reading";
import { readingAt, type LogColumn } from "../log/logColumns";
import type { PlacedCell } from "../../workbook/port";
import { dayOfSerial } from "../../workbook/cellText";
import { formatOf, typedSetting, type NoShooting, type KeptSetting, type ShootLog } from "./shootLog";

export interface Press extends ShotCells {
  readonly outcome: Outcome;
}

/** What is known of a shot beside its log. */
export interface ShotCells {
  /** Not written while it is missing. */
  readonly outcome?: Outcome;
  /** The gap that is set, in the log's unit. */
  readonly gap: number;
  readonly session: string;
  /** Serial number of the day. */
  readonly today: number;
  /** What changed since the last row, as typed, by heading. */
  readonly changed: Readonly<Record<string, string>>;
}

/** The cells of the attempt's row, or what has to be mended first. */
export function pressCells(shoot: ShootLog, press: ShotCells): readonly PlacedCell[] | NoShooting {
  const { log, places, ballDiameter, session, date, settings } = shoot;
  const position = places.position.as === "gap" ? press.gap : ballDiameter / 2 - press.gap;
  const cells: PlacedCell[] = [
    {
      column: places.position.column.column,
      value: position,
      ...gapFormat(shoot),
      optional: isPlanned(shoot, places.position.column),
    },
    ...(press.outcome ? [{ column: places.outcome.column, value: wordFor(shoot, press.outcome) }] : []),
  ];
  const trial = log.columns.find(({ meaning }) => meaning === "trial");
  if (trial) cells.push(...numbered(shoot, trial));
  const attempt = log.columns.find(({ heading }) => /^attempt( ?(no\.?|number|#))?$/i.test(heading.name));
  if (attempt) cells.push({ column: attempt.column, value: attemptNumber(shoot, press), optional: true });
  if (date) cells.push({ column: date.column, optional: true, ...dayCell(shoot, date, press.today) });
  for (const setting of settings) {
    if (setting.planned) continue;
    const cell = setting.column === session ? sessionCell(setting, press.session) : settingCell(setting, press.changed);
    if (cell && "problem" in cell) return cell;
    if (cell) cells.push({ ...cell, optional: true });
  }
  return cells;
}

function isPlanned({ open }: ShootLog, column: LogColumn): boolean {
  return open.index !== undefined && readingAt(column, open.index).kind !== "blank";
}

/** The format of the gap above, or fractions where inches are read off a ruler. */
function gapFormat({ data, log, shot, places, unit, open }: ShootLog): { format?: string } {
  const { column } = places.position.column;
  if (formatOf(data, open.row, column) !== "General") return {};
  const last = log.rows[shot.at(-1) ?? NaN];
  const above = last === undefined ? "General" : formatOf(data, last, column);
  if (above !== "General") return { format: above };
  return unit === "in" && last === undefined ? { format: "# ??/??" } : {};
}

/** The word that the log has for an outcome, as it spells it most; else the plain one. */
function wordFor({ places, shot }: ShootLog, outcome: Outcome): string {
  const counts = new Map<string, number>();
  for (const index of shot) {
    const reading = readingAt(places.outcome, index);
    const evidence = evidenceOf(reading, true);
    const means = outcomeOf(reading) ?? ("says" in evidence && evidence.says === "hit" ? "hit obstacle" : undefined);
    if (means === outcome) counts.set(levelOf(reading), (counts.get(levelOf(reading)) ?? 0) + 1);
  }
  const [most] = [...counts].sort((a, b) => b[1] - a[1]);
  return most?.[0] ?? outcome;
}

/** The number after the largest, where the column counts. */
function numbered({ shot }: ShootLog, trial: LogColumn): PlacedCell[] {
  const numbers = trial.readings.map(numberOf).filter(Number.isFinite);
  if (shot.length > 0 && numbers.length === 0) return [];
  return [{ column: trial.column, value: 1 + numbers.reduce((most, one) => Math.max(most, one), 0), optional: true }];
}

/** Which attempt it is at that place in this session, from 1. */
function attemptNumber({ places, shot, session, ballDiameter }: ShootLog, { gap, session: label }: ShotCells): number {
  const position = places.position.as === "gap" ? gap : ballDiameter / 2 - gap;
  const before = shot.filter(
    (index) =>
      Math.abs(numberOf(readingAt(places.position.column, index)) - position) < 1e-9 &&
      (!session || levelOf(readingAt(session, index)).trim() === label),
  );
  return before.length + 1;
}

function dayCell(
  { data, log, shot }: ShootLog,
  date: LogColumn,
  today: number,
): { value: number | string; format?: string } {
  if (date.kind === "category") return { value: dayOfSerial(today) };
  const last = log.rows[shot.at(-1) ?? NaN];
  const above = last === undefined ? "General" : formatOf(data, last, date.column);
  return { value: today, format: above === "General" ? "yyyy-mm-dd" : above };
}

type Made = Pick<PlacedCell, "column" | "value" | "format">;

function sessionCell({ column, value }: KeptSetting, label: string): Made | NoShooting | undefined {
  return label === ""
    ? undefined
    : { column: column.column, value: typeof value === "number" ? asNumber(label) : label };
}

function asNumber(label: string): number | string {
  return Number.isFinite(Number(label)) ? Number(label) : label;
}

function settingCell(
  { column, value, format, text }: KeptSetting,
  changed: Readonly<Record<string, string>>,
): Made | NoShooting | undefined {
  const look = format === "General" ? {} : { format };
  const typed = changed[column.heading.text];
  if (typed !== undefined && typed.trim() !== text) {
    if (typed.trim() === "") return undefined;
    const read = typedSetting(column, typed, format);
    return "problem" in read ? read : { column: column.column, value: read.value, ...look };
  }
  return typeof value === "number" || typeof value === "string" ? { column: column.column, value, ...look } : undefined;
}
