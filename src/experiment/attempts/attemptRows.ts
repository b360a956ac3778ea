/**
 * Reads a log of attempts: what each obstacle asked for, what the outcome says of it, and which rows cannot be counted.
 */
import { say, joinTexts, type Said } from "../language/said";
import { bendOfGap, STANDARD_BALL_DIAMETER } from "../../bank/bend";
import { cellAddress } from "../../workbook/address";
import type { Known } from "../../statistics/censored/censoredFit";
import { gapDoubt } from "../log/gapDoubt";
import { correctionAt, correctionColumn } from "../log/gateCorrection";
import { numberOf, type Reading } from "../log/reading";
import type { LogColumn, TrialLog } from "../log/trialLog";
import { convertUnit } from "../language/unitConversion";
import { significant, withUnit } from "../language/wording";
import type { DriverChoice } from "../question/choice";
import { columnNamed, fault, remark, UnknownColumn, type CellRemark } from "../question/rowCheck";
import { sessionColumn } from "../question/sessions";
import { evidenceOf, saysAttempt } from "../log/outcomeWords";
import { isRequired } from "../log/attemptLog";

/** Where to look in a log of attempts. Headings as in the sheet. */
export interface AttemptsQuestion {
  /** The column that says where the obstacle stood: its gap, or the bend that it asked for. */
  readonly position: { readonly as: "gap" | "required"; readonly heading: string };
  readonly outcome: string;
  /** The bend that a camera saw. */
  readonly measured?: string;
  readonly drivers: readonly DriverChoice[];
  /** What makes a session; several headings: each distinct combination. */
  readonly sessions: readonly string[];
  /** Diameter of the ball, in the unit of the position; the standard one when left out. */
  readonly ball?: number;
}

/** One attempt that says something of the bend. */
export interface Attempt {
  /** Index into log.rows. */
  readonly index: number;
  /**
   * What the obstacle asked for, in the unit of the attempts; NaN where it does not stand there and the bend was
   * measured.
   */
  readonly required: number;
  readonly known: Known;
  /** The measured bend, or what the obstacle asked for. */
  readonly bound: number;
}

export interface Attempts {
  readonly log: TrialLog;
  readonly question: AttemptsQuestion;
  readonly rows: readonly Attempt[];
  readonly counts: {
    readonly cleared: number;
    readonly hit: number;
    readonly measured: number;
    readonly nothing: number;
  };
  /** One per row that should say something and cannot be counted. */
  readonly leftOut: readonly CellRemark[];
  readonly suspicious: readonly CellRemark[];
  /** Unit of required bends: that of the position's heading, inches where it has none. */
  readonly unit: "in" | "mm" | "cm";
  readonly ballDiameter: number;
  /** How units and columns were read where that is not plain. */
  readonly notes: readonly string[];
}

const UNITS = ["in", "mm", "cm"] as const;

/** The columns of a question, found. */
interface Columns {
  readonly position: LogColumn;
  readonly outcome: LogColumn;
  readonly measured: LogColumn | undefined;
  /** The other column that says where the obstacle stood, where the log has both. */
  readonly twin: LogColumn | undefined;
  /** What the departure gate takes off R − gap, row by row. */
  readonly correction: LogColumn | undefined;
  readonly needed: readonly { readonly column: LogColumn; readonly as: "number" | "category" | "date" }[];
}

/** @throws UnknownColumn when a column is not there, or cannot have the part that it is named for */
export function readAttempts(log: TrialLog, question: AttemptsQuestion): Attempts {
  const columns = columnsOf(log, question);
  const unit = lengthUnit(columns.position) ?? "in";
  const notes =
    columns.position.heading.unit === "" ? [`${columns.position.heading.text} names no unit; read as inches.`] : [];
  const ballDiameter = question.ball ?? convertUnit(STANDARD_BALL_DIAMETER.in, "in", unit);
  const reader: Reader = { log, question, columns, unit, ballDiameter };
  const rows: Attempt[] = [];
  const leftOut: CellRemark[] = [];
  const suspicious: CellRemark[] = [];
  const counts = { cleared: 0, hit: 0, measured: 0, nothing: 0 };
  log.rows.forEach((_, index) => {
    const read = readRow(reader, index);
    suspicious.push(...read.suspicious);
    if (read.is === "nothing") counts.nothing++;
    if (read.is === "left out") leftOut.push(read.remark);
    if (read.is !== "attempt") return;
    rows.push(read.attempt);
    counts[read.attempt.known === "value" ? "measured" : read.attempt.known === "at least" ? "cleared" : "hit"]++;
  });
  const echo = echoed(reader, rows);
  return {
    log,
    question,
    rows,
    counts,
    leftOut,
    suspicious,
    unit,
    ballDiameter,
    notes: [...notes, ...measuredNotes(columns, unit), ...correctionNotes(reader, rows), ...(echo ? [echo] : [])],
  };
}

