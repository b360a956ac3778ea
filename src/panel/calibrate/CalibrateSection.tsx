/** Fit the table's constants to the user's own rows, and see whether to trust model, regression or both. */
import type { Uncertain } from "../../experiment/setup/setup";
import { Button, Checkbox, Dropdown, Field, MessageBar, MessageBarBody, Option } from "@fluentui/react-components";
import { useEffect, useMemo, useState } from "react";
import type { Calibration, CalibrationResult } from "../../experiment/calibrate/calibration";
import {
  atCushion,
  calibrationRows,
  fittingParts,
  PART_LABELS,
  PARTS,
  type Part,
  type PartColumns,
} from "../../experiment/calibrate/calibrationRows";
import { calibrationSentences, trustSentence } from "../../experiment/calibrate/calibrationWords";
import { CONSTANT_KINDS, UNCERTAIN, type ShotSettings, type UncertainName } from "../../experiment/shot/shotSettings";
import { shownSetting, shownSmall } from "../../experiment/shot/shotWords";
import { logName, type TrialLog } from "../../experiment/log/trialLog";
import { capital, decimalsFor, fixed, significant } from "../../experiment/language/wording";
import { useSectionStyles } from "../frame/styles";
import type { CalibrationChoice } from "../frame/settings";
import { JobBar } from "../worker/JobBar";
import { useJob } from "../worker/useJob";
import { TableHead } from "../frame/TableHead";

interface Props {
  readonly log: TrialLog | undefined;
  readonly shot: ShotSettings;
  /** As kept with the workbook. */
  readonly choice: CalibrationChoice | undefined;
  readonly onChoice: (choice: CalibrationChoice) => void;
  readonly onChange: (constants: ShotSettings["constants"]) => void;
}

/** What a fit was made from. */
interface Asked {
  readonly rows: number;
  readonly weighted: boolean;
}

const NONE = "";
const SHOWN = 20;

export function CalibrateSection({ log, shot: set, choice, onChoice, onChange }: Props) {
  const styles = useSectionStyles();
  const { state, start, cancel } = useJob("calibration");
  const [asked, setAsked] = useState<Asked>({ rows: 0, weighted: false });
  const shot = useMemo(() => atCushion(set), [set]);
  const parts = useMemo(() => (log ? fittingParts(log, choice?.columns) : {}), [choice, log]);
  const rows = useMemo(() => (log ? calibrationRows(log, parts, shot) : undefined), [log, parts, shot]);
  // Another table: what is being fitted is not what is seen.
  useEffect(() => cancel(), [cancel, log?.sheet, log?.title]);
  const signed = choice?.signed ?? rows?.shots.some(({ bend }) => bend < 0) ?? false;
  if (!log || !rows)
    return (
      <p className={styles.note}>No table of trials is at hand. Choose one in the Analysis view, then come back.</p>
    );

  const setChosen = (columns: PartColumns) => onChoice({ ...choice, columns });
  const setSigned = (next: boolean) => onChoice({ columns: parts, signed: next });
  const busy = state.kind === "running";
  const run = () => {
    setAsked({ rows: rows.shots.length, weighted: parts.deviation !== undefined });
    start({ shots: rows.shots, signed, constants: shot.constants });
  };
  const problem = state.kind === "failed" ? `${capital(state.message)}.` : undefined;
  return (
    <div className={styles.stack}>
      <p
        className={styles.note}
      >{`Fits slip friction, nose friction and restitution to the rows of ${logName(log)}, by least squares. A setting without a column is taken as the sliders have it.`}</p>
      {PARTS.map((part) => (
        <Field key={part} label={PART_LABELS[part]} orientation="horizontal">
          <Dropdown
            size="small"
            value={
              parts[part] ??
              (part === "bend" || part === "deviation" || part === "session"
                ? "none"
                : `always ${shownSetting(shot[part], part, shot.units)}`)
            }
            selectedOptions={[parts[part] ?? NONE]}
            onOptionSelect={(_, { optionValue }) => setChosen(withPart(parts, part, optionValue))}
          >
            <Option value={NONE} text="none">
              {part in shot ? "no column: as the slider" : "none"}
            </Option>
            {log.columns
              .filter(({ kind }) => (part === "session" ? kind !== "empty" : kind === "number"))
              .map(({ heading }) => (
                <Option key={heading.text} value={heading.text}>
                  {heading.text}
                </Option>
              ))}
          </Dropdown>
        </Field>
      ))}
      <Checkbox
        label="Measured bends have a sign (+ short, − long)"
        checked={signed}
        onChange={(_, { checked }) => setSigned(checked === true)}
      />
      {rows.problem && (
        <MessageBar intent="warning" layout="multiline">
          <MessageBarBody>{rows.problem}</MessageBarBody>
        </MessageBar>
      )}
      <p className={styles.note}>{`${rows.shots.length} of ${log.rows.length} rows can be used.`}</p>
      {rows.leftOut.length > 0 && (
        <ul className={styles.list} aria-label="Left out of the calibration">
          {rows.leftOut.slice(0, SHOWN).map(({ address, reason }) => (
            <li key={address} className={styles.note}>{`${address}: ${reason}`}</li>
          ))}
          {rows.leftOut.length > SHOWN && <li className={styles.note}>{`${rows.leftOut.length - SHOWN} more.`}</li>}
        </ul>
      )}
      <Button appearance="primary" disabled={busy || rows.shots.length === 0} onClick={run}>
        Fit the constants to the rows
      </Button>
      {busy && <JobBar doing="Fitting" share={state.share} onCancel={cancel} />}
      {problem && (
        <MessageBar intent="warning" layout="multiline">
          <MessageBarBody>{problem}</MessageBarBody>
        </MessageBar>
      )}
      <div role="status" data-part="calibration" className={styles.stack}>
        {state.kind === "done" && <Fitted {...state.answer} {...asked} shot={shot} onChange={onChange} />}
      </div>
    </div>
  );
}

