/** Answers to how far it bends that stand already: a fit that knows sessions takes seconds, so none is made twice. */
import type { ReachAsked } from "../frame/view";
import type { ShownReach } from "./reachJob";

const answers = new WeakMap<ReachAsked, ShownReach>();

export function keepAnswer(asked: ReachAsked, answer: ShownReach): void {
  answers.set(asked, answer);
}

/** What was answered to exactly this; undefined where nothing was yet. */
export function answerTo(asked: ReachAsked | undefined): ShownReach | undefined {
  return asked && answers.get(asked);
}
