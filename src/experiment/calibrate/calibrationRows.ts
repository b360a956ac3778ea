/**
 * The user's rows as measured shots: which column holds what, in which unit, and which rows cannot be used and why.
 */
import { say, type Said, toText } from "../language/said";
import { there } from "../../there";
import { cellAddress } from "../../workbook/address";
import type { MeasuredShot } from "./calibration";
import { readAttempts } from "../attempts/attemptRows";
import { guessReach, questionOf } from "../attempts/reachChoice";
import { asksOfObstacle } from "../log/attemptLog";
import { readingAt } from "../log/logColumns";
import { levelOf, type Reading } from "../log/reading";
import { computeShot, motionAtCushion } from "../shot/computedShot";
import {
  AT_CUSHION,
  type AtCushion,
  boundsOf,
  conditionsOfShot,
  SETTING_KINDS,
  unitOf,
  type Quantity,
  type ShotSettings,
} from "../shot/shotSettings";
import { shownSetting } from "../shot/shotWords";
import type { LogColumn, TrialLog } from "../log/trialLog";
import type { Known } from "../../statistics/censored/censoredFit";
import { convertUnit, unitFactor } from "../language/unitConversion";

/** What a calibration reads from a row. Bend is needed; a setting without a column is as the sliders have it. */
export const PARTS = ["bend", ...AT_CUSHION, "deviation", "session"] as const;
export type Part = (typeof PARTS)[number];

/** Full heading text by part. */
export type PartColumns = Readonly<Partial<Record<Part, string>>>;

export const PART_LABELS: Readonly<Record<Part, string>> = {
  bend: "Measured bend",
  speed: "Speed",
  angle: "Angle",
  roll: "Roll",
  side: "Side",
  across: "Distance across",
  deviation: "Standard deviation of the bend",
  session: "Session",
};

const NAMES: Readonly<Record<Part, RegExp>> = {
  bend: /^(measured )?bend$/i,
  speed: /\bspeed\b|\bvelocity\b/i,
  angle: /\bangle\b/i,
  roll: /\broll\b/i,
  side: /\bside\b/i,
  across: /\bacross\b/i,
  deviation: /\bstandard (deviation|uncertainty)\b|\bdeviation\b/i,
  session: /\bsession\b/i,
};

/** The columns whose headings say what they hold. */
export function guessParts(log: TrialLog): PartColumns {
  const found: Partial<Record<Part, string>> = {};
  for (const part of PARTS) {
    const column = log.columns.find(
      ({ heading, kind }) =>
        NAMES[part].test(heading.name) &&
        !/^predicted\b/i.test(heading.name) &&
        (part === "session" ? kind !== "empty" : kind === "number"),
    );
    if (column && !Object.values(found).includes(column.heading.text)) found[part] = column.heading.text;
  }
  return found;
}

/** The kept columns as far as this table has them; where it lacks that of the bend, those that its headings suggest. */
export function fittingParts(log: TrialLog, kept: PartColumns | undefined): PartColumns {
  const here = (heading: string | undefined) =>
    heading !== undefined && log.columns.some((column) => column.heading.text === heading);
  if (!kept || !here(kept.bend)) return guessParts(log);
  return Object.fromEntries(PARTS.flatMap((part) => (here(kept[part]) ? [[part, kept[part]]] : [])));
}

/** The shot as it is at the cushion, for settings that have no column. */
export function atCushion(shot: ShotSettings): ShotSettings {
  if (shot.origin === "cushion") return shot;
  const conditions = conditionsOfShot(shot);
  const motion = motionAtCushion(computeShot(shot, conditions), conditions);
  return motion
    ? { ...shot, origin: "cushion", speed: motion.speed, angle: motion.angle, roll: motion.roll, side: motion.side }
    : shot;
}

const inSi = (si: string, units: readonly string[]) =>
  Object.fromEntries(units.map((unit) => [unit, unitFactor(unit, si)]));

/** Units that a part may be in, and one of each in SI. */
const SIZES: Readonly<Record<Quantity, Readonly<Record<string, number>>>> = {
  speed: inSi("m/s", ["mph", "m/s", "km/h", "ft/s", "in/s"]),
  angle: inSi("rad", ["°"]),
  ratio: { "": 1, "%": 0.01 },
  length: inSi("m", ["in", "mm", "cm", "m", "ft"]),
  small: inSi("m", ["in", "mm", "cm", "m"]),
};

export interface CalibrationRows {
  readonly shots: readonly MeasuredShot[];
  /** Sheet rows (from 0) of the shots. */
  readonly sheetRows: readonly number[];
  readonly leftOut: readonly { readonly address: string; readonly reason: string }[];
  /** Why nothing can be read, such as a unit that is not known. */
  readonly problem: string | undefined;
}

const quantityOf = (part: Exclude<Part, "session">): Quantity =>
  part === "bend" || part === "deviation" ? "small" : SETTING_KINDS[part].quantity;

export type PartColumn = {
  readonly column: LogColumn;
  /** What one of the column's unit is in SI. */ readonly size: number;
};

/** The columns that hold the parts with their units; what is wrong with the first that cannot be read. */
export function partColumns(
  log: TrialLog,
  parts: PartColumns,
  shot: ShotSettings,
): ReadonlyMap<Part, PartColumn> | string {
  const columns = new Map<Part, PartColumn>();
  for (const part of PARTS) {
    const heading = parts[part];
    if (heading === undefined) continue;
    const column = log.columns.find((one) => one.heading.text === heading);
    if (!column) return `The column "${heading}" (${PART_LABELS[part].toLowerCase()}) is not on this sheet now.`;
    if (part === "session") {
      columns.set(part, { column, size: 1 });
      continue;
    }
    const quantity = quantityOf(part);
    const unit = column.heading.unit === "" ? unitOf(quantity, shot.units).name : column.heading.unit;
    const size = SIZES[quantity][unit];
    if (size === undefined)
      return `"${heading}" is in ${unit}, which is no unit of ${PART_LABELS[part].toLowerCase()}; known are ${Object.keys(SIZES[quantity]).filter(Boolean).join(", ")}. Change the unit under Choose rows.`;
    columns.set(part, { column, size });
  }
  return columns.has("bend") ? columns : "Name the column that holds the measured bend.";
}