function columnsOf(log: TrialLog, { position, outcome, measured, drivers, sessions }: AttemptsQuestion): Columns {
  const found = {
    position: columnNamed(log, position.heading),
    outcome: columnNamed(log, outcome),
    measured: measured === undefined ? undefined : columnNamed(log, measured),
  };
  for (const column of [found.position, found.measured])
    if (column && column.heading.unit !== "" && lengthUnit(column) === undefined)
      throw new UnknownColumn(
        `"${column.heading.text}" is in ${column.heading.unit}, which is no length in inches or millimetres.`,
      );
  const parts = [
    found.position,
    found.outcome,
    found.measured,
    ...drivers.map(({ heading }) => columnNamed(log, heading)),
  ];
  const twice = parts.find((column, i) => column && parts.indexOf(column) !== i);
  if (twice)
    throw new UnknownColumn(`"${twice.heading.text}" is named for two parts of the question: name it for one.`);
  const other = position.as === "gap" ? isRequired : ({ meaning }: LogColumn) => meaning === "gap";
  return {
    ...found,
    correction: correctionColumn(log),
    twin: log.columns.find(
      (column) =>
        other(column) && column.kind === "number" && !parts.includes(column) && lengthUnit(column) !== undefined,
    ),
    needed: [
      ...drivers.map(({ heading, as }) => {
        const column = columnNamed(log, heading);
        return { column, as: as === "number" && column.kind === "date" ? ("date" as const) : as };
      }),
      ...(sessions.length > 0 ? [{ column: sessionColumn(log, sessions), as: "category" as const }] : []),
    ],
  };
}

function lengthUnit({ heading }: LogColumn): Attempts["unit"] | undefined {
  return UNITS.find((unit) => unit === heading.unit);
}

interface Reader {
  readonly log: TrialLog;
  readonly question: AttemptsQuestion;
  readonly columns: Columns;
  readonly unit: Attempts["unit"];
  readonly ballDiameter: number;
}

type RowRead = { readonly suspicious: readonly CellRemark[] } & (
  | { readonly is: "nothing" }
  | { readonly is: "left out"; readonly remark: CellRemark }
  | { readonly is: "attempt"; readonly attempt: Attempt }
);

function readRow(reader: Reader, index: number): RowRead {
  const { log, columns } = reader;
  const measured = columns.measured && readMeasured(reader, columns.measured, index);
  const outcome = columns.outcome.readings[index] ?? BLANK;
  const evidence = evidenceOf(outcome, saysAttempt(columns.outcome.heading.name));
  if (typeof measured !== "number" && !measured && "says" in evidence && evidence.says === "nothing")
    return { is: "nothing", suspicious: [] };
  const reasons: Fault[] = [];
  if (measured && typeof measured !== "number") reasons.push(measured);
  if (measured === undefined && "problem" in evidence)
    reasons.push({ column: columns.outcome, reason: `${columns.outcome.heading.text} is ${evidence.problem}` });
  const place = readPosition(reader, index);
  const wants = typeof measured !== "number";
  if (wants && place.fault) reasons.push(place.fault);
  for (const { column, as } of columns.needed) {
    const reason = fault(column.readings[index] ?? BLANK, as);
    if (reason !== undefined) reasons.push({ column, reason: say`${column.heading.text} is ${reason}` });
  }
  const [first] = reasons;
  const doubts = [
    ...[columns.position, columns.measured].flatMap((column) => (column ? otherUnit(column, index) : [])),
    ...(place.doubt ? [place.doubt] : []),
    ...(!wants && place.fault && place.filled ? [place.fault] : []),
    ...(!wants && !place.fault ? contradiction(reader, measured, place.required, evidence) : []),
  ].map(({ column, reason }) => remark(log, index, column, reason));
  if (first) {
    const all = joinTexts(
      reasons.map(({ reason }) => reason),
      "; ",
    );
    return { is: "left out", remark: remark(log, index, first.column, all), suspicious: [] };
  }
  const known: Known = !wants ? "value" : "says" in evidence && evidence.says === "got by" ? "at least" : "less than";
  const required = place.fault ? NaN : place.required;
  return {
    is: "attempt",
    attempt: { index, required, known, bound: wants ? required : measured },
    suspicious: doubts,
  };
}

