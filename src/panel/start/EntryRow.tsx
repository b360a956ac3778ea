/**
 * One shot in one row: the gap as the ruler reads it, how it ended, what changed since the last. Enter writes it and
 * the next one is asked for; what is wrong is said at its field while it is typed.
 */
import { toText } from "../../experiment/language/said";
import { Accordion, Button, Dropdown, Field, Input, makeStyles, Option } from "@fluentui/react-components";
import { useEffect, useId } from "react";
import { OUTCOME_NAMES } from "../../experiment/shoot/shootWords";
import type { KeptSetting, ShootLog } from "../../experiment/shoot/shootLog";
import { OUTCOMES, type Outcome } from "../../experiment/log/outcome";
import type { Port } from "../../workbook/port";
import { SettingField } from "../fields/SettingField";
import { Step } from "../fields/Step";
import { useEntry, type Changed, type TypedEntry } from "./useEntry";
import { useEntryWriting } from "./useEntryWriting";

interface Props {
  readonly port: Port;
  readonly entry: ShootLog;
  /** Whether it takes the keyboard as soon as it stands. */
  readonly eager: boolean;
  readonly onFailure: (text: string | undefined) => void;
}

const useStyles = makeStyles({
  form: { display: "grid", gridTemplateColumns: "minmax(0, 1fr) minmax(0, 1fr)", gap: "8px 12px", alignItems: "start" },
  wide: { gridColumn: "1 / -1" },
});

export function EntryRow({ port, entry, eager, onFailure }: Props) {
  const styles = useStyles();
  const typed = useEntry(entry);
  const { field, gap, outcome, changed, session, setGap, setOutcome, setChanged } = typed;
  useEffect(() => {
    if (eager) field.current?.focus();
  }, [eager, field]);
  const { busy, done, ask } = useEntryWriting(port, entry, typed, onFailure);
  return (
    <form
      className={styles.form}
      aria-label="One shot"
      data-part="entry"
      onSubmit={(event) => {
        event.preventDefault();
        ask();
      }}
    >
      <GapField entry={entry} field={field} gap={gap} onChange={setGap} />
      <OutcomeField outcome={outcome} onChange={setOutcome} />
      <div className={styles.wide}>
        <SinceLast entry={entry} session={session} changed={changed} onChange={setChanged} />
      </div>
      <Button className={styles.wide} type="submit" appearance="primary" disabled={busy}>
        {`Write row ${entry.open.row + 1}`}
      </Button>
      <div role="status" className={styles.wide} data-part="entered">
        {done}
      </div>
    </form>
  );
}

interface GapProps {
  readonly entry: ShootLog;
  readonly field: React.RefObject<HTMLInputElement>;
  readonly gap: TypedEntry["gap"];
  readonly onChange: (text: string) => void;
}

function GapField({ entry, field, gap, onChange }: GapProps) {
  const problem = gap && "problem" in gap ? gap.problem : undefined;
  const doubt = gap && "doubt" in gap ? gap.doubt : undefined;
  const said = problem ?? doubt;
  return (
    <Field
      label={entry.places.position.column.heading.text}
      validationState={problem !== undefined ? "error" : doubt !== undefined ? "warning" : "none"}
      validationMessage={said && toText(said)}
      style={{ minWidth: 0 }}
    >
      <Input
        ref={field}
        value={gap?.text ?? ""}
        placeholder={entry.unit === "in" ? "5/16" : undefined}
        autoComplete="off"
        style={{ minWidth: 0 }}
        input={{ style: { minWidth: 0, width: "100%" } }}
        onChange={(_, { value }) => onChange(value)}
      />
    </Field>
  );
}

const UNTOLD = "not said";

function OutcomeField({
  outcome,
  onChange,
}: {
  readonly outcome: Outcome | undefined;
  readonly onChange: (outcome: Outcome | undefined) => void;
}) {
  return (
    <Field label="Outcome" style={{ minWidth: 0 }}>
      <Dropdown
        style={{ minWidth: 0 }}
        value={outcome ? OUTCOME_NAMES[outcome] : UNTOLD}
        selectedOptions={[outcome ?? UNTOLD]}
        onOptionSelect={(_, { optionValue }) => onChange(OUTCOMES.find((one) => one === optionValue))}
      >
        <Option value={UNTOLD}>{UNTOLD}</Option>
        <>
          {OUTCOMES.map((one) => (
            <Option key={one} value={one}>
              {OUTCOME_NAMES[one]}
            </Option>
          ))}
        </>
      </Dropdown>
    </Field>
  );
}

interface SinceLastProps {
  readonly entry: ShootLog;
  readonly session: string;
  readonly changed: Changed;
  readonly onChange: (changed: Changed) => void;
}

/** The settings, as they stay from the last row. */
function SinceLast({ entry, session, changed, onChange }: SinceLastProps) {
  const id = useId();
  const open = entry.settings.filter(({ planned }) => !planned);
  if (open.length === 0) return null;
  const shown = (setting: KeptSetting) =>
    setting.column === entry.session ? session : (changed[setting.column.heading.text] ?? setting.text);
  const differs = open.filter((setting) => shown(setting).trim() !== setting.text);
  const standing = differs.map((setting) => `${setting.column.heading.name} ${shown(setting) || "blank"}`).join(", ");
  return (
    <Accordion collapsible>
      <Step id={id} title="What changed since the last" standing={standing || "nothing"}>
        {open.map((setting) => (
          <SettingField
            key={setting.column.column}
            setting={setting}
            text={shown(setting)}
            onChange={(text) => onChange({ ...changed, [setting.column.heading.text]: text })}
          />
        ))}
      </Step>
    </Accordion>
  );
}
