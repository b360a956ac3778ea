/** What the attempts of this session say: how far it bends, and where the obstacle goes next. */
import type { Said } from "../language/said";
import { convertUnit } from "../language/unitConversion";
import { parseInches } from "../../bank/ruler";
import { typedNumber } from "../language/typedNumber";
import { counted } from "../language/wording";
import { nextSentences, nextSetting, rulerStep, type NextSetting } from "../attempts/nextSetting";
import { readAttempts, type Attempt, type AttemptsQuestion } from "../attempts/attemptRows";
import { analyseReach, USUAL_PROBABILITIES, type ReachAnswer } from "../attempts/reach";
import { NoAnswer } from "../question/analysis";
import { gapDoubt, type GapDoubt } from "../log/gapDoubt";
import { someRows } from "../log/someRows";
import { levelOf } from "../log/reading";
import { readingAt } from "../log/logColumns";
import { dayAt } from "./evening";
import type { ShootLog } from "./shootLog";

/**
 * The rows of this session's attempts, as indices of the log; those of the day where it names no sessions, and all
 * where it has no days.
 * @param label of the session @param today serial number of the day
 */
export function sessionRows({ shot, session, date }: ShootLog, label: string, today: number): number[] {
  if (session) return shot.filter((index) => levelOf(readingAt(session, index)).trim() === label.trim());
  return date ? shot.filter((index) => dayAt(date, index) === today) : [...shot];
}

/**
 * The rows of the session before: those that end with the log's last attempt that is not of this one.
 * @param rows of this session
 */
export function rowsBefore(shoot: ShootLog, rows: readonly number[]): number[] {
  const { shot, session, date } = shoot;
  const own = new Set(rows);
  const last = shot.filter((index) => !own.has(index)).at(-1);
  if (last === undefined) return [];
  const before = sessionRows(shoot, session ? levelOf(readingAt(session, last)) : "", date ? dayAt(date, last) : NaN);
  return before.filter((index) => !own.has(index));
}

/** The question that is asked of them. */
function questionOf({ places }: ShootLog): AttemptsQuestion {
  return {
    position: { as: places.position.as, heading: places.position.column.heading.text },
    outcome: places.outcome.heading.text,
    ...(places.measured && { measured: places.measured.heading.text }),
    drivers: [],
    sessions: [],
  };
}

/** How far it bends in this session; undefined while no attempt tells anything. */
export function sessionReach(shoot: ShootLog, rows: readonly number[], confidence = 0.95): ReachAnswer | undefined {
  if (rows.length === 0) return undefined;
  try {
    return analyseReach(someRows(shoot.log, rows), {
      ...questionOf(shoot),
      at: {},
      probabilities: USUAL_PROBABILITIES,
      confidence,
    });
  } catch (problem) {
    if (problem instanceof NoAnswer) return undefined;
    throw problem;
  }
}

export interface ProposedGap {
  /** In the log's unit. */
  readonly gap: number;
  /** Where and why, then when it is enough. */
  readonly sentences: readonly Said[];
}

/**
 * Where the obstacle goes next: by this session's attempts, beginning from what the one before told.
 * @param rows of this session
 * @param step of the ruler, in the log's unit
 */
export function proposedGap(shoot: ShootLog, rows: readonly number[], step: number): ProposedGap {
  const attemptsOf = (some: readonly number[]) => readAttempts(someRows(shoot.log, some), questionOf(shoot)).rows;
  const attempts = attemptsOf(rows);
  const { unit } = shoot;
  // The rule is in inches or millimetres.
  const ruled = unit === "cm" ? "mm" : unit;
  const to = (value: number) => convertUnit(value, unit, ruled);
  const asAsked = (some: readonly Attempt[]) => ({
    bounds: some.map(({ bound }) => to(bound)),
    known: some.map(({ known }) => known),
  });
  const next: NextSetting = nextSetting(
    { ...asAsked(attempts), before: asAsked(attemptsOf(rowsBefore(shoot, rows))) },
    { unit: ruled, step: to(step), ballDiameter: to(shoot.ballDiameter) },
  );
  const gap = convertUnit(next.gap, ruled, unit);
  return { gap: Number(gap.toPrecision(12)), sentences: nextSentences(next, ruled, lastGap(attempts, shoot, to)) };
}

function lastGap(
  attempts: readonly Attempt[],
  { ballDiameter }: ShootLog,
  to: (value: number) => number,
): number | undefined {
  const last = [...attempts].reverse().find(({ required }) => Number.isFinite(required));
  return last && to(ballDiameter / 2 - last.required);
}

/** The usual divisions of a ruler in the unit, as typed. */
export const RULERS: Readonly<Record<ShootLog["unit"], readonly string[]>> = {
  in: ["1/8", "1/16", "1/32", "1/64"],
  mm: ["1", "0.5"],
  cm: ["0.1", "0.05"],
};

/** The ruler's division, in the unit. @param typed one of RULERS, or "" for the usual one */
export function stepOf(unit: ShootLog["unit"], typed: string): number {
  const read = typed === "" ? NaN : readLength(typed, unit);
  return typeof read === "number" && read > 0 ? read : unit === "cm" ? 0.1 : rulerStep(unit);
}

/** A length as typed, in the unit, or what is wrong with it. */
export function readLength(typed: string, unit: ShootLog["unit"]): number | { readonly why: string } {
  const number = typedNumber(typed);
  if (typeof number === "number") return number;
  const inches = unit === "in" ? parseInches(typed) : number;
  return typeof inches === "number" ? inches : unit === "in" && !typed.includes(",") ? inches : number;
}

/** What is odd about a gap that is typed; `out` where no obstacle can stand there. */
export function gapProblem({ places, unit }: ShootLog, gap: number): GapDoubt | undefined {
  return gapDoubt(
    { heading: { ...places.position.column.heading, unit }, readings: [{ kind: "number", value: gap }] },
    0,
  );
}

/** "12 attempts in session S9: 7 got by, 4 hit, 1 missed". */
export function sessionCounts(
  { session, date }: ShootLog,
  { attempts: { counts, log } }: ReachAnswer,
  label: string,
): string {
  const parts = [
    ...(counts.cleared > 0 ? [`${counts.cleared} got by`] : []),
    ...(counts.hit > 0 ? [`${counts.hit} hit`] : []),
    ...(counts.measured > 0 ? [`${counts.measured} measured`] : []),
    ...(counts.nothing > 0 ? [`${counts.nothing} missed`] : []),
  ];
  const where = session ? ` in session ${label}` : date ? " today" : "";
  return `${counted(log.rows.length, "attempt")}${where}: ${parts.join(", ")}.`;
}
