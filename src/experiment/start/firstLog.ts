/**
 * A first log, made inside the panel, and how far its user is with it.
 */
import { say, joinTexts, capital, type Said } from "../language/said";
import { asRead } from "../../bank/ruler";
import { spread } from "../../statistics/measure/spread";
import { cellAddress } from "../../workbook/address";
import type { NewSheet } from "../../workbook/port";
import { analyse, NoAnswer, type Analysis } from "../question/analysis";
import { gapDoubt } from "../log/gapDoubt";
import { emptyLog } from "../plan/emptyLog";
import { asksOfObstacle, attemptColumns } from "../log/attemptLog";
import { readingAt } from "../log/logColumns";
import { evidenceOf, type Evidence } from "../log/outcomeWords";
import { numberOf } from "../log/reading";
import { someRows } from "../log/someRows";
import { UnknownColumn } from "../question/rowCheck";
import { sessionAware, type SessionAware } from "../question/sessionAware";
import type { LogColumn, TrialLog } from "../log/trialLog";
import {
  confidenceText,
  counted,
  decimalsFor,
  fixed,
  inSentence,
  severalOf,
  significant,
  withUnit,
} from "../language/wording";
import { there } from "../../there";

/** Rows whose bend is computed from the start. */
const ROWS = 60;
/** Shots of a first hour: few, and enough for an interval that one can use. */
export const FIRST_SHOTS = 5;
/** Shots from which an average and its interval are said at all; the interval of so few is wide, and says so itself. */
export const ANSWER_FROM = 3;

/** An empty log: one row is one shot; the bend comes from the gap. */
export function firstLog(units: "us" | "si"): NewSheet {
  const small = units === "us" ? "in" : "mm";
  const headings = [
    "Trial",
    "Date",
    "Session",
    "Table",
    "Cloth",
    "Humidity (%)",
    units === "us" ? "Speed (mph)" : "Speed (m/s)",
    "Spin",
    `Gap (${small})`,
    "Outcome",
    `Bend (${small})`,
    `Gate correction (${small})`,
    "Remarks",
  ];
  return emptyLog({
    name: "Log",
    headings,
    rows: ROWS,
    columnWidths: [8, 12, 12, 12, 10, 14, 14, 8, 12, 14, 12, 20, 40],
  });
}

/** A cell that the first answer cannot take as it stands, or that is worth a look. */
export interface Doubt {
  readonly row: number;
  readonly column: number;
  readonly address: string;
  readonly text: Said;
}

export interface NextGap {
  /** Sheet row and column, from 0. */
  readonly row: number;
  readonly column: number;
  readonly address: string;
}

export interface FirstSteps {
  /** Shots whose bend is there and can be believed. */
  readonly shots: number;
  /** Each measured shot: where, its gap as it was read, its bend. */
  readonly bends: readonly Said[];
  /** Cells of the gap that are not averaged, or that look odd. */
  readonly doubts: readonly Doubt[];
  /** Where the next gap goes; undefined when the log has no column for it. */
  readonly next: NextGap | undefined;
  /** The bends that count, in the order of the rows, with the sheet's row from 0. */
  readonly points: readonly { readonly row: number; readonly bend: number }[];
  /** Of the bends; "" for none. */
  readonly unit: string;
  /** The first answer, once there are enough shots. */
  readonly answer: Said | undefined;
  /** The average with its interval, where the answer has one. */
  readonly average: Average | undefined;
}

/** The average with its interval; null where the shots allow none. */
export interface Average {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  /** Of the interval. */
  readonly confidence: number;
}

/** An answer in words, and its average where it has one. */
interface Told {
  readonly text: Said;
  readonly average?: Average;
}

/** The gap as it was read, not the one that the obstacle was set to. */
function gapColumn({ columns }: TrialLog): LogColumn | undefined {
  const gaps = columns.filter(({ meaning }) => meaning === "gap");
  return gaps.find(({ heading }) => /^gap\b/i.test(heading.name)) ?? gaps[0];
}

/** Columns of which a shot has at least one: its gap as it was read, and how it ended. */
export function shotColumns(log: TrialLog): LogColumn[] {
  const outcome = log.columns.find(({ meaning }) => meaning === "made");
  return [gapColumn(log), outcome].filter((column) => column !== undefined);
}

/**
 * Where the next gap goes: the row after the last shot. A shot before it without a gap was missed or not read, and no
 * place for the next. What stands in a gap's cell and is no number is somebody's, too.
 */
export function nextGap(log: TrialLog): NextGap | undefined {
  const gap = gapColumn(log);
  if (!gap) return undefined;
  const shot = shotColumns(log);
  const last = log.rows.findLastIndex((_, index) => shot.some((column) => readingAt(column, index).kind !== "blank"));
  const row = last < 0 ? (log.rows[0] ?? log.headingRow + 1) : there(log.rows[last], "the last shot's row") + 1;
  return { row, column: gap.column, address: cellAddress(row, gap.column) };
}