const BLANK: Reading = { kind: "blank" };

interface Fault {
  readonly column: LogColumn;
  readonly reason: Said;
}

interface RowPosition {
  readonly required: number;
  readonly fault?: Fault;
  readonly doubt?: Fault;
  /** Whether the cell holds anything. */
  readonly filled: boolean;
}

/** A cell that names another unit than its heading. It is used, turned into the heading's. */
function otherUnit(column: LogColumn, index: number): Fault[] {
  const reading = column.readings[index] ?? BLANK;
  if (reading.kind !== "number" || reading.said === undefined) return [];
  const { text, unit } = column.heading;
  return [
    {
      column,
      reason: say`${text} is "${reading.said}", a unit of its own; it counts as ${inUnit(reading.value, unit)}`,
    },
  ];
}

/** What the obstacle asked for in a row, and what is wrong with it. */
function readPosition({ log, question, columns, unit, ballDiameter }: Reader, index: number): RowPosition {
  const { position, twin } = columns;
  const reading = position.readings[index] ?? BLANK;
  const name = position.heading.text;
  const bad = (reason: Said): RowPosition => ({
    required: NaN,
    fault: { column: position, reason },
    filled: reading.kind !== "blank",
  });
  const wrong = fault(reading, "number");
  if (wrong !== undefined) return bad(say`${name} is ${wrong}`);
  const value = numberOf(reading);
  const gap = question.position.as === "gap" ? value : ballDiameter / 2 - value;
  const off = correctionAt(columns.correction, index, unit);
  if (columns.correction && Number.isNaN(off))
    return { ...bad(`${columns.correction.heading.text} is no length`), filled: true };
  const setBend = bendOfGap(gap, ballDiameter);
  const required = question.position.as === "gap" ? setBend - off : value;
  const doubt = positionDoubt(question.position.as, position, gap, { unit, ballDiameter });
  if (doubt?.out) return bad(say`${name}: ${doubt.text}`);
  const other = twin && readTwin(question.position.as, twin, index, { unit, ballDiameter });
  // A required bend beside the gap may be the set bend or the path's.
  const apart = other === undefined ? 0 : Math.min(...[0, off, -off].map((by) => Math.abs(other - by - required)));
  if (twin && other !== undefined && apart > tolerance(unit)) {
    const cell = cellAddress(log.rows[index] ?? 0, twin.column);
    return bad(
      say`${name} asks for a bend of ${inUnit(required, unit)}, and ${twin.heading.text} in ${cell} for ${inUnit(other, unit)}: one of the two is wrong`,
    );
  }
  return { required, filled: true, ...(doubt && { doubt: { column: position, reason: say`${name}: ${doubt.text}` } }) };
}

/** What is odd about where the obstacle stood. */
function positionDoubt(
  as: "gap" | "required",
  position: LogColumn,
  gap: number,
  { unit, ballDiameter }: Pick<Reader, "unit" | "ballDiameter">,
): { readonly text: Said; readonly out: boolean } | undefined {
  const metres = convertUnit(ballDiameter, unit, "m");
  const doubt = gapDoubt(
    { heading: { ...position.heading, unit }, readings: [{ kind: "number", value: gap }] },
    0,
    metres,
  );
  if (as === "gap" || !doubt) return doubt;
  const required = inUnit(ballDiameter / 2 - gap, unit);
  if (!doubt.out) return { text: say`${required} is more than a ball's radius. That is rare; it counts.`, out: false };
  return gap > 0
    ? { text: say`${required} asks for no bend: a straight ball passes there without touching.`, out: true }
    : {
        text: say`${required} is more bend than an obstacle can ask for. Is a point missing, or another unit meant?`,
        out: true,
      };
}

