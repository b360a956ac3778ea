/** The answer to how far it bends, worked out beside the page and kept until the next one is there. */
import { useEffect, useRef, useState } from "react";
import type { ReachAsked } from "../frame/view";
import { answerTo, keepAnswer } from "../worker/reachAnswers";
import type { ShownReach } from "../worker/reachJob";
import { useJob, type Job } from "../worker/useJob";

export interface ReachState {
  /** What is asked now. */
  readonly asked: ReachAsked;
  /** The answer that is shown. */
  readonly shown: ShownReach | undefined;
  /** True while that answers what was asked before. */
  readonly stale: boolean;
  readonly state: Job<"reach">["state"];
  /** The reader ended the fit. */
  readonly cancelled: boolean;
  again(): void;
  cancel(): void;
}

/** What is asked rests for so long before it is worked out, in ms. */
const RESTS = 150;

/** @returns undefined while nothing of the kind is asked */
export function useReach(asked: ReachAsked | undefined): ReachState | undefined {
  const { state, start, cancel } = useJob("reach");
  const [cancelled, setCancelled] = useState(false);
  const [kept, setKept] = useState<{ of: ReachAsked; answer: ShownReach }>();
  /** What the job that runs, or ran last, is about. */
  const about = useRef<ReachAsked>();
  useEffect(() => {
    setCancelled(false);
    // Whoever comes back from another view finds the answer that stands.
    if (!asked || answerTo(asked)) return;
    // Settings are typed letter by letter.
    const timer = setTimeout(() => {
      about.current = asked;
      start({ log: asked.attempts.log, question: asked.question });
    }, RESTS);
    return () => {
      clearTimeout(timer);
      cancel();
    };
  }, [asked, start, cancel]);
  useEffect(() => {
    if (state.kind !== "done" || !about.current) return;
    keepAnswer(about.current, state.answer);
    setKept({ of: about.current, answer: state.answer });
  }, [state]);
  if (!asked) return undefined;
  const again = () => {
    setCancelled(false);
    about.current = asked;
    start({ log: asked.attempts.log, question: asked.question });
  };
  const end = () => {
    cancel();
    setCancelled(true);
  };
  const standing = answerTo(asked);
  const stale = standing === undefined;
  return { asked, shown: standing ?? kept?.answer, stale, state, cancelled, again, cancel: end };
}
