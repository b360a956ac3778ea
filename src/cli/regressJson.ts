/** The answer of bendbook regress as JSON. */
import { toText, listOf, type Said } from "../experiment/language/said";
import type { Analysis } from "../experiment/question/analysis";
import { headingsOf } from "../experiment/question/choice";
import type { MadeAnalysis } from "../experiment/question/madeAnalysis";
import { madeSessions } from "../experiment/question/madeSessions";
import { plainTerms, type SessionAware } from "../experiment/question/sessionAware";
import { trustChecks, trustSentences } from "../experiment/trust/trustChecks";
import type { LogColumn } from "../experiment/log/trialLog";
import type { Term } from "../statistics/fit/estimates";
import { noSurer } from "../statistics/fit/withoutIntervals";
import { termTests } from "../statistics/fit/wholeTerms";
import { untested } from "../statistics/fit/withoutIntervals";
import type { RateAt } from "../experiment/question/madeRates";
import { readingErrorSentences, type ReadingErrors } from "../experiment/question/readingErrors";
import type { PredictedAt } from "../experiment/question/predictAt";
import type { AnswerAt } from "./askedAt";
import { groupsJson, madeGroupsJson } from "./groupsJson";
import { outsideJson, remarksJson } from "./table";

/** What every answer says of its question and rows. */
function rowsJson({ log, choice, check }: Omit<Analysis, "regression">): Record<string, unknown> {
  return {
    sheet: log.sheet,
    table: log.title,
    response: choice.response,
    confidence: choice.confidence,
    rowsRead: log.rows.length,
    rowsUsed: check.used.length,
    hiddenRows: log.hiddenRows,
    blankRows: log.blankRows,
    readAs: log.readAs,
    outsideTable: outsideJson(log),
    leftOut: remarksJson(check.leftOut),
    suspicious: remarksJson(check.suspicious),
  };
}

/** A coefficient as JSON. */
export function termJson({ label, estimate, standardError, t, df, p, low, high }: Term): unknown {
  return { term: label, estimate, standardError, t, df, p, low, high };
}

export function regressJson(
  analysis: Analysis,
  aware: SessionAware | undefined,
  at: AnswerAt<PredictedAt> | undefined,
  errors: readonly ReadingErrors[],
): Record<string, unknown> {
  const { choice, regression } = analysis;
  const untold = aware?.lead ? aware.untold : [];
  return {
    ...rowsJson(analysis),
    scatter: choice.scatter ?? { as: "alike" },
    weights: choice.weight ?? null,
    terms: plainTerms(analysis, aware).map(termJson),
    notEstimated: regression.unestimated,
    tests: plainTests(analysis, untold),
    residual: regression.residual,
    ...spreadJson(analysis),
    ...groupsJson(analysis),
    rSquared: regression.rSquared,
    rSquaredAbout: choice.constant ? "mean" : "zero",
    F: untold.length > 0 ? untested(regression.F.df1) : regression.F,
    checks: checksJson(analysis),
    ...sessionJson(aware),
    ...(at && { at: predictedJson(at) }),
    ...(errors.length > 0 && { readingErrors: readingErrorsJson(analysis, errors) }),
  };
}

/** A sentence as it is read; none where there is none. */
const shownOrNone = (text: Said | undefined): string | undefined => text && toText(text);

/** Of each driver that was read twice, what its errors do to its effect. */
function readingErrorsJson(analysis: Analysis, errors: readonly ReadingErrors[]): unknown {
  const sentences = readingErrorSentences(analysis, errors);
  return errors.map(({ driver, again, ...found }, index) => ({
    driver: analysis.columns[driver]?.heading.text,
    again: again.heading.text,
    ...found,
    sentence: shownOrNone(sentences[index]?.text),
  }));
}

/** Tests of whole drivers; of one of which the sessions allow no interval, no test either. */
function plainTests({ regression, columns }: Analysis, untold: readonly LogColumn[]): unknown[] {
  return termTests(regression).map(({ name, drivers, test }) => {
    const bare = drivers.some((index) => untold.some((column) => column === columns[index]));
    return { term: name, ...(bare ? untested(test.df1) : test) };
  });
}

/** What is expected at settings: of an average session, and of a new one where sessions are shifted. */
function predictedJson({
  settings,
  found: { mean, single, newSession, beyond, sentence },
}: AnswerAt<PredictedAt>): unknown {
  return {
    settings,
    mean: mean ?? null,
    single: single ?? null,
    ...(newSession && { newSession }),
    beyondTheRows: beyond,
    sentence: shownOrNone(sentence),
  };
}

