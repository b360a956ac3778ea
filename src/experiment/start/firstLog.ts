/**
 * A first log, made inside the panel, and how far its user is with it.
 */
import { asRead } from "../../bank/ruler";
import { spread } from "../../statistics/measure/spread";
import { cellAddress } from "../../workbook/address";
import type { NewSheet } from "../../workbook/port";
import { analyse, NoAnswer, type Analysis } from "../question/analysis";
import { gapDoubt } from "../log/gapDoubt";
import { emptyLog } from "../plan/emptyLog";
import { numberOf } from "../log/reading";
import { someRows } from "../log/someRows";
import { UnknownColumn } from "../question/rowCheck";
import { sessionAware, type SessionAware } from "../question/sessionAware";
import type { LogColumn, TrialLog } from "../log/trialLog";
import {
  capital,
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
/** Shots after which a first answer is given. */
export const FIRST_SHOTS = 5;

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
  readonly text: string;
}

export interface NextGap {
  /** Sheet row and column, from 0. */
  readonly row: number;
  readonly column: number;
  readonly address: string;
}

/** The average with its interval; null where the shots allow none. */
export interface Average {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
}

export interface FirstSteps {
  /** Shots whose bend is there and can be believed. */
  readonly shots: number;
  /** Their bends in the order of the rows, with the sheet's row from 0; and in what they are. */
  readonly points: readonly { readonly row: number; readonly bend: number }[];
  readonly unit: string;
  /** Once there are enough shots. */
  readonly average: Average | undefined;
  /** Each measured shot: where, its gap as it was read, its bend. */
  readonly bends: readonly string[];
  /** Cells of the gap that are not averaged, or that look odd. */
  readonly doubts: readonly Doubt[];
  /** Where the next gap goes; undefined when the log has no column for it. */
  readonly next: NextGap | undefined;
  /** The first answer, once there are enough shots. */
  readonly answer: string | undefined;
}

/** The gap as it was read, not the one that the obstacle was set to. */
function gapColumn({ columns }: TrialLog): LogColumn | undefined {
  const gaps = columns.filter(({ meaning }) => meaning === "gap");
  return gaps.find(({ heading }) => /^gap\b/i.test(heading.name)) ?? gaps[0];
}

/** Where the next gap goes: the first row without one. What stands there and is no number is somebody's, too. */
export function nextGap(log: TrialLog): NextGap | undefined {
  const gap = gapColumn(log);
  if (!gap) return undefined;
  const taken = new Set(log.rows.filter((_, index) => there(gap.readings[index], "a reading").kind !== "blank"));
  let row = log.headingRow + 1;
  while (taken.has(row)) row++;
  return { row, column: gap.column, address: cellAddress(row, gap.column) };
}

/**
 * How far the log is.
 * @param sessions headings of what makes a session, where its reader said so
 */
