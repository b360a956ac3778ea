/** What the Shoot view says: the answer so far in one line, the last attempts, what stands in the way. */
import { say, type Said } from "../language/said";
import { asRead } from "../../bank/ruler";
import { lengthAlone, lengthText } from "../attempts/lengthWords";
import type { ReachAnswer } from "../attempts/reach";
import { reachSentences } from "../attempts/reachWords";
import { untoldSentences } from "../attempts/untoldWords";
import { confidenceText, significant, withUnit } from "../language/wording";
import { evidenceOf } from "../log/outcomeWords";
import { outcomeOf, type Outcome } from "../log/outcome";
import { readingAt } from "../log/logColumns";
import { levelOf, numberOf } from "../log/reading";
import type { ShootLog } from "./shootLog";

/** For whoever stands around: it is said whatever else there is to say. */
export const CARE =
  "Nobody's face on the shot line at bed height while a ball is moving, nobody behind the pocket. Whoever sights the line wears eye protection.";

/** What each outcome is called on its button. */
export const OUTCOME_NAMES: Readonly<Record<Outcome, string>> = {
  made: "Got by, pocketed",
  cleared: "Got by",
  "hit obstacle": "Hit the obstacle",
  missed: "Missed",
};

/** A gap as the ruler has it, with its unit. */
export function gapText(gap: number, unit: ShootLog["unit"]): Said {
  return withUnit(unit === "in" ? asRead(gap).replace("-", "−") : significant(gap, 4), unit);
}

/** The bend at one half with its interval, in one line, or what can be said of it. */
export function answerLine(answer: ReachAnswer, confidence = 0.95): Said {
  const half = answer.reach.find(({ probability }) => probability === 0.5);
  const { unit } = answer.attempts;
  if (!half || half.estimate === null || half.low === null || half.high === null) {
    const bound = half && (half.estimate ?? half.low ?? half.high) !== null;
    return ((bound ? undefined : untoldSentences(answer)[0]) ?? reachSentences(answer)[0])?.text ?? "";
  }
  return say`Half of the attempts bend ${lengthText(half, unit)} or more (${confidenceText(confidence)} % interval ${lengthAlone(half, unit, half.low)} to ${lengthText(half, unit, half.high)}).`;
}

/** One of the last attempts. */
export interface ShownAttempt {
  /** Sheet row, from 0. */
  readonly row: number;
  /** Undefined for a word that says nothing plain, or where only a bend was measured. */
  readonly outcome: Outcome | undefined;
  readonly word: string;
  readonly gap: number;
}

/** The last attempts of some rows, oldest first. */
export function lastAttempts(
  { log, places, ballDiameter }: ShootLog,
  rows: readonly number[],
  most: number,
): ShownAttempt[] {
  return rows.slice(-most).map((index) => {
    const reading = readingAt(places.outcome, index);
    const evidence = evidenceOf(reading, true);
    const position = numberOf(readingAt(places.position.column, index));
    return {
      row: log.rows[index] ?? NaN,
      outcome: outcomeOf(reading) ?? ("says" in evidence && evidence.says === "hit" ? "hit obstacle" : undefined),
      word: levelOf(reading),
      gap: places.position.as === "gap" ? position : ballDiameter / 2 - position,
    };
  });
}