/** What the other column says the obstacle asked for; undefined where it does not say. */
function readTwin(
  as: "gap" | "required",
  twin: LogColumn,
  index: number,
  { unit, ballDiameter }: Pick<Reader, "unit" | "ballDiameter">,
): number | undefined {
  const reading = twin.readings[index] ?? BLANK;
  if (reading.kind !== "number") return undefined;
  const value = convertUnit(reading.value, lengthUnit(twin) ?? unit, unit);
  return as === "gap" ? value : bendOfGap(value, ballDiameter);
}

/** The measured bend of a row; undefined where none was measured. */
function readMeasured({ unit, ballDiameter }: Reader, column: LogColumn, index: number): number | Fault | undefined {
  const reading = column.readings[index] ?? BLANK;
  if (reading.kind === "blank") return undefined;
  const wrong = fault(reading, "number");
  if (wrong !== undefined) return { column, reason: say`${column.heading.text} is ${wrong}` };
  const value = convertUnit(numberOf(reading), lengthUnit(column) ?? unit, unit);
  return Math.abs(value) <= ballDiameter
    ? value
    : {
        column,
        reason: say`${column.heading.text} is ${inUnit(value, unit)}, more than a ball's width. Is a point missing, or another unit meant?`,
      };
}

/** Half of a division of 1/32 in: how far two readings of one place may be apart. */
function tolerance(unit: Attempts["unit"]): number {
  return convertUnit(1 / 64, "in", unit) * 1.001;
}

/** A measured bend that the outcome speaks against. It is used, as the outcome is not. */
function contradiction(
  { columns, unit }: Reader,
  measured: number,
  required: number,
  evidence: ReturnType<typeof evidenceOf>,
): Fault[] {
  if (!columns.measured || !("says" in evidence) || evidence.says === "nothing") return [];
  const short = evidence.says === "got by" ? required - measured : measured - required;
  if (!(short > tolerance(unit))) return [];
  const said = evidence.says === "got by" ? "got by an obstacle" : "hit an obstacle";
  return [
    {
      column: columns.measured,
      reason: say`${columns.measured.heading.text} is ${inUnit(measured, unit)}, but the ball ${said} that asked for ${inUnit(required, unit)}; the measured bend is used`,
    },
  ];
}

function measuredNotes({ measured }: Columns, unit: string): string[] {
  return measured?.heading.unit === ""
    ? [`${measured.heading.text} names no unit; read in ${unit}, as the obstacle.`]
    : [];
}

/** Which bend the required one is. */
function correctionNotes({ columns: { correction }, question }: Reader, rows: readonly Attempt[]): string[] {
  if (!correction || question.position.as !== "gap") return [];
  const blank = rows.filter(({ index }) => (correction.readings[index] ?? BLANK).kind === "blank").length;
  const without = blank === 0 ? "" : ` ${blank} of ${rows.length} rows have none: there the set bend is taken.`;
  return [
    `What the obstacle asked for is the bend of the path: R − gap, the set bend, less ${correction.heading.text}.${without}`,
  ];
}

/** A column of measured bends that is no more than what the obstacle asked for, in every row. */
function echoed({ columns, unit }: Reader, rows: readonly Attempt[]): string | undefined {
  const both = rows.filter(({ known, required }) => known === "value" && Number.isFinite(required));
  const same = both.every(({ bound, required }) => Math.abs(bound - required) < 1e-6 * tolerance(unit));
  return columns.measured && both.length >= 3 && same
    ? `${columns.measured.heading.text} is what the obstacle asked for in every row, so nothing was measured: leave it out, and let the outcomes speak.`
    : undefined;
}

function inUnit(value: number, unit: string): Said {
  return withUnit(significant(value, 5), unit);
}