/** What an attempt tells of the bend. */
interface AttemptBend {
  /** In SI. */
  readonly bound: number;
  readonly known: Known;
}

/** The attempts of a log whose bend is only what the obstacle asked for; undefined where a bend was measured. */
function attemptsOf(log: TrialLog, parts: PartColumns) {
  const bend = log.columns.find(({ heading }) => heading.text === parts.bend);
  const choice = bend === undefined || asksOfObstacle(log, bend) ? guessReach(log) : undefined;
  if (!choice) return undefined;
  const { drivers: _drivers, sessions: _sessions, ...question } = questionOf(log, choice).question;
  const { rows, leftOut, unit } = readAttempts(log, { ...question, drivers: [], sessions: [] });
  const { deviation: _deviation, ...rest } = parts;
  return {
    parts: { ...rest, bend: choice.position.heading },
    leftOut,
    byIndex: new Map<number, AttemptBend>(
      rows.map(({ index, bound, known }) => [index, { bound: convertUnit(bound, unit, "m"), known }]),
    ),
  };
}

/**
 * Reads the rows; those of a log of attempts as what their outcomes say of the bend. A row with a blank, a word or an
 * impossible value in a needed column is left out and named.
 * @param shot gives the settings that have no column, and the units of headings that say none
 */
export function calibrationRows(log: TrialLog, parts: PartColumns, shot: ShotSettings): CalibrationRows {
  const attempts = attemptsOf(log, parts);
  const columns = partColumns(log, attempts ? attempts.parts : parts, shot);
  if (typeof columns === "string") return { shots: [], sheetRows: [], leftOut: [], problem: columns };
  // The bend of an attempt is no cell's.
  const needed = attempts ? new Map([...columns].filter(([part]) => part !== "bend")) : columns;
  const shots: MeasuredShot[] = [];
  const sheetRows: number[] = [];
  const leftOut: { address: string; reason: string }[] = [];
  log.rows.forEach((sheetRow, index) => {
    const attempt = attempts?.byIndex.get(index);
    if (attempts && !attempt) {
      // A miss says nothing of the bend; what cannot be counted is said by the reader of attempts.
      const remark = attempts.leftOut.find(({ row }) => row === sheetRow);
      if (remark) leftOut.push({ address: remark.address, reason: toText(remark.reason) });
      return;
    }
    const read = rowParts(needed, index, shot);
    if ("why" in read) {
      const { column, why } = read;
      const address = cellAddress(sheetRow, column.column);
      leftOut.push({ address, reason: toText(say`${column.heading.text} ${why}`) });
      return;
    }
    shots.push(measuredShot(read, attempt, shot));
    sheetRows.push(sheetRow);
  });
  return { shots, sheetRows, leftOut, problem: undefined };
}

/** What a row's cells hold, in SI. */
type RowParts = Partial<Record<Exclude<Part, "session">, number>> & { session?: string };

/** The cells of a row; else the column of the first that cannot be used, and why. */
function rowParts(
  columns: ReadonlyMap<Part, PartColumn>,
  index: number,
  shot: ShotSettings,
): RowParts | { readonly column: LogColumn; readonly why: Said } {
  const parts: RowParts = {};
  for (const [part, { column, size }] of columns) {
    const reading = readingAt(column, index);
    if (part === "session") {
      if (reading.kind === "blank" || reading.kind === "unusable") return { column, why: "is blank or cannot be used" };
      parts.session = levelOf(reading);
      continue;
    }
    if (reading.kind !== "number") return { column, why: noNumber(reading) };
    const value = reading.value * size;
    const limits = part === "bend" ? undefined : outOfLimits(value, part, shot);
    if (limits) return { column, why: say`is ${reading.value}: ${limits}` };
    parts[part] = value;
  }
  return parts;
}

function noNumber(reading: Exclude<Reading, { readonly kind: "number" }>): Said {
  if (reading.kind === "unusable") return `is ${reading.reason}`;
  return reading.kind === "blank" ? "is blank" : "is no number";
}

/** Where a value may lie that does not; undefined where it does. */
function outOfLimits(value: number, part: "deviation" | AtCushion, shot: ShotSettings): Said | undefined {
  if (part === "deviation") return value > 0 ? undefined : "a standard deviation is above 0";
  const { low, high } = boundsOf(part, shot);
  if (value >= low && value <= high) return undefined;
  return say`it is from ${shownSetting(low, part, shot.units)} to ${shownSetting(high, part, shot.units)}`;
}

/** The shot of a row; settings without a column are those of the shot given. */
function measuredShot(parts: RowParts, attempt: AttemptBend | undefined, shot: ShotSettings): MeasuredShot {
  const { deviation, session } = parts;
  const setting = (name: AtCushion) => parts[name] ?? shot[name];
  return {
    speed: setting("speed"),
    angle: setting("angle"),
    roll: setting("roll"),
    side: setting("side"),
    across: setting("across"),
    bend: attempt ? attempt.bound : there(parts.bend, "a measured bend"),
    ...(attempt && attempt.known !== "value" && { known: attempt.known }),
    ...(deviation === undefined ? {} : { deviation }),
    ...(session === undefined ? {} : { session }),
  };
}
