/** Fit the table's constants to the user's own rows, and see whether to trust model, regression or both. */
import { capital } from "../../experiment/language/said";
import { Button, Checkbox } from "@fluentui/react-components";
import { useEffect, useMemo, useState } from "react";
import { atCushion, calibrationRows, fittingParts, type PartColumns } from "../../experiment/calibrate/calibrationRows";
import { logName, type TrialLog } from "../../experiment/log/trialLog";
import { otherValues, type ShotSettings } from "../../experiment/shot/shotSettings";
import type { CalibrationChoice } from "../frame/settings";
import { useSectionStyles } from "../frame/styles";
import { Warning } from "../frame/Warning";
import { JobBar } from "../worker/JobBar";
import { useJob } from "../worker/useJob";
import { Fitted, type Asked } from "./Fitted";
import { LeftOutRows } from "./LeftOutRows";
import { PartFields } from "./PartFields";

interface Props {
  readonly log: TrialLog | undefined;
  readonly shot: ShotSettings;
  /** As kept with the workbook. */
  readonly choice: CalibrationChoice | undefined;
  /** Of the intervals, where the person chose one. */
  readonly confidence: number | undefined;
  readonly onChoice: (choice: CalibrationChoice) => void;
  readonly onChange: (constants: ShotSettings["constants"]) => void;
}

export function CalibrateSection(props: Props) {
  const styles = useSectionStyles();
  const { log } = props;
  return log ? (
    <CalibrateLog {...props} log={log} />
  ) : (
    <p className={styles.note}>No table of trials is at hand. Choose one in the Analysis view, then come back.</p>
  );
}

function CalibrateLog({ log, shot: set, choice, confidence, onChoice, onChange }: Props & { readonly log: TrialLog }) {
  const styles = useSectionStyles();
  const { state, start, cancel } = useJob("calibration");
  const [asked, setAsked] = useState<Asked>({ rows: 0, weighted: false });
  const shot = useMemo(() => atCushion(set), [set]);
  const parts = useMemo(() => fittingParts(log, choice?.columns), [choice, log]);
  const rows = useMemo(() => calibrationRows(log, parts, shot), [log, parts, shot]);
  // Another table: what is being fitted is not what is seen.
  useEffect(() => cancel(), [cancel, log.sheet, log.title]);
  const signed = choice?.signed ?? rows.shots.some(({ bend }) => bend < 0);
  const busy = state.kind === "running";
  const run = () => {
    setAsked({ rows: rows.shots.length, weighted: parts.deviation !== undefined });
    const { constants, others } = shot;
    start({
      shots: rows.shots,
      signed,
      constants,
      others: otherValues(others),
      ...(confidence !== undefined && { confidence }),
    });
  };
  return (
    <div className={styles.stack}>
      <p
        className={styles.note}
      >{`Fits slip friction, nose friction and restitution to the rows of ${logName(log)}, by least squares. Ball and nose are those of the set-up. A setting without a column is taken as the sliders have it.`}</p>
      <PartFields
        log={log}
        shot={shot}
        parts={parts}
        onParts={(columns: PartColumns) => onChoice({ ...choice, columns })}
      />
      <Checkbox
        label="Measured bends have a sign (+ short, − long)"
        checked={signed}
        onChange={(_, { checked }) => onChoice({ columns: parts, signed: checked === true })}
      />
      {rows.problem && <Warning text={rows.problem} />}
      <p className={styles.note}>{`${rows.shots.length} of ${log.rows.length} rows can be used.`}</p>
      <LeftOutRows list={rows.leftOut} />
      <Button appearance="primary" disabled={busy || rows.shots.length === 0} onClick={run}>
        Fit the constants to the rows
      </Button>
      {busy && <JobBar doing="Fitting" share={state.share} onCancel={cancel} />}
      {state.kind === "failed" && <Warning text={`${capital(state.message)}.`} />}
      <div role="status" data-part="calibration" className={styles.stack}>
        {state.kind === "done" && <Fitted {...state.answer} {...asked} shot={shot} onChange={onChange} />}
      </div>
    </div>
  );
}