/**
 * How far the log is.
 * @param sessions headings of what makes a session, where its reader said so
 * @param confidence of the average's interval
 */
export function firstSteps(log: TrialLog, sessions?: readonly string[], confidence = 0.95): FirstSteps {
  const gap = gapColumn(log);
  const bend = log.columns.find(({ meaning, kind }) => meaning === "bend" && kind === "number");
  const looked = log.rows.map((_, index) => gap && gapDoubt(gap, index));
  const measured = log.rows.flatMap((row, index) => {
    const value = bend ? numberOf(there(bend.readings[index], "a reading")) : NaN;
    return Number.isFinite(value)
      ? [{ row, index, value, gap: gap ? numberOf(there(gap.readings[index], "a reading")) : NaN }]
      : [];
  });
  const sound = measured.filter(({ index }) => !looked[index]?.out).map(({ index }) => index);
  const unit = bend?.heading.unit ?? "";
  const answer = bend && firstAnswer(log, bend, sound, measured.length - sound.length, sessions, confidence);
  return {
    points: measured.filter(({ index }) => !looked[index]?.out).map(({ row, value }) => ({ row, bend: value })),
    unit,
    average: answer?.average,
    shots: sound.length,
    bends: measured.map(
      ({ row: at, value, gap: read }) =>
        say`Row ${at + 1}: ${Number.isFinite(read) ? say`gap ${unit === "in" ? asRead(read) : read} ${unit}, ` : ""}bend ${withUnit(significant(value, 5), unit)}`,
    ),
    doubts: looked.flatMap((doubt, index) =>
      doubt && gap
        ? [
            {
              row: there(log.rows[index], "a row of the log"),
              column: gap.column,
              address: cellAddress(there(log.rows[index], "a row"), gap.column),
              text: doubt.text,
            },
          ]
        : [],
    ),
    next: nextGap(log),
    answer: answer?.text,
  };
}

/** The first answer, or what it waits for, in one line. */
export function firstLine(steps: Pick<FirstSteps, "shots" | "average" | "unit" | "answer"> | undefined): Said {
  if (!steps) return "There is no log here yet: make one below, then type the first gap.";
  const { shots, average, unit, answer } = steps;
  if (!average) {
    if (answer !== undefined) return answer;
    if (shots === 0) return "Type the first gap as the ruler reads it; its bend stands here at once.";
    const left = counted(Math.max(1, ANSWER_FROM - shots), "more", "more");
    return `${counted(shots, "bend")} so far; after ${left} the average and its interval stand here.`;
  }
  const { value, low, high, confidence } = average;
  const over = counted(shots, "shot");
  if (low === null || high === null)
    return say`Bend ${withUnit(significant(value, 4), unit)} on average over ${over}, without an interval yet.`;
  const decimals = decimalsFor((high - low) / 4);
  return say`Bend ${withUnit(fixed(value, decimals), unit)} on average, ${confidenceText(confidence)} % interval ${fixed(low, decimals)} to ${fixed(high, decimals)}, over ${over}.`;
}

/** The first answer, and what its few shots leave open. */
function firstAnswer(
  log: TrialLog,
  bend: LogColumn,
  sound: readonly number[],
  notAveraged: number,
  sessions: readonly string[] | undefined,
  confidence: number,
): Told | undefined {
  if (sound.length < ANSWER_FROM) return undefined;
  if (asksOfObstacle(log, bend)) return { text: attemptsAnswer(log, bend, sound) };
  const { text, average } = answerOf(log, bend, sound, sessions, confidence);
  const few =
    sound.length < FIRST_SHOTS
      ? ` So few shots leave the interval wide: ${FIRST_SHOTS - sound.length} more make it narrower.`
      : "";
  const without =
    notAveraged > 0
      ? ` ${counted(notAveraged, "shot")} with a gap that cannot be ${notAveraged === 1 ? "is" : "are"} not in it.`
      : "";
  return { text: say`${text}${few}${without}`, ...(average && { average }) };
}

/** Attempts past an obstacle have no average: each says at least or less. What the extremes say, and who says more. */
function attemptsAnswer(log: TrialLog, bend: LogColumn, sound: readonly number[]): Said {
  const outcome = attemptColumns(log)?.outcome;
  const told = sound.flatMap((index) => {
    const evidence = outcome ? evidenceOf(readingAt(outcome, index), true) : { problem: "no outcome" };
    return "says" in evidence ? [{ says: evidence.says, asked: numberOf(readingAt(bend, index)) }] : [];
  });
  const asked = (says: Evidence) => told.filter((one) => one.says === says).map((one) => one.asked);
  const [got, hit] = [asked("got by"), asked("hit")];
  const said = (value: number) => withUnit(significant(value, 4), bend.heading.unit);
  const parts = [
    got.length === 0
      ? "none got by"
      : say`${got.length} got by, at the most where ${said(Math.max(...got))} was asked for`,
    say`${hit.length} hit the obstacle, at the least where ${said(Math.min(...hit))} was`,
  ];
  return say`${counted(told.length, "attempt")}: ${joinTexts(parts, "; ")}. Got by says at least that much and a hit less, so they have no average: the Analysis view says how far it bends, and how surely.`;
}

