/** Next, for a log of attempts: where to set the obstacle now, and which setting goes with the farthest bend. */
import { useMemo } from "react";
import { analyseReach } from "../../experiment/attempts/reach";
import { NoAnswer } from "../../experiment/question/analysis";
import type { ReachAsked } from "../frame/view";
import { nextAttempts, nextAttemptsSentences } from "../../experiment/next/nextAttempts";
import { useSectionStyles } from "../frame/styles";

export function NextOfAttempts({ asked: { question, attempts } }: { asked: ReachAsked }) {
  const section = useSectionStyles();
  const sentences = useMemo(() => {
    try {
      const answer = analyseReach(attempts.log, question);
      return nextAttemptsSentences(answer, nextAttempts(answer));
    } catch (problem) {
      if (problem instanceof NoAnswer) return [problem.message];
      throw problem;
    }
  }, [attempts, question]);
  return (
    <div data-view="next" className={section.stack}>
      <p className={section.note}>
        From the attempts so far. The question, with its drivers and sessions, is that of the Analysis view.
      </p>
      <div className={section.stack} data-part="proposals">
        {sentences.map((text) => (
          <p key={text} className={section.sentence}>
            {text}
          </p>
        ))}
      </div>
    </div>
  );
}
