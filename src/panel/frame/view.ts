/**
 * From a sheet's cells and the user's settings to everything that the panel shows. Pure.
 */
import { listOf } from "../../experiment/language/said";
import { comparedSentence, comparesAttempts, comparisonOfAttempts } from "../../experiment/attempts/compareAttempts";
import { readAttempts, type Attempts } from "../../experiment/attempts/attemptRows";
import { nothingTold, type ReachQuestion } from "../../experiment/attempts/reach";
import { guessReach, leadsWithReach, questionOf, type ReachChoice } from "../../experiment/attempts/reachChoice";
import { analyse, NoAnswer, type Analysis } from "../../experiment/question/analysis";
import { answerSentences } from "../../experiment/question/answer";
import {
  guessChoice,
  headingsOf,
  type Choice,
  type DriverChoice,
  type ScatterChoice,
} from "../../experiment/question/choice";
import { compareLevels, sessionAwareComparison, type ComparisonAnswer } from "../../experiment/question/comparison";
import { analyseMade, type MadeAnalysis } from "../../experiment/question/madeAnalysis";
import { leadingMade, madeSessions, type MadeSessions } from "../../experiment/question/madeSessions";
import { guessComparison, guessMade, readMargin, type CompareChoice } from "../../experiment/question/otherQuestions";
import { OUTCOMES } from "../../experiment/log/outcome";
import { checkRowsInSteps, UnknownColumn, type RowCheck } from "../../experiment/question/rowCheck";
import { leading, plainWanted, sessionAware, type SessionAware } from "../../experiment/question/sessionAware";
import { noticedOrder, orderColumns } from "../../experiment/trust/orderWithin";
import { findTrialLogs, trialLogAt, trialLogsInSteps, type TrialLog } from "../../experiment/log/trialLog";
import { memo } from "../../statistics/numeric/memo";
import type { SheetData } from "../../workbook/port";
import type { QuestionKind, PanelSettings } from "./settings";

/** A question of how far it bends, with the attempts that it reads. */
export interface ReachAsked {
  readonly question: ReachQuestion;
  readonly attempts: Attempts;
}

export interface PanelView {
  readonly logs: readonly TrialLog[];
  readonly log: TrialLog | undefined;
  /** The kind of question that is asked. */
  readonly ask: QuestionKind;
  /**
   * What explains a number, kept or guessed, less what the sheet no longer has; there whatever kind of question is
   * asked.
   */
  readonly choice: Choice | undefined;
  /** What makes a shot, likewise, when that is asked. */
  readonly makes: Choice | undefined;
  /** Which levels differ, likewise, when that is asked. */
  readonly compare: CompareChoice | undefined;
  /** Headings that the kept question names and the sheet does not have now; they come back with the column. */
  readonly missing: readonly string[];
  /** The fit that is shown, of a number; a comparison's among them. */
  readonly analysis: Analysis | undefined;
  /** The comparison that is shown. */
  readonly comparison: ComparisonAnswer | undefined;
  readonly made: MadeAnalysis | undefined;
  /** What the sessions mean for it, where shots come in sessions and the question does not say how they go together. */
  readonly madeSessions: MadeSessions | undefined;
  /** How far it bends, as it is asked, and the answer, when that is asked. */
  readonly reaches: ReachChoice | undefined;
  /** What is to be worked out for that: a fit that knows sessions takes seconds, so that it is done beside the page. */
  readonly reachAsked: ReachAsked | undefined;
  /**
   * What the sessions mean for the plain fit, where rows come in sessions and the question does not say how they go
   * together.
   */
  readonly aware: SessionAware | undefined;
  /** Heading of what says the order of the shots within a session; null where nothing does, or it is not asked. */
  readonly order: string | null;
  readonly check: RowCheck | undefined;
  /** Why there is no answer, or what in the question could not be used. */
  readonly problem: string | undefined;
}

const NOTHING = {
  logs: [],
  log: undefined,
  choice: undefined,
  makes: undefined,
  compare: undefined,
  missing: [],
  analysis: undefined,
  comparison: undefined,
  made: undefined,
  madeSessions: undefined,
  reaches: undefined,
  reachAsked: undefined,
  aware: undefined,
  order: null,
  check: undefined,
  problem: undefined,
};

