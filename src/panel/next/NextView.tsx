/** The Next view: which setting to shoot next, predicted over what may change within limits. */
import { toText } from "../../experiment/language/said";
import { Button, Checkbox, Dropdown, Field, makeStyles, Option } from "@fluentui/react-components";
import { useMemo } from "react";
import type { ReachAsked } from "../frame/view";
import { NextOfAttempts } from "./NextOfAttempts";
import type { Choice } from "../../experiment/question/choice";
import { nextSheet, PROPOSAL_TITLES, type NextForm } from "../../experiment/next/nextWords";
import { DEFAULT_SHOT, type ShotSettings } from "../../experiment/shot/shotSettings";
import type { TrialLog } from "../../experiment/log/trialLog";
import { mergedNext } from "../../experiment/next/mergedNext";
import type { Port } from "../../workbook/port";
import { NumberField } from "../fields/NumberField";
import { Fold } from "../frame/Fold";
import type { ThemeName } from "../frame/palette";
import { useSectionStyles } from "../frame/styles";
import { useWriting } from "../frame/useWriting";
import { Warning } from "../frame/Warning";
import { FigureView } from "../plots/FigureView";
import { JobBar } from "../worker/JobBar";
import type { ShownNext } from "../worker/nextJob";
import { DriverLimits } from "./DriverLimits";
import { useNext } from "./useNext";

interface Props {
  readonly port: Port;
  readonly theme: ThemeName;
  readonly log: TrialLog | undefined;
  /** The question of the Analysis view. */
  readonly choice: Choice | undefined;
  /** How far it bends, where the Analysis view asks that of a log of attempts. */
  readonly reach: ReachAsked | undefined;
  /** Whether the plain fit is read where sessions would count. */
  readonly plainFirst: boolean;
  readonly shot: ShotSettings | undefined;
  /** As kept with the workbook. */
  readonly kept: NextForm | undefined;
  readonly onKeep: (form: NextForm) => void;
  readonly onFailure: (text: string | undefined) => void;
}

const AIMS = { most: "the most", least: "the least" } as const;

export function NextView(props: Props) {
  const { log, choice, reach, theme, kept, onKeep } = props;
  const section = useSectionStyles();
  if (reach) return <NextOfAttempts asked={reach} theme={theme} kept={kept} onKeep={onKeep} />;
  if (!log || !choice)
    return (
      <p className={section.note}>
        No question with an answer is at hand. Choose rows and a question in the Analysis view, then come back.
      </p>
    );
  return <NextOfRows {...props} log={log} choice={choice} />;
}

type RowsProps = Props & { readonly log: TrialLog; readonly choice: Choice };

function NextOfRows(props: RowsProps) {
  const { port, theme, log, choice, plainFirst, shot = DEFAULT_SHOT, kept, onKeep, onFailure } = props;
  const section = useSectionStyles();
  const form = useMemo(() => mergedNext(log, choice, kept), [log, choice, kept]);
  const { shown, problem, stale, running, look, cancel } = useNext(log, choice, form, shot, plainFirst);
  const change = (part: Partial<NextForm>) => onKeep({ ...form, ...part });
  return (
    <div data-view="next" className={section.stack}>
      {running !== undefined && <JobBar doing="Looking for the next shots" share={running} onCancel={cancel} />}
      {problem !== undefined && <Warning text={problem} />}
      {shown && <InFront shown={shown} stale={stale} theme={theme} />}
      <Aim choice={choice} form={form} onChange={change} />
      <DriverLimits log={log} choice={choice} form={form} onChange={change} />
      {kept === undefined && (
        <p
          className={section.note}
        >{`Limits are those of the rows of ${log.sheet}; what is set up now is as in its last row.`}</p>
      )}
      <Checkbox
        label="Begin from the shot model with the constants of the Shot view (calibrate them first)"
        checked={form.physics}
        onChange={(_, { checked }) => change({ physics: checked === true })}
      />
      <Button appearance="primary" onClick={look}>
        Look for the next shots
      </Button>
      {shown && <ToSheet port={port} log={log} form={form} shown={shown} onChange={change} onFailure={onFailure} />}
      {shown && (
        <Fold title="Why?" standing="what the predictions rest on" part="why">
          <p
            className={section.sentence}
          >{`From the rows so far: where ${choice.response} is predicted to be highest, where a shot would teach most, and the best trade between the two. The question is that of the Analysis view.`}</p>
        </Fold>
      )}
    </div>
  );
}

const useStyles = makeStyles({ proposal: { borderLeft: "3px solid currentColor", paddingLeft: "10px" } });

interface FrontProps {
  readonly shown: ShownNext;
  readonly stale: boolean;
  readonly theme: ThemeName;
}

/** The line, the picture, then the proposals and what they rest on. */
function InFront({ shown: { line, figure, said, basis }, stale, theme }: FrontProps) {
  const styles = useStyles();
  const section = useSectionStyles();
  return (
    <section aria-label="The next shots" data-part="proposals">
      <p className={section.line} data-part="line" role="status">
        {toText(line)}
      </p>
      {stale && <p className={section.note}>The limits or what is set up have changed since: look again.</p>}
      {figure && <FigureView figure={figure} theme={theme} />}
      {said.map(({ name, text }) => (
        <p
          key={name}
          className={`${section.sentence} ${styles.proposal}`}
          data-proposal={name}
          aria-label={PROPOSAL_TITLES[name]}
        >
          {toText(text)}
        </p>
      ))}
      {basis.map((text) => (
        <p key={toText(text)} className={section.sentence}>
          {toText(text)}
        </p>
      ))}
    </section>
  );
}

interface AimProps {
  readonly choice: Choice;
  readonly form: NextForm;
  readonly onChange: (part: Partial<NextForm>) => void;
}

function Aim({ choice, form, onChange }: AimProps) {
  return (
    <Field label={`${choice.response}: look for`}>
      <Dropdown
        value={AIMS[form.aim]}
        selectedOptions={[form.aim]}
        onOptionSelect={(_, { optionValue }) => optionValue && onChange({ aim: optionValue as NextForm["aim"] })}
      >
        {(["most", "least"] as const).map((aim) => (
          <Option key={aim} value={aim}>
            {AIMS[aim]}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}

interface ToSheetProps {
  readonly port: Port;
  readonly log: TrialLog;
  readonly form: NextForm;
  readonly shown: ShownNext;
  readonly onChange: (part: Partial<NextForm>) => void;
  readonly onFailure: Props["onFailure"];
}

/** The proposals as rows to shoot. */
function ToSheet({ port, log, form, shown, onChange, onFailure }: ToSheetProps) {
  const { busy, done, write } = useWriting(onFailure);
  const toSheet = () =>
    write("The next shots were not written", async () => {
      const sheet = await port.addSheet(nextSheet(shown.proposals, form.repeats, measuredOf(log)));
      return `Written to the new sheet "${sheet}". No other cell was touched.`;
    });
  return (
    <>
      <NumberField
        name="Shots of each"
        value={form.repeats}
        unit={{ size: 1, name: "" }}
        low={1}
        high={50}
        onChange={(repeats) =>
          Number.isInteger(repeats) ? onChange({ repeats }) : "Shots of each: give a whole number."
        }
      />
      <Button disabled={busy} onClick={toSheet}>
        Write them as rows to shoot
      </Button>
      <div role="status">{done}</div>
    </>
  );
}

/** The headings under which a shot is measured, as the log has them. */
function measuredOf(log: TrialLog): string[] {
  return log.columns
    .filter(({ meaning }) => meaning === "gap" || meaning === "made" || meaning === "bend")
    .map(({ heading }) => heading.text);
}
