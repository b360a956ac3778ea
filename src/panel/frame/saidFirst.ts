/** What is said first of the answer that is shown. */
import { say } from "../../experiment/language/said";
import { answerSentences, type Sentence } from "../../experiment/question/answer";
import { comparisonSentences } from "../../experiment/question/comparison";
import { largestLine } from "../../experiment/question/driverEffects";
import { leadLine, restsOn } from "../../experiment/question/leadLine";
import { madeSentences } from "../../experiment/question/madeAnalysis";
import { plainWanted, sessionsInShort } from "../../experiment/question/sessionAware";
import type { PanelView } from "./view";

/**
 * The answer in one line, and what it rests on.
 * @param reached what is said of attempts, once that is worked out
 */
export function saidFirst(
  { analysis, comparison, made, aware }: PanelView,
  plainFirst: boolean,
  reached: readonly Sentence[] = [],
) {
  const sentences = comparison
    ? comparisonSentences(comparison)
    : made
      ? madeSentences(made)
      : analysis
        ? answerSentences(analysis)
        : reached;
  const line = analysis && !comparison ? largestLine(analysis) : leadLine(sentences);
  const sessions = aware && !plainWanted(aware, plainFirst) ? say` ${sessionsInShort(aware)}` : "";
  return { line, by: say`${restsOn(sentences, line)}${sessions}` };
}