const logMemo = memo<{ readonly logs: readonly TrialLog[]; readonly log: TrialLog | undefined }>(2);

/** The logs on the sheet and the one whose headings the user named; read once per reading of the sheet. */
function logsOf(data: SheetData, settings: PanelSettings) {
  return keptLogs(data, settings, () => findTrialLogs(data, settings));
}

function keptLogs(data: SheetData, { units, headingRow, takeIn = [] }: PanelSettings, find: () => TrialLog[]) {
  return logMemo(data, [JSON.stringify([units, takeIn]), headingRow], () => ({
    logs: find(),
    log: headingRow === undefined ? undefined : trialLogAt(data, headingRow, units),
  }));
}

/**
 * Works out in steps what panelView needs of a long log, and remembers it, so that the view then comes at once. The
 * steps are worth it for what explains a number, which goes over all rows; other questions are one step.
 */
export function* viewInSteps(data: SheetData, settings: PanelSettings): Generator<void> {
  const logs = yield* trialLogsInSteps(data, settings);
  keptLogs(data, settings, () => logs);
  yield;
  const log = logIn(data, settings);
  const explains = log && askOf(log, settings) === "explain" ? explained(log, settings).there?.choice : undefined;
  if (!log || !explains) return;
  try {
    yield* checkRowsInSteps(log, explains);
    yield;
    const analysis = analysed(log, explains);
    yield;
    const shown = leading(analysis, settings.plainFirst);
    yield;
    answerSentences(shown);
  } catch (problem) {
    // Whoever asks for the view is told.
    if (!(problem instanceof NoAnswer || problem instanceof UnknownColumn)) throw problem;
  }
}

const analysisMemo = memo<Analysis>(2);

/** The answer; asked again on the same log, the same. */
function analysed(log: TrialLog, choice: Choice): Analysis {
  return analysisMemo(log, [JSON.stringify(choice)], () => analyse(log, choice));
}

/** The log that is looked at: the one whose headings or table was named, else the largest. */
export function logIn(data: SheetData, settings: PanelSettings): TrialLog | undefined {
  const { logs, log: named } = logsOf(data, settings);
  if (settings.headingRow !== undefined) return named;
  return logs.find(({ title }) => title === settings.table) ?? logs[0];
}

export function panelView(data: SheetData, settings: PanelSettings): PanelView {
  const view = withoutOrder(data, settings);
  const answer = view.analysis ?? view.made;
  return answer ? { ...view, order: orderOf(answer, settings.order) } : view;
}

/** What the reader chose as the order, as long as the answer can use it; otherwise what a heading says. */
function orderOf(answer: Pick<Analysis, "log" | "check" | "response" | "columns">, chosen?: string): string | null {
  if (chosen === "") return null;
  const offered = orderColumns(answer).map(({ heading }) => heading.text);
  return chosen !== undefined && offered.includes(chosen) ? chosen : (noticedOrder(answer)?.heading.text ?? null);
}

function withoutOrder(data: SheetData, settings: PanelSettings): PanelView {
  const nothing = { ...NOTHING, ask: settings.ask ?? ("explain" as const) };
  if (data.values.length === 0)
    return {
      ...nothing,
      problem: `Sheet "${data.sheet}" is empty. Open a log, or type headings and trials and come back.`,
    };
  const { logs } = logsOf(data, settings);
  const log = logIn(data, settings);
  if (!log) {
    const where =
      settings.headingRow === undefined
        ? `Sheet "${data.sheet}" has`
        : `Row ${settings.headingRow + 1} of sheet "${data.sheet}" has`;
    return {
      ...nothing,
      logs,
      problem: `${where} no headings with rows of trials below them. Put a heading over each column, or name the row of headings under Choose rows.`,
    };
  }
  const ask = askOf(log, settings);
  const { explains, there } = explained(log, settings);
  const here = { ...nothing, ask, logs, log, choice: there?.choice ?? explains };
  if (ask === "compare") return comparedView(here, log, settings);
  if (ask === "reach") return reachView(here, log, settings);
  if (ask === "made") return madeView(here, log, settings);
  if (!explains || !there) return untold(here, log, "No column holds numbers, so there is nothing to explain yet.");
  const { choice, missing } = there;
  if (!choice) return { ...here, missing, problem: notOnSheet(explains.response) };
  const question = { ...here, missing };
  return answered(question, () => {
    const plain = analysed(log, choice);
    const aware = sessionAware(plain);
    const analysis = leading(plain, settings.plainFirst);
    return { ...question, analysis, aware: aware?.lead ? aware : undefined, check: analysis.check };
  });
}

