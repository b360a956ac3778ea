/** How single shots and sessions scattered in the rows that there are, for a plan of the next ones. */
import { say, type Said } from "../language/said";
import { convertUnit, kindOfUnit } from "../language/unitConversion";
import { confidenceText, counted, measured, withUnit } from "../language/wording";
import { analyse, NoAnswer, type Analysis } from "../question/analysis";
import { guessChoice, type Choice } from "../question/choice";
import { UnknownColumn } from "../question/rowCheck";
import { sessionsAmong } from "../question/sessionAware";
import { togetherBy } from "../question/sessions";
import type { LogColumn, TrialLog } from "../log/trialLog";

export interface EarlierSpreads {
  /** Standard deviation of single shots, within sessions where there are some, in the wanted unit. */
  readonly shots: number;
  /** That of sessions; undefined where no column says which shots go together. */
  readonly sessions: number | undefined;
  /** Where they are from, with their intervals. */
  readonly sentence: Said;
}

/**
 * Both spreads about the first question that the log suggests, sessions taken as its answer takes them; undefined where
 * it gives none in a length.
 * @param unit of the spreads
 * @param sessions headings of what makes a session, where the reader said so
 */
export function earlierSpreads(
  log: TrialLog,
  unit: "in" | "mm",
  sessions: readonly string[] = [],
): EarlierSpreads | undefined {
  const choice = guessChoice(log);
  const there = sessions.every((heading) => log.columns.some((column) => column.heading.text === heading));
  const plain = choice && tried(log, { ...choice, ...(there && { sessions }) });
  if (!plain || kindOfUnit(plain.response.heading.unit) !== "length") return undefined;
  const session = sessionsAmong(plain, plain.regression.question.drivers)?.column;
  const bySession = session && tried(log, { ...plain.choice, scatter: togetherBy("random", session) });
  const from = plain.response.heading.unit;
  const shown = (value: number) => withUnit(measured(convertUnit(value, from, unit), 3), unit);
  const rows = counted(plain.check.used.length, "earlier row");
  if (bySession?.regression.spread) return ofSessions(bySession, bySession.regression.spread, rows, unit);
  const { sd } = plain.regression.residual;
  if (!(sd !== null && sd > 0)) return undefined;
  return {
    shots: convertUnit(sd, from, unit),
    sessions: undefined,
    sentence: say`From ${rows}: single shots scatter ${shown(sd)} about the drivers. ${sessionsUntold(session)}`,
  };
}

function ofSessions(
  { regression, response }: Analysis,
  { between, within }: { readonly between: number; readonly within: number },
  rows: string,
  unit: "in" | "mm",
): EarlierSpreads | undefined {
  if (!(within > 0)) return undefined;
  const convert = (value: number) => convertUnit(value, response.heading.unit, unit);
  const { errors } = regression.question;
  const groups = errors && errors.kind !== "robust" ? errors.by.levels.length : 0;
  const ends = regression.spreadIntervals();
  const interval = (part: "between" | "within") =>
    ends
      ? say` (${confidenceText(regression.confidence)} % interval ${measured(convert(ends[part].low), 2)} to ${measured(convert(ends[part].high), 2)})`
      : "";
  return {
    shots: convert(within),
    sessions: convert(between),
    sentence: say`From ${rows} of ${counted(groups, "session")}: single shots scatter ${withUnit(measured(convert(within), 3), unit)}${interval("within")}, sessions ${withUnit(measured(convert(between), 3), unit)}${interval("between")}. From few sessions the second is hardly known: plan with the upper end too.`,
  };
}

function sessionsUntold(session: LogColumn | undefined): string {
  return session
    ? "Its sessions are too few to say how they scatter."
    : "No column says which of them go together, so how sessions scatter is not known.";
}

function tried(log: TrialLog, choice: Choice): Analysis | undefined {
  try {
    return analyse(log, choice);
  } catch (problem) {
    if (problem instanceof NoAnswer || problem instanceof UnknownColumn) return undefined;
    throw problem;
  }
}
