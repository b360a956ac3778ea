/** What to shoot next, worked out beside the page: data only. */
import { capital, type Said } from "../../experiment/language/said";
import { analyseReach } from "../../experiment/attempts/reach";
import { NoAnswer } from "../../experiment/question/analysis";
import type { Choice } from "../../experiment/question/choice";
import { UnknownColumn } from "../../experiment/question/rowCheck";
import type { TrialLog } from "../../experiment/log/trialLog";
import { nextAttempts, nextAttemptsSentences } from "../../experiment/next/nextAttempts";
import {
  basisSentences,
  nextLine,
  proposalSentence,
  type NextProposals,
  type ProposalName,
} from "../../experiment/next/nextWords";
import { whatNext, type NextWish } from "../../experiment/next/whatNext";
import type { Figure } from "../plots/figure";
import { nextAttemptsFigure, nextFigure } from "../plots/nextFigure";
import type { ReachOrder } from "./reachJob";

export interface NextOrder {
  readonly log: TrialLog;
  readonly choice: Choice;
  readonly wish: NextWish;
  readonly plainFirst: boolean;
}

/** All that is shown of the next shots. */
export interface ShownNext {
  readonly line: Said;
  readonly basis: readonly Said[];
  readonly said: readonly { readonly name: ProposalName; readonly text: Said }[];
  readonly figure: Figure | undefined;
  /** What the sheet is made from. */
  readonly proposals: NextProposals;
}

const ORDER: readonly ProposalName[] = ["highest", "trade", "teaching"];

/** @throws Error saying why there is no answer */
export function* nextSteps({ log, choice, wish, plainFirst }: NextOrder): Generator<number, ShownNext> {
  yield 0;
  const next = saidWhy(() => whatNext(log, choice, wish, plainFirst));
  yield 0.9;
  const { highest, trade, teaching } = next;
  return {
    line: nextLine(next),
    basis: basisSentences(next),
    said: ORDER.flatMap((name) => {
      const proposal = next[name];
      return proposal ? [{ name, text: proposalSentence(name, proposal, next) }] : [];
    }),
    figure: nextFigure(next),
    proposals: { highest, trade, teaching, analysis: { choice: next.analysis.choice } },
  };
}

export interface ShownNextAttempts {
  readonly sentences: readonly Said[];
  readonly figure: Figure;
}

export interface NextAttemptsOrder extends ReachOrder {
  /** What may be set, and within which limits. */
  readonly wish: Pick<NextWish, "limits" | "held">;
}

/** Of a log of attempts. @throws Error saying why there is no answer */
export function* nextAttemptsSteps({ log, question, wish }: NextAttemptsOrder): Generator<number, ShownNextAttempts> {
  yield 0;
  const answer = saidWhy(() => analyseReach(log, question));
  yield 0.7;
  const next = saidWhy(() => nextAttempts(answer, wish));
  yield 0.9;
  return { sentences: nextAttemptsSentences(answer, next), figure: nextAttemptsFigure(answer, next) };
}

/** What the reader can mend, as a sentence. */
function saidWhy<T>(work: () => T): T {
  try {
    return work();
  } catch (problem) {
    if (problem instanceof RangeError || problem instanceof NoAnswer || problem instanceof UnknownColumn)
      throw new Error(`${capital(problem.message.replace(/\.$/, ""))}.`);
    throw problem;
  }
}
