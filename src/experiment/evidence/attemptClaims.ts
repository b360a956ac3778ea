/**
 * Claims straight from the rows of a log of attempts: the bend of a marked attempt, its checks, and what all other
 * attempts led to expect of it.
 */
import { say, toText } from "../language/said";
import { censoredFit } from "../../statistics/censored/censoredFit";
import type { WithError } from "../../statistics/measure/expected";
import { readAttempts, type Attempt, type Attempts, type AttemptsQuestion } from "../attempts/attemptRows";
import { guessReach, questionOf, type ReachChoice } from "../attempts/reachChoice";
import { attemptColumns } from "../log/attemptLog";
import { readingAt } from "../log/logColumns";
import { evidenceOf } from "../log/outcomeWords";
import { yesOf } from "../log/outcome";
import { levelOf } from "../log/reading";
import type { LogColumn, TrialLog } from "../log/trialLog";
import { convertUnit } from "../language/unitConversion";
import { buildDriver, buildGrouping } from "../question/buildDriver";
import { columnNamed } from "../question/rowCheck";
import { sessionColumn } from "../question/sessions";
import { readSetting } from "../question/settingsAt";
import {
  bendFaults,
  finished,
  recordedAt,
  recordedColumns,
  type TriesBefore,
  type Claim,
  type EvidenceRules,
} from "./evidence";

/** Whether a log marks attempts as claimed: it has a column headed Claim. */
export function marksClaims(log: TrialLog): boolean {
  return attemptColumns(log) !== undefined && recordedColumns(log).claim !== undefined;
}

/**
 * The claims of a log of attempts. Rows with a word in a column headed Claim are claimed; without such a column the
 * farthest attempt of each shooter is.
 * @param choice whose columns, drivers and sessions tell what was to be expected; the log's own when left out
 */
export function attemptClaims(log: TrialLog, rules: EvidenceRules, choice?: ReachChoice): Claim[] {
  const has = (heading: string) => log.columns.some((column) => column.heading.text === heading);
  // A choice that is kept for another sheet says nothing of this one.
  const asked = choice && has(choice.position.heading) && has(choice.outcome) ? choice : guessReach(log);
  if (!asked) return [];
  const { question } = questionOf(log, asked);
  const attempts = readAttempts(log, question);
  const columns = recordedColumns(log);
  return claimedRows(attempts, columns).map((index) => {
    const { here, ...recorded } = recordedAt(log, columns, index, rules);
    const attempt = attempts.rows.find((one) => one.index === index);
    const length = (value: number) => convertUnit(value, attempts.unit, rules.unit);
    const bend = attempt && attempt.known !== "less than" ? length(attempt.bound) : undefined;
    const before = attempt && beforeOf(attempts, attempt, question, columns.shooter, length);
    return finished(
      {
        ...recorded,
        bend,
        shows: attempt?.known === "value" ? "measured" : "at least",
        before,
        tries: recorded.tries ?? before?.all,
      },
      bend === undefined ? [whyNothing(attempts, index)] : bendFaults({ kind: "number", value: bend }, bend, here),
    );
  });
}

function claimedRows({ log, rows }: Attempts, { claim, shooter }: ReturnType<typeof recordedColumns>): number[] {
  if (claim)
    return log.rows.flatMap((_, index) => {
      const reading = readingAt(claim, index);
      return reading.kind === "blank" || yesOf(reading) === 0 ? [] : [index];
    });
  const farthest = new Map<string, Attempt>();
  for (const attempt of rows) {
    const who = shooter ? levelOf(readingAt(shooter, attempt.index)) : "";
    const best = farthest.get(who);
    if (attempt.known !== "less than" && (!best || attempt.bound > best.bound)) farthest.set(who, attempt);
  }
  return [...farthest.values()].map(({ index }) => index).sort((a, b) => a - b);
}

/** Why a claimed row shows no bend. */
function whyNothing({ log, rows, leftOut, question }: Attempts, index: number): string {
  if (rows.some((one) => one.index === index))
    return "this attempt hit the obstacle, so it bent less than was asked for";
  const out = leftOut.find(({ row }) => row === log.rows[index]);
  if (out) return toText(say`${out.reason} (${out.address})`);
  const outcome = readingAt(columnNamed(log, question.outcome), index);
  const evidence = evidenceOf(outcome, true);
  return "says" in evidence ? "this attempt missed, which says nothing of the bend" : "no outcome is recorded";
}

function beforeOf(
  { log, rows }: Attempts,
  attempt: Attempt,
  question: AttemptsQuestion,
  shooter: LogColumn | undefined,
  length: (value: number) => number,
): TriesBefore {
  const who = (index: number) => (shooter ? levelOf(readingAt(shooter, index)) : "");
  const own = rows.filter(({ index }) => who(index) === who(attempt.index));
  const asked = Number.isFinite(attempt.required) ? attempt.required : attempt.bound;
  const asFar = own.filter(({ index, required }) => index < attempt.index && required >= asked - 1e-9);
  const expected = expectedOf(
    log,
    own.filter((one) => one !== attempt),
    attempt,
    question,
  );
  return {
    place: own.indexOf(attempt) + 1,
    all: own.length,
    asFar: asFar.length,
    gotBy: asFar.filter(({ known, bound, required }) => known === "at least" || bound > required).length,
    expected: "why" in expected ? expected : { value: length(expected.value), standard: length(expected.standard) },
  };
}

/** Fewer attempts do not tell what is to be expected of one. */
const LEAST = 8;
/** The half-width of a 95 % interval, in standard deviations. */
const HALF_95 = 1.959963984540054;

/**
 * What one attempt at the claimed one's settings was expected to bend, by all others: the mean of their fit, and the
 * scatter of attempts and sessions with the mean's own uncertainty.
 */
function expectedOf(
  log: TrialLog,
  others: readonly Attempt[],
  claimed: Attempt,
  { drivers, sessions }: AttemptsQuestion,
): WithError | { readonly why: string } {
  if (others.length < LEAST)
    return { why: `${others.length} other attempts are too few to tell what was to be expected` };
  const used = others.map(({ index }) => index);
  const columns = drivers.map(({ heading }) => columnNamed(log, heading));
  const built = drivers.map((driver, place) => buildDriver(driver, columns[place] as LogColumn, used));
  const read = built.map((driver, place) => {
    const column = columns[place] as LogColumn;
    return readSetting(driver, column.heading, levelOf(readingAt(column, claimed.index)), 0);
  });
  const unread = read.find((one) => "problem" in one);
  if (unread && "problem" in unread)
    return { why: toText(say`the others do not tell of its settings: ${unread.problem}`) };
  const settings = read.flatMap((one) => ("setting" in one ? [one.setting] : []));
  const grouping = sessions.length > 0 ? buildGrouping(sessionColumn(log, sessions), used) : undefined;
  const fit = censoredFit({
    bounds: others.map(({ bound }) => bound),
    known: others.map(({ known }) => known),
    drivers: built,
    confidence: 0.95,
    // Two sessions cannot tell how sessions differ.
    ...(grouping && grouping.levels.length > 2 && { sessions: grouping }),
  });
  const half = fit.surpassed(settings, 0.5, false, "standard error");
  const scatter = fit.scatter.estimate;
  if (!half || half.estimate === null || half.low === null || half.high === null || scatter === null)
    return { why: "the other attempts do not tell how bends scatter" };
  const between = fit.session?.estimate ?? 0;
  return {
    value: half.estimate,
    standard: Math.hypot(scatter, between, (half.high - half.low) / (2 * HALF_95)),
  };
}
