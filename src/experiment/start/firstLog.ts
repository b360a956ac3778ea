/**
 * A first log, made inside the panel, and how far its user is with it.
 */
import { asRead } from "../../bank/ruler";
import { spread } from "../../statistics/measure/spread";
import { cellAddress } from "../../workbook/address";
import type { NewSheet } from "../../workbook/port";
import { analyse, NoAnswer } from "../question/analysis";
import { gapDoubt } from "../log/gapDoubt";
import { logCell } from "../plan/planSheet";
import { levelOf, numberOf } from "../log/reading";
import { someRows } from "../log/someRows";
import { UnknownColumn } from "../question/rowCheck";
import type { LogColumn, TrialLog } from "../log/trialLog";
import { counted, decimalsFor, fixed, inSentence, severalOf, withUnit } from "../language/wording";

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
  return {
    name: "Log",
    rows: [
      headings.map((value) => ({ value, bold: true })),
      ...Array.from({ length: ROWS }, (_, i) =>
        headings.map((heading, c) => logCell(headings, heading, i + 1, c === 0 ? i + 1 : null)),
      ),
    ],
    columnWidths: [8, 12, 12, 12, 10, 14, 14, 8, 12, 14, 12, 20, 40],
  };
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

export interface FirstSteps {
  /** Shots whose bend is there and can be believed. */
  readonly shots: number;
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
  const taken = new Set(log.rows.filter((_, index) => gap.readings[index].kind !== "blank"));
  let row = log.headingRow + 1;
  while (taken.has(row)) row++;
  return { row, column: gap.column, address: cellAddress(row, gap.column) };
}

/** How far the log is. */
export function firstSteps(log: TrialLog): FirstSteps {
  const gap = gapColumn(log);
  const bend = log.columns.find(({ meaning, kind }) => meaning === "bend" && kind === "number");
  const looked = log.rows.map((_, index) => gap && gapDoubt(gap, index));
  const measured = log.rows.flatMap((row, index) => {
    const value = bend ? numberOf(bend.readings[index]) : NaN;
    return Number.isFinite(value) ? [{ row, index, value, gap: gap ? numberOf(gap.readings[index]) : NaN }] : [];
  });
  const sound = measured.filter(({ index }) => !looked[index]?.out).map(({ index }) => index);
  const unit = bend?.heading.unit ?? "";
  const notAveraged = measured.length - sound.length;
  return {
    shots: sound.length,
    bends: measured.map(
      ({ row: at, value, gap: read }) =>
        `Row ${at + 1}: ${Number.isFinite(read) ? `gap ${unit === "in" ? asRead(read) : read} ${unit}, ` : ""}bend ${withUnit(String(Number(value.toPrecision(5))), unit)}`,
    ),
    doubts: looked.flatMap((doubt, index) =>
      doubt && gap
        ? [
            {
              row: log.rows[index],
              column: gap.column,
              address: cellAddress(log.rows[index], gap.column),
              text: doubt.text,
            },
          ]
        : [],
    ),
    next: nextGap(log),
    answer:
      bend === undefined || sound.length < FIRST_SHOTS
        ? undefined
        : `${answerOf(log, bend, sound)}${notAveraged > 0 ? ` ${counted(notAveraged, "shot")} with a gap that cannot be ${notAveraged === 1 ? "is" : "are"} not in it.` : ""}`,
  };
}

/**
 * The average with its interval; shots of one session are not separate evidence, so sessions count where they are
 * written down.
 */
function answerOf(log: TrialLog, bend: LogColumn, sound: readonly number[]): string {
  const { unit } = bend.heading;
  const session = sessionOf(log, sound);
  const grouped = session && averageBySession(log, bend, session, sound);
  if (grouped) {
    const { mean, low, high, between, within, rows, groups } = grouped;
    const name = inSentence(session.heading);
    const decimals = decimalsFor((high - low) / 4);
    const shown = (value: number) => fixed(value, decimals);
    const left = sound.length - rows;
    return `Over ${rows} shots of ${counted(groups, name, severalOf(name))} the bend was ${withUnit(shown(mean), unit)} on average; the true average lies between ${shown(low)} and ${withUnit(shown(high), unit)} with 95 % confidence, if these ${severalOf(name)} are like those to come. Shots of one ${name} are not separate evidence, so each is taken as shifted by an amount of its own. Single shots of one ${name} scattered by ${withUnit(shown(within), unit)}, ${severalOf(name)} by ${withUnit(shown(between), unit)} (standard deviations).${left > 0 ? ` ${counted(left, "shot")} without a ${name} ${left === 1 ? "is" : "are"} not in it.` : ""}`;
  }
  const {
    mean,
    meanInterval: { low, high },
    standardDeviation,
    n,
  } = spread(
    sound.map((index) => numberOf(bend.readings[index])),
    0.95,
  );
  const decimals = decimalsFor((high - low) / 4);
  const shown = (value: number) => fixed(value, decimals);
  const one = session
    ? ` The ${severalOf(inSentence(session.heading))} that are written down are too few, or have too few shots, to be told from the scatter: another may lie elsewhere.`
    : " No sessions are told apart: another evening, table or humidity may lie elsewhere.";
  return `Over ${n} shots the bend was ${withUnit(shown(mean), unit)} on average; the true average lies between ${shown(low)} and ${withUnit(shown(high), unit)} with 95 % confidence, if these shots are like those to come. Single shots scattered by ${withUnit(shown(standardDeviation), unit)} (standard deviation).${one}`;
}

/** The column that says which shots belong together, by two entries or more. */
function sessionOf(log: TrialLog, sound: readonly number[]): LogColumn | undefined {
  return (["session", "date"] as const)
    .flatMap((meaning) => log.columns.filter((column) => column.meaning === meaning))
    .find(
      ({ readings }) =>
        new Set(sound.map((index) => levelOf(readings[index]).trim()).filter((level) => level !== "")).size > 1,
    );
}

/**
 * The mean with each session shifted by a random amount; undefined where the rows cannot tell sessions from scatter.
 */
function averageBySession(log: TrialLog, bend: LogColumn, session: LogColumn, sound: readonly number[]) {
  const only = someRows(log, sound);
  try {
    const { regression, check } = analyse(only, {
      response: bend.heading.text,
      drivers: [],
      joint: [],
      constant: true,
      confidence: 0.95,
      scatter: { as: "random", heading: session.heading.text },
    });
    const [{ estimate, low, high }] = regression.terms;
    if (estimate === null || low === null || high === null || !regression.spread) return undefined;
    const groups = new Set(
      check.used.map((index) => levelOf(only.columns[log.columns.indexOf(session)].readings[index]).trim()),
    ).size;
    return { mean: estimate, low, high, ...regression.spread, rows: check.used.length, groups };
  } catch (problem) {
    if (problem instanceof NoAnswer || problem instanceof UnknownColumn) return undefined;
    throw problem;
  }
}
