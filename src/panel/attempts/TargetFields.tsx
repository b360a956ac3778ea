/** How likely a target is, in one try and in several, worked out beside the page once typing rests. */
import { toText } from "../../experiment/language/said";
import { Field, Input } from "@fluentui/react-components";
import { useEffect, useState } from "react";
import type { ReachChoice } from "../../experiment/attempts/reachChoice";
import { useSectionStyles } from "../frame/styles";
import type { ReachAsked } from "../frame/view";
import { JobBar } from "../worker/JobBar";
import { useJob } from "../worker/useJob";

interface Props {
  readonly asked: ReachAsked;
  readonly choice: ReachChoice;
  readonly onChange: (choice: ReachChoice) => void;
}

/** Typing rests for so long before the chance is worked out, in ms. */
const RESTS = 400;

export function TargetFields({ asked, choice, onChange }: Props) {
  const styles = useSectionStyles();
  const { state, start, cancel } = useJob("target");
  const [cancelled, setCancelled] = useState(false);
  const { target, tries } = choice;
  useEffect(() => {
    setCancelled(false);
    cancel();
    if (target.trim() === "") return;
    const timer = setTimeout(() => start({ log: asked.attempts.log, question: asked.question, target, tries }), RESTS);
    return () => clearTimeout(timer);
  }, [asked, target, tries, start, cancel]);
  return (
    <>
      <h3 className={styles.subhead}>How likely is a target?</h3>
      <Field label={`Bend to get by (${asked.attempts.unit})`}>
        <Input value={target} onChange={(_, { value }) => onChange({ ...choice, target: value })} />
      </Field>
      <Field label="In so many tries of one session" hint="Empty is one.">
        <Input value={tries} inputMode="numeric" onChange={(_, { value }) => onChange({ ...choice, tries: value })} />
      </Field>
      {state.kind === "running" && (
        <JobBar
          doing="Working out the chance"
          share={state.share}
          onCancel={() => {
            cancel();
            setCancelled(true);
          }}
        />
      )}
      <div role="status">
        {state.kind === "done" && state.answer !== undefined && (
          <p className={styles.sentence} data-part="target">
            {toText(state.answer)}
          </p>
        )}
        {state.kind === "failed" && <p className={styles.sentence}>{state.message}</p>}
        {cancelled && <p className={styles.note}>Cancelled: type again to ask anew.</p>}
      </div>
    </>
  );
}
