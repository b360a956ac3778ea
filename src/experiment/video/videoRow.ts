/** A filmed shot as cells of a log, at its own headings and in its own units; or as a row of a sheet for films. */
import { say, toText, listOf } from "../language/said";
import { INCH } from "../../bank/units";
import type { NewCell, NewRow, PlacedCell, SheetData } from "../../workbook/port";
import { CHECK_KINDS } from "../evidence/evidence";
import { convertUnit, kindOfUnit } from "../language/unitConversion";
import { fixed } from "../language/wording";
import { findTrialLogs, type LogColumn, type TrialLog } from "../log/trialLog";
import { unitOf } from "../shot/shotSettings";
import type { TrackedShot } from "../track/trackedShot";
import type { VideoForm } from "./videoForm";

/** What is known of a filmed shot beside its track. */
export interface Filmed {
  readonly shot: TrackedShot;
  readonly form: VideoForm;
  /** Whether the recording is unbroken by its frames' times; undefined where too few frames were looked at. */
  readonly unbroken: boolean | undefined;
}

export interface FilmedCells {
  readonly cells: readonly PlacedCell[];
  /** What the log has no column for, in words; "" for nothing. */
  readonly left: string;
}

const DIGITS = 6;

/** Something known of the shot, and the headings that it goes under. */
interface Known {
  readonly what: string;
  readonly value: number | string | null;
  readonly unit: string;
  fits(column: LogColumn): boolean;
}

const named = (pattern: RegExp) => (column: LogColumn) => pattern.test(column.heading.name);

/** Lengths in in, speeds in in/s. */
function knownOf({ shot, form, unbroken }: Filmed): Known[] {
  return [
    { what: BEND, value: shot.bend, unit: "in", fits: isMeasuredBend },
    {
      what: "standard uncertainty",
      value: shot.standardError,
      unit: "in",
      fits: named(/\buncertainty\b|\bstandard error\b/i),
    },
    {
      what: "speed after the cushion",
      value: shot.speedAfterCushion,
      unit: "in/s",
      fits: ({ meaning }) => meaning === "speed",
    },
    { what: CONTACT, value: shot.contactTime, unit: "s", fits: named(/\bfilm.*\btime\b|\bcontact in the film\b/i) },
    { what: FILM, value: fileOf(form), unit: "", fits: named(/^(film|video)( file)?$|^file$/i) },
    { what: "one unbroken recording", value: yesNo(unbroken), unit: "", fits: named(CHECK_KINDS.recording.heading) },
    { what: "both views", value: form.bothViews || null, unit: "", fits: named(CHECK_KINDS.views.heading) },
  ];
}

const BEND = "bend";
const FILM = "film";
const CONTACT = "contact in the film";
const REMARK = "remark";
const fileOf = ({ film }: VideoForm) => film?.name ?? "film";
const yesNo = (value: boolean | undefined) => (value === undefined ? null : value ? "yes" : "no");

/** A column of bends as seen, not of bends that were set or asked for, nor of their uncertainty. */
function isMeasuredBend({ meaning, heading }: LogColumn): boolean {
  return (
    meaning === "bend" &&
    kindOfUnit(heading.unit) === "length" &&
    !/uncertain|error|\bset\b|asked|predict|wanted|target/i.test(heading.name)
  );
}

/** @returns undefined where the log has no column of measured bends in a unit of length */
export function filmedCells(log: TrialLog, filmed: Filmed): FilmedCells | undefined {
  const cells = new Map<string, PlacedCell>();
  const left: string[] = [];
  const place = ({ what, value, unit, fits }: Known) => {
    if (value === null) return;
    const taken = new Set([...cells.values()].map(({ column }) => column));
    const column = log.columns.find((one) => !taken.has(one.column) && !one.parts && fits(one));
    const here = column && valueIn(column, value, unit);
    if (column && here !== undefined)
      cells.set(what, { column: column.column, value: here, ...(what !== BEND && { optional: true }) });
    else left.push(what);
  };
  knownOf(filmed).forEach(place);
  if (!cells.has(BEND)) return undefined;
  const homeless: readonly string[] = left.filter((what) => what === FILM || what === CONTACT);
  const words = say`${fileOf(filmed.form)}, contact at ${fixed(filmed.shot.contactTime, 3)} s`;
  if (homeless.length > 0)
    place({ what: REMARK, value: toText(words), unit: "", fits: ({ meaning }) => meaning === "remarks" });
  const lost = left.filter((what) => what !== REMARK && !(cells.has(REMARK) && homeless.includes(what)));
  return { cells: [...cells.values()], left: lost.length > 0 ? listOf(lost) : "" };
}

function valueIn({ heading }: LogColumn, value: number | string, unit: string): number | string | undefined {
  if (typeof value === "string") return value;
  if (unit === "s") return tidy(value);
  return kindOfUnit(heading.unit) === kindOfUnit(unit) ? tidy(convertUnit(value, unit, heading.unit)) : undefined;
}

const tidy = (value: number) => Number(value.toPrecision(DIGITS));

/** The row for a sheet that gathers films, where no log takes it. */
export function filmRow({ shot, form, unbroken }: Filmed): NewRow {
  const small = unitOf("small", form.units);
  const speed = unitOf("speed", form.units);
  const inUnit = (inches: number, size: number) => ({ value: tidy((inches * INCH) / size) });
  const pairs: [string, NewCell][] = [
    ["Film", { value: form.film?.name ?? "" }],
    ["Contact in the film (s)", { value: tidy(shot.contactTime) }],
    [`Bend (${small.name})`, inUnit(shot.bend, small.size)],
    [`Standard uncertainty (${small.name})`, inUnit(shot.standardError, small.size)],
    [`Speed after the cushion (${speed.name})`, inUnit(shot.speedAfterCushion, speed.size)],
    ["One unbroken recording", { value: unbroken === undefined ? null : unbroken ? "yes" : "no" }],
    ["Both views", { value: form.bothViews || null }],
  ];
  return {
    sheet: "Films",
    headings: pairs.map(([heading]) => heading),
    cells: pairs.map(([, cell]) => cell),
    columnWidths: pairs.map(([heading]) => heading.length + 3),
  };
}

/** Rows of the log, the latest first, that have no bend yet and so may be the filmed shot's: sheet rows from 0. */
export function rowsWithoutBend(log: TrialLog): number[] {
  const bend = log.columns.find(isMeasuredBend);
  if (!bend) return [];
  return log.rows.filter((_, index) => bend.readings[index]?.kind === "blank").reverse();
}

/** What a sheet with headings and no rows would be read as, once it has some. */
export function headingsOnly(data: SheetData): TrialLog[] {
  const stand = data.values.map((row) => row.map((cell) => (cell === null ? null : "–")));
  const [headings, ...rows] = data.values;
  if (!headings || rows.some((row) => row.some((cell) => cell !== null))) return [];
  const tried = {
    ...data,
    values: [headings, ...stand.slice(0, 1)],
    formats: [...data.formats.slice(0, 1), ...data.formats.slice(0, 1)],
  };
  return findTrialLogs({ ...tried, tables: [] }).map((log) => ({
    ...log,
    rows: [],
    columns: log.columns.map((column) => ({ ...column, readings: [] })),
  }));
}
