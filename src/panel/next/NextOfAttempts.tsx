/** Next, for a log of attempts: where to set the obstacle now, and which setting goes with the farthest bend. */
import { toText } from "../../experiment/language/said";
import { useEffect, useMemo } from "react";
import { mergedNext } from "../../experiment/next/mergedNext";
import type { NextForm } from "../../experiment/next/nextWords";
import type { ThemeName } from "../frame/palette";
import type { ReachAsked } from "../frame/view";
import { Fold } from "../frame/Fold";
import { useSectionStyles } from "../frame/styles";
import { Warning } from "../frame/Warning";
import { FigureView } from "../plots/FigureView";
import { JobBar } from "../worker/JobBar";
import { useJob } from "../worker/useJob";
import { DriverLimits } from "./DriverLimits";

interface Props {
  readonly asked: ReachAsked;
  readonly theme: ThemeName;
  /** As kept with the workbook. */
  readonly kept: NextForm | undefined;
  readonly onKeep: (form: NextForm) => void;
}

export function NextOfAttempts({ asked, theme, kept, onKeep }: Props) {
  const section = useSectionStyles();
  const { log } = asked.attempts;
  const { drivers } = asked.question;
  const form = useMemo(() => mergedNext(log, { drivers }, kept), [log, drivers, kept]);
  const { limits, held } = form;
  const { state, start, cancel } = useJob("nextAttempts");
  useEffect(() => {
    start({ log, question: asked.question, wish: { limits, held } });
    return cancel;
  }, [log, asked, limits, held, start, cancel]);
  const [line = "", ...more] = state.kind === "done" ? state.answer.sentences : [];
  return (
    <div data-view="next" className={section.stack}>
      {state.kind === "running" && <JobBar doing="Fitting the attempts" share={state.share} onCancel={cancel} />}
      {state.kind === "failed" && <Warning text={state.message} />}
      {state.kind === "done" && (
        <section className={section.stack} aria-label="The next attempt" data-part="proposals">
          <p className={section.line} data-part="line">
            {toText(line)}
          </p>
          <FigureView figure={state.answer.figure} theme={theme} />
          {more.map((text) => (
            <p key={toText(text)} className={section.sentence}>
              {toText(text)}
            </p>
          ))}
        </section>
      )}
      {drivers.length > 0 && (
        <DriverLimits log={log} choice={asked.question} form={form} onChange={(part) => onKeep({ ...form, ...part })} />
      )}
      <Fold title="Why?" standing="what it is worked out from" part="why">
        <p className={section.note}>
          From the attempts so far. The question, with its drivers and sessions, is that of the Analysis view.
        </p>
      </Fold>
    </div>
  );
}
