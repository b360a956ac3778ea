/** Next, for a log of attempts: where to set the obstacle now, and which setting goes with the farthest bend. */
import { useEffect } from "react";
import type { ThemeName } from "../frame/palette";
import type { ReachAsked } from "../frame/view";
import { Fold } from "../frame/Fold";
import { useSectionStyles } from "../frame/styles";
import { Warning } from "../frame/Warning";
import { FigureView } from "../plots/FigureView";
import { JobBar } from "../worker/JobBar";
import { useJob } from "../worker/useJob";

export function NextOfAttempts({ asked, theme }: { asked: ReachAsked; theme: ThemeName }) {
  const section = useSectionStyles();
  const { state, start, cancel } = useJob("nextAttempts");
  useEffect(() => {
    start({ log: asked.attempts.log, question: asked.question });
    return cancel;
  }, [asked, start, cancel]);
  const [line, ...more] = state.kind === "done" ? state.answer.sentences : [];
  return (
    <div data-view="next" className={section.stack}>
      {state.kind === "running" && <JobBar doing="Fitting the attempts" share={state.share} onCancel={cancel} />}
      {state.kind === "failed" && <Warning text={state.message} />}
      {state.kind === "done" && (
        <section className={section.stack} aria-label="The next attempt" data-part="proposals">
          <p className={section.line} data-part="line">
            {line}
          </p>
          <FigureView figure={state.answer.figure} theme={theme} />
          {more.map((text) => (
            <p key={text} className={section.sentence}>
              {text}
            </p>
          ))}
        </section>
      )}
      <Fold title="Why?" standing="what it is worked out from" part="why">
        <p className={section.note}>
          From the attempts so far. The question, with its drivers and sessions, is that of the Analysis view.
        </p>
      </Fold>
    </div>
  );
}
