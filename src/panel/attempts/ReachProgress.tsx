/** How far the fit of the attempts is, or why there is none. */
import { Button } from "@fluentui/react-components";
import { useSectionStyles } from "../frame/styles";
import { Warning } from "../frame/Warning";
import { JobBar } from "../worker/JobBar";
import type { ReachState } from "./useReach";

export function ReachProgress({ reach: { shown, stale, state, cancelled, again, cancel } }: { reach: ReachState }) {
  const styles = useSectionStyles();
  return (
    <div data-part="reach-progress">
      {state.kind === "running" && <JobBar doing="Fitting the attempts" share={state.share} onCancel={cancel} />}
      {state.kind === "failed" && <Warning text={state.message} />}
      {cancelled && (
        <>
          <p className={styles.note}>The fit was cancelled.</p>
          <Button onClick={again}>Work it out</Button>
        </>
      )}
      {shown && stale && state.kind !== "failed" && (
        <p className={styles.note}>Below stands the answer to what was asked before.</p>
      )}
    </div>
  );
}
