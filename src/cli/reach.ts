/** bendbook reach. */
import { say, toText } from "../experiment/language/said";
import { helps } from "../experiment/attempts/helpWords";
import { atLeastOnce, targetSentence } from "../experiment/attempts/targetWords";
import type { Estimated } from "../statistics/censored/censoredFit";
import { reachSentences } from "../experiment/attempts/reachWords";
import { analyseReach, type Reach, type ReachAnswer } from "../experiment/attempts/reach";
import { columnNamed } from "../experiment/question/rowCheck";
import type { TrialLog } from "../experiment/log/trialLog";
import { significant } from "../experiment/language/wording";
import { typedSettings } from "./atSettings";
import { readReachOptions, type ReachOptions } from "./reachOptions";
import { readLog } from "./readLog";
import { outsideJson, readAsLines, remarkLines, remarksJson, sheetLine, tableLines } from "./table";
import type { Voices } from "./usage";

/** Tells how far it bends, and how surely. @returns the exit code */
export async function reachCommand(args: string[], { print, warn }: Voices): Promise<number> {
  const options = readReachOptions(args);
  const log = await readLog(options.file, options, options.position.heading, warn);
  const answer = answerOf(log, options);
  print(options.json ? JSON.stringify(asJson(answer, options), null, 2) : asText(answer, options));
  return 0;
}

function answerOf(log: TrialLog, options: ReachOptions): ReachAnswer {
  const exact = (heading: string) => columnNamed(log, heading).heading.text;
  const drivers = options.drivers.map((driver) => ({ ...driver, heading: exact(driver.heading) }));
  return analyseReach(log, {
    position: { ...options.position, heading: exact(options.position.heading) },
    outcome: exact(options.outcome),
    ...(options.measured !== undefined && { measured: exact(options.measured) }),
    drivers,
    sessions: options.sessions.map(exact),
    ...(options.ball !== undefined && { ball: options.ball }),
    at: typedSettings(
      drivers.map(({ heading }) => columnNamed(log, heading)),
      options.at,
    ),
    probabilities: options.probabilities,
    confidence: options.confidence,
    misjudged: options.misjudged,
  });
}

function asJson(answer: ReachAnswer, { target, tries }: ReachOptions): unknown {
  const { attempts, fit } = answer;
  const { log } = attempts;
  return {
    sheet: log.sheet,
    table: log.title,
    unit: attempts.unit,
    ballDiameter: attempts.ballDiameter,
    confidence: fit.confidence,
    misjudged: answer.question.misjudged ?? 0,
    rowsRead: log.rows.length,
    rowsUsed: attempts.rows.length,
    readAs: [...log.readAs, ...attempts.notes],
    outsideTable: outsideJson(log),
    leftOut: remarksJson(attempts.leftOut),
    suspicious: remarksJson(attempts.suspicious),
    counts: attempts.counts,
    terms: fit.terms.map(({ label, estimate, standardError, low, high }) => ({
      term: label,
      estimate,
      standardError,
      low,
      high,
    })),
    scatter: { sd: fit.scatter.estimate, low: fit.scatter.low, high: fit.scatter.high },
    session: fit.session ? { groups: fit.session.groups, sd: fit.session.estimate } : null,
    logLikelihood: fit.logLikelihood,
    reach: answer.reach.map(reachJson),
    newSession: answer.newSession?.map(reachJson) ?? null,
    target: target === undefined ? null : targetJson(answer, target, tries),
    notTold: fit.untold,
    sentences: reachSentences(answer).map(({ text }) => toText(text)),
  };
}

function reachJson({ probability, estimate, low, high, gap }: Reach): unknown {
  return { probability, bend: estimate, low, high, gap };
}

function targetJson(answer: ReachAnswer, bend: number, tries: number): unknown {
  const one = answer.fit.chance(answer.settings, bend);
  const many = one && atLeastOnce(one, tries);
  const plain = (found: Estimated | undefined) =>
    found ? { chance: found.estimate, low: found.low, high: found.high } : null;
  return {
    bend,
    tries,
    oneAttempt: plain(one),
    atLeastOnce: plain(many),
    helps: helps(answer, bend).map(({ heading, to, chance, more }) => ({
      driver: heading,
      to: toText(to),
      ...plain(chance),
      moreBend: { estimate: more.estimate, low: more.low, high: more.high },
    })),
  };
}

function asText(answer: ReachAnswer, { target, tries }: ReachOptions): string {
  const { attempts, fit } = answer;
  const { log, unit } = attempts;
  const percent = say`${significant(100 * fit.confidence, 4)} %`;
  return [
    sheetLine(log),
    "",
    ...reachSentences(answer).map(({ text }) => toText(text)),
    ...(target === undefined ? [] : ["", toText(targetSentence(answer, String(target), String(tries)) ?? "")]),
    "",
    `Bend that an attempt gets at least${answer.newSession ? " in an average session" : ""} (${unit}):`,
    ...reachLines(answer.reach, toText(percent)),
    ...(answer.newSession
      ? ["", `The same in a session yet to come (${unit}):`, ...reachLines(answer.newSession, toText(percent))]
      : []),
    "",
    `Coefficients (${unit}, per unit of the driver):`,
    ...tableLines([
      ["term", "estimate", "standard error", toText(say`${percent} low`), toText(say`${percent} high`)],
      ...fit.terms.map(({ label, estimate, standardError, low, high }) => [
        label,
        cell(estimate),
        cell(standardError),
        cell(low),
        cell(high),
      ]),
    ]),
    ...remarkLines("Rows left out:", attempts.leftOut),
    ...remarkLines("Used, but worth a look:", attempts.suspicious),
    ...readAsLines(log),
  ].join("\n");
}

function reachLines(reach: readonly Reach[], percent: string): string[] {
  return tableLines([
    ["chance", "bend", `${percent} low`, `${percent} high`, "gap"],
    ...reach.map(({ probability, estimate, low, high, gap }) => [
      toText(say`${significant(100 * probability, 4)} %`),
      cell(estimate),
      cell(low),
      cell(high),
      cell(gap),
    ]),
  ]);
}

function cell(value: number | null): string {
  return value === null ? "not told" : toText(significant(value, 6));
}