/** What the rows say against the fit. */
function checksJson(analysis: Analysis): unknown {
  const checks = trustChecks(analysis);
  const { unequalSpread: spread, lackOfFit: lack, leftOut } = checks;
  return {
    unequalSpread: spread
      ? {
          chiSquare: spread.chiSquare,
          df: spread.df,
          p: spread.p,
          ...(spread.together !== undefined && { together: spread.together }),
        }
      : null,
    spreadByLevel: checks.consistency.map(({ column, groups, found, together }) => ({
      column: column.heading.text,
      groups,
      ...(together && { together }),
      ...("why" in found ? { notTold: found.why } : { levels: found.levels, ...found.test }),
    })),
    lackOfFit: lack ?? null,
    leftOut: leftOut ?? null,
    sentences: trustSentences(analysis, checks).map(({ text }) => toText(text)),
  };
}

/** What a session column says of a plain fit, and the fit that it recommends. */
function sessionJson(aware: SessionAware | undefined): Record<string, unknown> {
  if (!aware) return {};
  const { column, groups, still, differ, lead, sentences, recommended } = aware;
  return {
    sessionAware: {
      column: column.heading.text,
      groups,
      neverChangeWithin: still.map(({ heading }) => heading.text),
      groupsDifferP: differ,
      lead,
      sentences: sentences.map(({ text }) => toText(text)),
      rowsUsed: recommended.check.used.length,
      terms: recommended.regression.terms.map(termJson),
      tests: termTests(recommended.regression).map(({ name, test }) => ({ term: name, ...test })),
      ...spreadJson(recommended),
      ...groupsJson(recommended),
      ...(lead && { checks: checksJson(recommended) }),
    },
  };
}

/** Standard deviations between groups and within, where groups were taken as random. */
function spreadJson({ choice: { scatter }, regression }: Analysis): Record<string, unknown> {
  const { spread } = regression;
  if (!spread || scatter?.as !== "random") return {};
  const ends = regression.spreadIntervals();
  const session = listOf(headingsOf(scatter));
  return {
    spread: { [session]: spread.between, residual: spread.within },
    spreadIntervals: ends ? { [session]: ends.between, residual: ends.within } : null,
  };
}

export function madeJson(analysis: MadeAnalysis, rate: AnswerAt<RateAt> | undefined): Record<string, unknown> {
  const { logistic: fit } = analysis;
  return {
    ...rowsJson(analysis),
    made: fit.made,
    method: fit.method,
    intervals: intervalsOf(analysis),
    scatter: analysis.choice.scatter ?? { as: "alike" },
    terms: noSurer(fit.terms, madeSessions(analysis)?.recommended.logistic.terms).map(termJson),
    notEstimated: fit.unestimated,
    ...madeGroupsJson(analysis),
    ...madeSessionJson(analysis),
    deviance: fit.deviance,
    nullDeviance: fit.nullDeviance,
    rSquared: null,
    ...(rate && {
      rate: {
        settings: rate.settings,
        chance: rate.found.chance?.chance ?? null,
        low: rate.found.chance?.low ?? null,
        high: rate.found.chance?.high ?? null,
        sentence: shownOrNone(rate.found.sentence),
      },
    }),
  };
}

/** How the intervals of a chance were made. */
function intervalsOf({ logistic: { method, question } }: MadeAnalysis): string {
  const penalised = method === "penalised likelihood";
  if (!question.by) return penalised ? "profile" : "Wald";
  if (question.shifted) return "random shift by group";
  return penalised ? "jackknife by group" : "CR2";
}

/** What sessions say of a plain chance, and the fit that leads. */
function madeSessionJson(analysis: MadeAnalysis): Record<string, unknown> {
  const aware = madeSessions(analysis);
  if (!aware) return {};
  const { column, groups, still, sentences, recommended } = aware;
  return {
    sessionAware: {
      column: column.heading.text,
      groups,
      neverChangeWithin: still.map(({ heading }) => heading.text),
      lead: true,
      sentences: sentences.map(({ text }) => toText(text)),
      rowsUsed: recommended.check.used.length,
      intervals: intervalsOf(recommended),
      terms: recommended.logistic.terms.map(termJson),
      ...madeGroupsJson(recommended),
    },
  };
}
