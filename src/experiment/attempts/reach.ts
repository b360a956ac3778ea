/**
 * How far does it bend, and how surely: the bend that an attempt gets at least, with a probability.
 */
import { toText, capital, say } from "../language/said";
import { censoredFit, type CensoredFit, type Estimated } from "../../statistics/censored/censoredFit";
import type { Driver, Setting } from "../../statistics/fit/designMatrix";
import type { Grouping } from "../../statistics/errors/errorModel";
import { NoAnswer } from "../question/analysis";
import { buildDriver, buildGrouping } from "../question/buildDriver";
import { readSetting } from "../question/settingsAt";
import { columnNamed } from "../question/rowCheck";
import { sessionColumn } from "../question/sessions";
import type { LogColumn, TrialLog } from "../log/trialLog";
import { readAttempts, type Attempts, type AttemptsQuestion } from "./attemptRows";

export interface ReachQuestion extends AttemptsQuestion {
  /** What is typed for a driver, by its heading as the sheet has it; nothing typed is the mean, or the first level. */
  readonly at: Readonly<Record<string, string>>;
  readonly probabilities: readonly number[];
  readonly confidence: number;
  /** Share of outcomes that are taken for the opposite of what happened, such as 0.02; none when left out. */
  readonly misjudged?: number;
}

/** Probabilities that are answered for where nobody names any. */
export const USUAL_PROBABILITIES: readonly number[] = [0.5, 0.9];

/** The bend that an attempt gets at least with a probability. */
export interface Reach extends Estimated {
  readonly probability: number;
  /** Of the obstacle that asks for that bend. */
  readonly gap: number | null;
}

export interface ReachAnswer {
  readonly attempts: Attempts;
  readonly question: ReachQuestion;
  readonly fit: CensoredFit;
  /** One per driver. */
  readonly columns: readonly LogColumn[];
  readonly settings: readonly Setting[];
  /** Headings of drivers whose setting lies beyond all rows. */
  readonly beyond: readonly string[];
  /** In an average session. */
  readonly reach: readonly Reach[];
  /** In a session yet to come; undefined where rows are on their own. */
  readonly newSession: readonly Reach[] | undefined;
}

/**
 * @throws UnknownColumn as readAttempts does
 * @throws NoAnswer when no row says anything of the bend, or a setting cannot be read
 */
export function analyseReach(log: TrialLog, question: ReachQuestion): ReachAnswer {
  const attempts = readAttempts(log, question);
  const used = attempts.rows.map(({ index }) => index);
  const check = { used, leftOut: attempts.leftOut, suspicious: attempts.suspicious };
  if (used.length === 0) throw new NoAnswer(nothingTold(attempts), check);
  const columns = question.drivers.map(({ heading }) => columnNamed(log, heading));
  const drivers = question.drivers.map((driver, index) => buildDriver(driver, columns[index] as LogColumn, used));
  const sessions =
    question.sessions.length > 0 ? buildGrouping(sessionColumn(log, question.sessions), used) : undefined;
  const fit = fitted(attempts, drivers, sessions, question, check);
  const read = drivers.map((driver, index) => {
    const { heading } = columns[index] as LogColumn;
    const one = readSetting(driver, heading, question.at[heading.text] ?? "", usualSetting(driver));
    if ("problem" in one) throw new NoAnswer(toText(one.problem), check);
    return one;
  });
  const settings = read.map(({ setting }) => setting);
  const average = question.probabilities.map((one) => reachAt(fit, attempts, settings, one, false));
  // At one half a session yet to come is like an average one: the curve's middle has no scatter in it.
  const toCome = () =>
    average.map((one) => (one.probability === 0.5 ? one : reachAt(fit, attempts, settings, one.probability, true)));
  return {
    attempts,
    question,
    fit,
    columns,
    settings,
    beyond: read.flatMap(({ beyond }, index) => (beyond ? [(columns[index] as LogColumn).heading.text] : [])),
    reach: average,
    newSession: sessions && fit.untold.length === 0 ? toCome() : undefined,
  };
}

function fitted(
  { rows }: Attempts,
  drivers: readonly Driver[],
  sessions: Grouping | undefined,
  { confidence, misjudged = 0 }: ReachQuestion,
  check: NoAnswer["check"],
): CensoredFit {
  try {
    return censoredFit({
      bounds: rows.map(({ bound }) => bound),
      known: rows.map(({ known }) => known),
      drivers,
      confidence,
      misjudged,
      ...(sessions && { sessions }),
    });
  } catch (problem) {
    if (problem instanceof RangeError) throw new NoAnswer(`${capital(problem.message)}.`, check);
    throw problem;
  }
}

/** Why attempts tell nothing of the bend. */
export function nothingTold({ log, leftOut, counts }: Attempts): string {
  if (log.rows.length === 0) return "There are no attempts under the headings yet.";
  const [first] = leftOut;
  if (!first) return `All ${counts.nothing} attempts missed for reasons that say nothing of the bend.`;
  return toText(
    say`None of the ${log.rows.length} rows says anything of the bend: ${first.reason} (${first.address}).`,
  );
}

/** A number at its mean, a category at its first level. */
export function usualSetting(driver: Driver): Setting {
  if (driver.kind === "category") return 0;
  let total = 0;
  for (let i = 0; i < driver.values.length; i++) total += driver.values[i] ?? 0;
  return total / driver.values.length;
}

/** The bend that an attempt at the settings gets at least with a probability. */
export function reachAt(
  fit: CensoredFit,
  { ballDiameter }: Pick<Attempts, "ballDiameter">,
  settings: readonly Setting[],
  probability: number,
  newSession: boolean,
): Reach {
  const found = fit.surpassed(settings, probability, newSession) ?? { estimate: null, low: null, high: null };
  return { probability, ...found, gap: found.estimate === null ? null : ballDiameter / 2 - found.estimate };
}
