/**
 * Tables, cloths or other levels of a log of attempts compared: by the bend at one half, where the response that was
 * named is only what the obstacle asked for.
 */
import { asksOfObstacle } from "../log/attemptLog";
import type { TrialLog } from "../log/trialLog";
import type { DriverChoice } from "../question/choice";
import { columnNamed } from "../question/rowCheck";
import type { ReachQuestion } from "./reach";
import { guessReach, questionOf, type ReachChoice } from "./reachChoice";

export interface AttemptsComparison {
  /** Heading of the column whose levels are compared. */
  readonly among: string;
  readonly drivers: readonly DriverChoice[];
  /** What makes a session; the log's own when left out. */
  readonly sessions?: readonly string[];
  readonly confidence: number;
}

/** Whether a column of that heading says in a log of attempts what the obstacle asked for. */
export function comparesAttempts(log: TrialLog, response: string): boolean {
  return asksOfObstacle(log, columnNamed(log, response));
}

/**
 * @param kept how the log is asked how far it bends; its columns are guessed when left out
 * @throws UnknownColumn when no column is headed as `among` says
 */
export function comparisonOfAttempts(
  log: TrialLog,
  { among, drivers, sessions, confidence }: AttemptsComparison,
  kept?: ReachChoice,
): ReachQuestion | undefined {
  const choice = kept ?? guessReach(log);
  if (!choice) return undefined;
  const heading = columnNamed(log, among).heading.text;
  const others = drivers.filter((driver) => driver.heading !== heading);
  const asked = new Set([heading, ...others.map((driver) => driver.heading)]);
  const taken = new Set([choice.position.heading, choice.outcome, choice.measured]);
  const { question } = questionOf(log, {
    ...choice,
    drivers: [{ heading, as: "category", degree: 1 }, ...others.filter((driver) => !taken.has(driver.heading))],
    sessions: (sessions ?? choice.sessions).filter((session) => !asked.has(session)),
    confidence,
  });
  return question;
}

/** Why the bend at one half is compared and not what was named. */
export function comparedSentence(response: string): string {
  return `${response} is what the obstacle asked for, not what the ball did, so the bend at one half is compared.`;
}
