/** Next, for a log of attempts: where to set the obstacle now, and which setting goes with the farthest bend. */
import { useMemo } from "react";
import type { ReachAnswer } from "../../experiment/attempts/reach";
import { nextAttempts, nextAttemptsSentences } from "../../experiment/next/nextAttempts";
import { useSectionStyles } from "../frame/styles";

export function NextOfAttempts({ answer }: { answer: ReachAnswer }) {
  const section = useSectionStyles();
  const sentences = useMemo(() => nextAttemptsSentences(answer, nextAttempts(answer)), [answer]);
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
