/** The answer of bendbook regress as text. */
import { toText, type Said } from "../experiment/language/said";
import type { Analysis } from "../experiment/question/analysis";
import { answerSentences, type Sentence } from "../experiment/question/answer";
import { madeSentences, type MadeAnalysis } from "../experiment/question/madeAnalysis";
import { madeSessions } from "../experiment/question/madeSessions";
import { plainTerms, type SessionAware } from "../experiment/question/sessionAware";
import { trustChecks, trustSentences } from "../experiment/trust/trustChecks";
import { counted } from "../experiment/language/wording";
import type { Term } from "../statistics/fit/estimates";
import type { RateAt } from "../experiment/question/madeRates";
import { readingErrorSentences, type ReadingErrors } from "../experiment/question/readingErrors";
import type { PredictedAt } from "../experiment/question/predictAt";
import type { AnswerAt } from "./askedAt";
import { readAsLines, remarkLines, sheetLine, tableLines, termRows } from "./table";

/**
 * The answer; where shots of one session are not separate evidence, the session-aware one first and the plain one after
 * it.
 */
export function regressText(
  analysis: Analysis,
  aware: SessionAware | undefined,
  at: AnswerAt<PredictedAt> | undefined,
  errors: readonly ReadingErrors[],
): string {
  const headline = "Coefficients, in the response's unit per unit of the driver:";
  const predicted = findings(at?.found.sentence);
  const checked = (one: Analysis) => [...withChecks(one), ...readingErrorSentences(one, errors)];
  if (!aware?.lead) return report(analysis, [...predicted, ...checked(analysis)], headline, analysis.regression.terms);
  const { recommended, sentences } = aware;
  return [
    report(recommended, [...sentences, ...predicted, ...checked(recommended)], headline, recommended.regression.terms),
    "",
    "For comparison, the plain fit that counts every row on its own:",
    ...tableLines(termRows(analysis.choice.confidence, plainTerms(analysis, aware))),
  ].join("\n");
}

function findings(text: Said | undefined): Sentence[] {
  return text === undefined ? [] : [{ kind: "finding", text }];
}

function withChecks(analysis: Analysis): Sentence[] {
  return [...answerSentences(analysis), ...trustSentences(analysis, trustChecks(analysis))];
}

/** As regressText: where shots come in sessions, the answer with them in mind first. */
export function madeText(analysis: MadeAnalysis, rate: AnswerAt<RateAt> | undefined): string {
  const aware = madeSessions(analysis);
  const leading = aware?.recommended ?? analysis;
  return report(
    leading,
    [...(aware?.sentences ?? []), ...findings(rate?.found.sentence), ...madeSentences(leading)],
    "Coefficients, in the logarithm of the odds per unit of the driver:",
    leading.logistic.terms,
  );
}

function report(
  { log, check, choice }: Omit<Analysis, "regression">,
  sentences: readonly Sentence[],
  headline: string,
  terms: readonly Term[],
): string {
  const lines = [
    sheetLine(log),
    "",
    ...sentences.map(({ text }) => toText(text)),
    "",
    headline,
    ...tableLines(termRows(choice.confidence, terms)),
  ];
  lines.push(
    ...remarkLines("Rows left out:", check.leftOut),
    ...remarkLines("Used, but worth a look:", check.suspicious),
  );
  if (log.blankRows > 0) lines.push("", `${counted(log.blankRows, "wholly blank row")} not counted as trials.`);
  lines.push(...readAsLines(log));
  return lines.join("\n");
}