export function firstSteps(log: TrialLog, sessions?: readonly string[]): FirstSteps {
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
  const notAveraged = measured.length - sound.length;
  const answer = bend === undefined || sound.length < FIRST_SHOTS ? undefined : answerOf(log, bend, sound, sessions);
  return {
    shots: sound.length,
    points: measured.filter(({ index }) => !looked[index]?.out).map(({ row, value }) => ({ row, bend: value })),
    unit,
    average: answer?.average,
    bends: measured.map(
      ({ row: at, value, gap: read }) =>
        `Row ${at + 1}: ${Number.isFinite(read) ? `gap ${unit === "in" ? asRead(read) : read} ${unit}, ` : ""}bend ${withUnit(String(Number(value.toPrecision(5))), unit)}`,
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
    answer:
      answer &&
      `${answer.text}${notAveraged > 0 ? ` ${counted(notAveraged, "shot")} with a gap that cannot be ${notAveraged === 1 ? "is" : "are"} not in it.` : ""}`,
  };
}

/** The first answer, or how far it is, in one line. */
export function firstLine({ shots, average, unit }: Pick<FirstSteps, "shots" | "average" | "unit">): string {
  if (!average)
    return shots === 0
      ? `No bend yet: after ${FIRST_SHOTS} shots the average and its interval stand here.`
      : `${counted(shots, "bend")} so far; after ${FIRST_SHOTS} the average and its interval stand here.`;
  const { value, low, high } = average;
  if (low === null || high === null)
    return `Bend ${withUnit(significant(value, 4), unit)} on average over ${counted(shots, "shot")}, without an interval yet.`;
  const decimals = decimalsFor((high - low) / 4);
  return `Bend ${withUnit(fixed(value, decimals), unit)} on average, 95 % interval ${fixed(low, decimals)} to ${fixed(high, decimals)}, over ${counted(shots, "shot")}.`;
}

interface FirstAnswer {
  readonly text: string;
  readonly average: Average | undefined;
}

/**
 * The average with its interval. Shots of one session are not separate evidence, so sessions are taken as the answer
 * takes them, by whatever says which shots go together.
 */
function answerOf(log: TrialLog, bend: LogColumn, sound: readonly number[], sessions?: readonly string[]): FirstAnswer {
  const plain = averageOf(log, bend, sound, sessions);
  const aware = plain && sessionAware(plain);
  return aware?.lead ? bySession(bend, aware, sound.length) : byShot(bend, aware, sound);
}

/** The question of the average alone; undefined where it cannot be asked, as of sessions whose column is gone. */
function averageOf(
  log: TrialLog,
  bend: LogColumn,
  sound: readonly number[],
  sessions: readonly string[] | undefined,
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
      confidence: 0.95,
      ...(there && { sessions }),
    });
  } catch (problem) {
    if (problem instanceof NoAnswer || problem instanceof UnknownColumn) return undefined;
    throw problem;
  }
}

/** Shots of one session going together. */
function bySession(bend: LogColumn, { column, groups, recommended }: SessionAware, sound: number): FirstAnswer {
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
      average: estimate === null ? undefined : { value: estimate, low: null, high: null },
      text: `${over} ${withUnit(significant(estimate ?? NaN, 4), unit)} on average, without an interval: too few shots share one ${name} to tell how ${severalOf(name)} differ. ${alone}${without}`,
    };
  const decimals = decimalsFor((high - low) / 4);
  const shown = (value: number) => fixed(value, decimals);
  const scatter = parts
    ? ` Single shots of one ${name} scattered by ${withUnit(shown(parts.within), unit)}, ${severalOf(name)} by ${withUnit(shown(parts.between), unit)} (standard deviations).`
    : "";
  const text = `${over} ${withUnit(shown(estimate), unit)} on average; the true average lies between ${shown(low)} and ${withUnit(shown(high), unit)} with 95 % confidence, if these ${severalOf(name)} are like those to come. ${alone}${scatter}${without}`;
  return { text, average: { value: estimate, low, high } };
}

/** Every shot on its own, where nothing says that some go together. */
function byShot(bend: LogColumn, aware: SessionAware | undefined, sound: readonly number[]): FirstAnswer {
  const { unit } = bend.heading;
  const {
    mean,
    meanInterval: { low, high },
    standardDeviation,
    n,
  } = spread(sound.flatMap((index) => bend.readings[index] ?? []).map(numberOf), 0.95);
  const decimals = decimalsFor((high - low) / 4);
  const shown = (value: number) => fixed(value, decimals);
  const one = aware
    ? ` ${capital(severalOf(inSentence(aware.column.heading)))} do not show to differ, and each shot counts on its own.`
    : " No sessions are told apart: another evening, table or humidity may lie elsewhere.";
  const text = `Over ${n} shots the bend was ${withUnit(shown(mean), unit)} on average; the true average lies between ${shown(low)} and ${withUnit(shown(high), unit)} with 95 % confidence, if these shots are like those to come. Single shots scattered by ${withUnit(shown(standardDeviation), unit)} (standard deviation).${one}`;
  return { text, average: { value: mean, low, high } };
}