/**
 * The average with its interval. Shots of one session are not separate evidence, so sessions are taken as the answer
 * takes them, by whatever says which shots go together.
 */
function answerOf(
  log: TrialLog,
  bend: LogColumn,
  sound: readonly number[],
  sessions: readonly string[] | undefined,
  confidence: number,
): Told {
  const plain = averageOf(log, bend, sound, sessions, confidence);
  const aware = plain && sessionAware(plain);
  return aware?.lead ? bySession(bend, aware, sound.length, confidence) : byShot(bend, aware, sound, confidence);
}

/** The question of the average alone; undefined where it cannot be asked, as of sessions whose column is gone. */
function averageOf(
  log: TrialLog,
  bend: LogColumn,
  sound: readonly number[],
  sessions: readonly string[] | undefined,
  confidence: number,
): Analysis | undefined {
  const only = someRows(log, sound);
  const there = sessions?.every((heading) =>
    log.columns.some((column) => column !== bend && column.heading.text === heading),
  );
  try {
    return analyse(only, {
      response: bend.heading.text,
      drivers: [],
      joint: [],
      constant: true,
      confidence,
      ...(there && { sessions }),
    });
  } catch (problem) {
    if (problem instanceof NoAnswer || problem instanceof UnknownColumn) return undefined;
    throw problem;
  }
}

/** Shots of one session going together. */
function bySession(
  bend: LogColumn,
  { column, groups, recommended }: SessionAware,
  sound: number,
  confidence: number,
): Told {
  const { unit } = bend.heading;
  const name = inSentence(column.heading);
  const { rows, terms, spread: parts } = recommended.regression;
  const { estimate = null, low = null, high = null } = terms[0] ?? {};
  const over = `Over ${counted(rows, "shot")} of ${counted(groups, name, severalOf(name))} the bend was`;
  const alone = `Shots of one ${name} are not separate evidence, so each is taken as shifted by an amount of its own.`;
  const left = sound - rows;
  const without = left > 0 ? ` ${counted(left, "shot")} without a ${name} ${left === 1 ? "is" : "are"} not in it.` : "";
  if (estimate === null || low === null || high === null)
    return {
      ...(estimate !== null && { average: { value: estimate, low: null, high: null, confidence } }),
      text: say`${over} ${withUnit(significant(estimate ?? NaN, 4), unit)} on average, without an interval: too few shots share one ${name} to tell how ${severalOf(name)} differ. ${alone}${without}`,
    };
  const decimals = decimalsFor((high - low) / 4);
  const shown = (value: number) => fixed(value, decimals);
  const scatter = parts
    ? say` Single shots of one ${name} scattered by ${withUnit(shown(parts.within), unit)}, ${severalOf(name)} by ${withUnit(shown(parts.between), unit)} (standard deviations).`
    : "";
  return {
    text: say`${over} ${withUnit(shown(estimate), unit)} on average; the true average lies between ${shown(low)} and ${withUnit(shown(high), unit)} with ${confidenceText(confidence)} % confidence, if these ${severalOf(name)} are like those to come. ${alone}${scatter}${without}`,
    average: { value: estimate, low, high, confidence },
  };
}

/** Every shot on its own, where nothing says that some go together. */
function byShot(bend: LogColumn, aware: SessionAware | undefined, sound: readonly number[], confidence: number): Told {
  const { unit } = bend.heading;
  const {
    mean,
    meanInterval: { low, high },
    standardDeviation,
    n,
  } = spread(sound.flatMap((index) => bend.readings[index] ?? []).map(numberOf), confidence);
  const decimals = decimalsFor((high - low) / 4);
  const shown = (value: number) => fixed(value, decimals);
  const one = aware
    ? ` ${capital(severalOf(inSentence(aware.column.heading)))} do not show to differ, and each shot counts on its own.`
    : " No sessions are told apart: another evening, table or humidity may lie elsewhere.";
  return {
    text: say`Over ${n} shots the bend was ${withUnit(shown(mean), unit)} on average; the true average lies between ${shown(low)} and ${withUnit(shown(high), unit)} with ${confidenceText(confidence)} % confidence, if these shots are like those to come. Single shots scattered by ${withUnit(shown(standardDeviation), unit)} (standard deviation).${one}`,
    average: { value: mean, low, high, confidence },
  };
}