/** A log of attempts is first asked how far it bends, unless its reader has asked something else of it. */
function askOf(log: TrialLog, settings: PanelSettings): QuestionKind {
  return settings.ask ?? (settings.choice === undefined && leadsWithReach(log) ? "reach" : "explain");
}

/** What explains a number, kept or guessed, and as much of it as the sheet has. */
function explained(log: TrialLog, settings: PanelSettings) {
  const explains = sure(settings.choice ?? guessChoice(log), settings);
  return { explains, there: explains && presentChoice(log, explains) };
}

/** A question with the confidence that the person prefers. */
function sure<Asked extends { readonly confidence: number }>(
  asked: Asked | undefined,
  { confidence }: PanelSettings,
): Asked | undefined {
  return asked && confidence !== undefined ? { ...asked, confidence } : asked;
}

const NO_TRIALS =
  "There are no trials under the headings yet. Type what you measured, one shot a row, and the answer appears here.";

/** A question that the log cannot be asked. @param why where it has rows */
function untold(here: PanelView, { rows }: TrialLog, why: string): PanelView {
  return { ...here, problem: rows.length === 0 ? NO_TRIALS : why };
}

function reachView(here: PanelView, log: TrialLog, settings: PanelSettings): PanelView {
  const wanted = sure(settings.reach ?? guessReach(log), settings);
  if (!wanted)
    return untold(
      here,
      log,
      `This needs a log of attempts: a gap of the obstacle, or the bend that it asked for, and an Outcome column with ${listOf(OUTCOMES, "or")} in each row.`,
    );
  const { question, missing } = questionOf(log, wanted);
  const asked = { ...here, reaches: wanted, missing };
  return answered(asked, () => {
    // The same as long as the question is, whatever target is typed.
    const reachAsked = reachMemo(log, [JSON.stringify(question)], () => ({
      question,
      attempts: readAttempts(log, question),
    }));
    const { rows, leftOut, suspicious } = reachAsked.attempts;
    const check = { used: rows.map(({ index }) => index), leftOut, suspicious };
    return rows.length > 0
      ? { ...asked, reachAsked, check }
      : { ...asked, check, problem: nothingTold(reachAsked.attempts) };
  });
}

const reachMemo = memo<ReachAsked>(2);

function madeView(here: PanelView, log: TrialLog, settings: PanelSettings): PanelView {
  const wanted = sure(settings.made ?? guessMade(log), settings);
  if (!wanted) {
    const empty = log.columns.find(({ meaning }) => meaning === "made");
    const lead = empty
      ? `Nothing stands under ${empty.heading.text} yet: write`
      : "No column says how a shot ended. Head one Outcome and write";
    return untold(
      here,
      log,
      `${lead} ${listOf(OUTCOMES, "or")} for each shot (yes or no will do), or ask to explain a number.`,
    );
  }
  const { choice, missing } = presentChoice(log, wanted);
  const question = { ...here, makes: choice ?? wanted, missing };
  if (!choice) return { ...question, problem: notOnSheet(wanted.response) };
  return answered(question, () => {
    const plain = analyseMade(log, choice);
    const sessions = madeSessions(plain);
    const made = leadingMade(plain, settings.plainFirst);
    return { ...question, made, madeSessions: sessions, check: made.check };
  });
}

