/** How far it bends, worked out beside the page: a fit that knows sessions takes seconds. */
import type { Said } from "../../experiment/language/said";
import type { CensoredTerm } from "../../statistics/censored/censoredFit";
import { levelReaches, type LevelReach } from "../../experiment/attempts/levelReach";
import { analyseReach, type Reach, type ReachQuestion } from "../../experiment/attempts/reach";
import { reachSentences } from "../../experiment/attempts/reachWords";
import { targetSentence } from "../../experiment/attempts/targetWords";
import type { TrialLog } from "../../experiment/log/trialLog";
import type { Sentence } from "../../experiment/question/answer";
import type { Figure } from "../plots/figure";
import { reachFigures } from "../plots/reachFigures";

export interface ReachOrder {
  readonly log: TrialLog;
  readonly question: ReachQuestion;
}

/** All that is shown of an answer, as data. */
export interface ShownReach {
  readonly sentences: readonly Sentence[];
  readonly reach: readonly Reach[];
  readonly newSession: readonly Reach[] | undefined;
  readonly levels: readonly LevelReach[];
  readonly terms: readonly CensoredTerm[];
  readonly figures: readonly Figure[];
}

/** Yields the share that is done. @throws NoAnswer as analyseReach does */
export function* reachSteps({ log, question }: ReachOrder): Generator<number, ShownReach> {
  yield 0;
  const answer = analyseReach(log, question);
  yield 0.5;
  const sentences = reachSentences(answer);
  yield 0.75;
  const levels = levelReaches(answer);
  const terms = answer.fit.terms.map((term) => ({ ...term }));
  yield 0.85;
  const figures: Figure[] = [];
  for (const { make } of reachFigures(answer)) {
    figures.push(make());
    yield 0.95;
  }
  return { sentences, reach: answer.reach, newSession: answer.newSession, levels, terms, figures };
}

/** The chance of a target, as typed, in a sentence; undefined where none is typed. */
export function* targetSteps({
  log,
  question,
  target,
  tries,
}: ReachOrder & { readonly target: string; readonly tries: string }): Generator<number, Said | undefined> {
  yield 0;
  // The bends that a share of the attempts gets at least are not asked again.
  return targetSentence(analyseReach(log, { ...question, probabilities: [] }), target, tries);
}