function withPart(parts: PartColumns, part: Part, heading: string | undefined): PartColumns {
  const { [part]: _, ...others } = parts;
  return heading ? { ...others, [part]: heading } : others;
}

function Fitted({
  fit,
  errors,
  rows,
  weighted,
  shot,
  onChange,
}: CalibrationResult & Asked & { readonly shot: ShotSettings; readonly onChange: Props["onChange"] }) {
  const styles = useSectionStyles();
  const { units } = shot;
  const size = (error: number | null) => (error === null ? "–" : shownSmall(error, units));
  return (
    <>
      {calibrationSentences(fit, rows, weighted, units).map((text) => (
        <p key={text} className={styles.sentence}>
          {text}
        </p>
      ))}
      <table className={styles.table}>
        <TableHead first="Constant" numbers={["Fitted", "Standard error"]} />
        <tbody>
          {fit.constants.map(({ name, estimate, standardError, atBound }) => (
            <tr key={name}>
              <th scope="row">{CONSTANT_KINDS[name].label}</th>
              <td className="number">{fixed(estimate, decimalsFor(standardError ?? 0.01))}</td>
              <td className="number">
                {atBound ? "at its limit" : standardError === null ? "not told" : significant(standardError, 2)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <table className={styles.table} aria-label="Correlations">
        <thead>
          <tr>
            <th scope="col">Correlation</th>
            {UNCERTAIN.slice(1).map((name) => (
              <th key={name} scope="col" className="number">
                {CONSTANT_KINDS[name].label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {UNCERTAIN.slice(0, -1).map((name, i) => (
            <tr key={name}>
              <th scope="row">{CONSTANT_KINDS[name].label}</th>
              {UNCERTAIN.slice(1).map((other, j) => {
                const r = fit.correlations[name][other];
                return (
                  <td key={other} className="number">
                    {j < i ? "" : r === null ? "–" : significant(r, 2)}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
      {errors && (
        <>
          <p className={styles.sentence}>{trustSentence(errors, units)}</p>
          <table className={styles.table} data-part="trust">
            <TableHead first="Predicting a session left out" numbers={["Error"]} />
            <tbody>
              <tr>
                <th scope="row">Mean of the other sessions</th>
                <td className="number">{size(errors.mean)}</td>
              </tr>
              <tr>
                <th scope="row">Model</th>
                <td className="number">{size(errors.model)}</td>
              </tr>
              <tr>
                <th scope="row">Regression on the settings</th>
                <td className="number">{size(errors.regression)}</td>
              </tr>
              <tr>
                <th scope="row">Model and regression together</th>
                <td className="number">{size(errors.both)}</td>
              </tr>
            </tbody>
          </table>
        </>
      )}
      <Button onClick={() => onChange(adopted(fit, shot.constants))}>Use these constants</Button>
    </>
  );
}

/**
 * Fitted values with their 95 % intervals as ranges; what the rows do not tell, or drive into a limit, keeps its value
 * and range.
 */
function adopted(fit: Calibration, before: ShotSettings["constants"]): ShotSettings["constants"] {
  return Object.fromEntries(
    fit.constants.map(({ name, estimate, standardError, atBound }): [UncertainName, Uncertain] => {
      if (standardError === null || fit.t === null || atBound) return [name, before[name]];
      const { low, high } = CONSTANT_KINDS[name].bounds;
      const tidy = (value: number) => Number(Math.min(high, Math.max(low, value)).toPrecision(4));
      const value = tidy(estimate);
      return [
        name,
        {
          low: Math.min(value, tidy(estimate - fit.t * standardError)),
          value,
          high: Math.max(value, tidy(estimate + fit.t * standardError)),
        },
      ];
    }),
  ) as Record<UncertainName, Uncertain>;
}