function comparedView(here: PanelView, log: TrialLog, settings: PanelSettings): PanelView {
  const wanted = sure(settings.comparison ?? guessComparison(log), settings);
  if (!wanted)
    return untold(
      here,
      log,
      "There is nothing to compare: a column of words with two kinds or more, such as tables or cloths, and a column of numbers are needed.",
    );
  const { there, missing } = present(log, wanted);
  if (!there) return { ...here, compare: wanted, missing, problem: notOnSheet(wanted.response) };
  const question = { ...here, compare: there, missing };
  if (!log.columns.some(({ heading }) => heading.text === wanted.among)) {
    return {
      ...question,
      problem: `The column "${wanted.among}" is not on this sheet now. Choose what to compare, or put its heading back.`,
    };
  }
  const margin = readMargin(there.margin, there.response);
  if (comparesAttempts(log, there.response))
    return answered(question, () => comparedAttempts(question, log, there, settings));
  return answered(question, () => {
    const { margin: _typed, slope, ...rest } = there;
    const asked = {
      ...rest,
      ...(slope !== undefined && log.columns.some(({ heading }) => heading.text === slope) && { slope }),
    };
    const plain = compareLevels(log, { ...asked, ...(typeof margin === "number" && { margin }) });
    const sessions = sessionAwareComparison(plain);
    const comparison = sessions && !plainWanted(sessions.aware, settings.plainFirst === true) ? sessions.better : plain;
    return {
      ...question,
      comparison,
      analysis: comparison.analysis,
      aware: sessions?.aware,
      check: comparison.analysis.check,
      problem: typeof margin === "string" ? `${margin} Until then nothing is said of being alike.` : undefined,
    };
  });
}

/** Where the response is only what the obstacle asked for, levels are compared by the bend at one half. */
function comparedAttempts(
  question: PanelView,
  log: TrialLog,
  { response, among, drivers, sessions, confidence }: CompareChoice,
  settings: PanelSettings,
): PanelView {
  const reaches = sure(settings.reach ?? guessReach(log), settings);
  const asked = { among, drivers, confidence, ...(sessions && { sessions }) };
  const half = reaches && comparisonOfAttempts(log, asked, reaches);
  if (!half) return question;
  const reachAsked = reachMemo(log, [JSON.stringify(half)], () => ({
    question: half,
    attempts: readAttempts(log, half),
  }));
  const { rows, leftOut, suspicious } = reachAsked.attempts;
  const check = { used: rows.map(({ index }) => index), leftOut, suspicious };
  const problem = rows.length > 0 ? comparedSentence(response) : nothingTold(reachAsked.attempts);
  return { ...question, reaches, check, problem, ...(rows.length > 0 && { reachAsked }) };
}

const notOnSheet = (response: string) =>
  `The column "${response}" is not on this sheet now. Choose another response, or put its heading back.`;

/** The view with its answer, or with the reason why there is none. */
function answered(question: PanelView, answer: () => PanelView): PanelView {
  try {
    return answer();
  } catch (problem) {
    if (problem instanceof NoAnswer) return { ...question, check: problem.check, problem: problem.message };
    if (problem instanceof UnknownColumn) return { ...question, problem: problem.message };
    throw problem;
  }
}

interface Named {
  readonly response: string;
  readonly drivers: readonly DriverChoice[];
  readonly scatter?: ScatterChoice;
  readonly sessions?: readonly string[];
  readonly weight?: string;
}

/** The question without the columns that the sheet has not; without a response there is none. */
function present<T extends Named>(
  log: TrialLog,
  wanted: T,
): { there: (Omit<T, keyof Named> & Named) | undefined; missing: string[] } {
  const has = new Set(log.columns.map(({ heading }) => heading.text));
  const missing = [
    wanted.response,
    ...wanted.drivers.map(({ heading }) => heading),
    ...(wanted.weight === undefined ? [] : [wanted.weight]),
  ].filter((heading) => !has.has(heading));
  if (!has.has(wanted.response)) return { there: undefined, missing };
  const { scatter, sessions, weight, response, drivers, ...rest } = wanted;
  const allThere = (headings: readonly string[]) => headings.every((heading) => has.has(heading));
  const together = {
    ...(scatter && allThere(headingsOf(scatter)) && { scatter }),
    ...(sessions && allThere(sessions) && { sessions }),
  };
  const weighed = weight !== undefined && has.has(weight) ? { weight } : {};
  return {
    there: { ...rest, ...together, ...weighed, response, drivers: drivers.filter(({ heading }) => has.has(heading)) },
    missing,
  };
}

/** The same for a whole choice: a joint effect goes when one of its drivers does. */
function presentChoice(log: TrialLog, wanted: Choice): { choice: Choice | undefined; missing: string[] } {
  const { there, missing } = present(log, wanted);
  if (!there) return { choice: undefined, missing };
  const asked = new Set(there.drivers.map(({ heading }) => heading));
  return {
    choice: { ...there, joint: wanted.joint.filter((pair) => pair.every((heading) => asked.has(heading))) },
    missing,
  };
}
