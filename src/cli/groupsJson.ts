/** What JSON says of the sessions. */
import { toText } from "../experiment/language/said";
import type { Analysis } from "../experiment/question/analysis";
import type { MadeAnalysis } from "../experiment/question/madeAnalysis";
import { groupingSentences } from "../experiment/question/answer";

/**
 * How many there are, how they scatter among each other where that was estimated, and which structure was taken and
 * why.
 */
export function groupsJson(analysis: Analysis): Record<string, unknown> {
  const {
    question: { errors },
    spread,
  } = analysis.regression;
  if (!errors || errors.kind === "robust") return {};
  return {
    session: { groups: errors.by.levels.length, sd: spread?.between ?? null },
    structure: groupingSentences(analysis).map(({ text }) => toText(text)),
  };
}

/** The same of made or missed, the standard deviation in the logarithm of the odds. */
export function madeGroupsJson(analysis: MadeAnalysis): Record<string, unknown> {
  const { question, between } = analysis.logistic;
  return question.by
    ? {
        session: { groups: question.by.levels.length, sd: between ?? null },
        structure: groupingSentences(analysis).map(({ text }) => toText(text)),
      }
    : {};
}
