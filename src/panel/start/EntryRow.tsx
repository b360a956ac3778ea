/**
 * One shot in one row: the gap as the ruler reads it, how it ended, what changed since the last. Enter writes it and
 * the next one is asked for; what is wrong is said at its field while it is typed.
 */
import { say, toText } from "../../experiment/language/said";
import { Accordion, Button, Dropdown, Field, Input, makeStyles, Option } from "@fluentui/react-components";
import { useEffect, useId, useMemo, useRef, useState } from "react";
import { gapText, OUTCOME_NAMES } from "../../experiment/shoot/shootWords";
import { typedGap } from "../../experiment/shoot/entry";
import { typedSetting, type KeptSetting, type ShootLog } from "../../experiment/shoot/shootLog";
import { dayOf, eveningOf } from "../../experiment/shoot/evening";
import { NEW_SHOOT } from "../../experiment/shoot/shootForm";
import { pressCells } from "../../experiment/shoot/shootRow";
import { OUTCOMES, type Outcome } from "../../experiment/log/outcome";
import { cellAddress } from "../../workbook/address";
import type { Port } from "../../workbook/port";
import { SettingField } from "../fields/SettingField";
import { Step } from "../fields/Step";
import { useWriting } from "../frame/useWriting";

interface Props {
  readonly port: Port;
  readonly entry: ShootLog;
  /** Whether it takes the keyboard as soon as it stands. */
  readonly eager: boolean;
  readonly onFailure: (text: string | undefined) => void;
}

type Changed = Readonly<Record<string, string>>;

const useStyles = makeStyles({
  form: { display: "grid", gridTemplateColumns: "minmax(0, 1fr) minmax(0, 1fr)", gap: "8px 12px", alignItems: "start" },
  wide: { gridColumn: "1 / -1" },
});

export function EntryRow({ port, entry, eager, onFailure }: Props) {
  const styles = useStyles();
  const { field, gap, outcome, changed, wrong, today, session, setGap, setOutcome, setChanged, begin } =
    useEntry(entry);
  const { busy, done, write } = useWriting(onFailure);
  /** The log as it was for the last row: until it is read anew, the next row is not known. */
  const used = useRef<ShootLog>();
  const [asked, setAsked] = useState(false);
  useEffect(() => {
    if (eager) field.current?.focus();
  }, [eager, field]);
  const submit = () =>
    write("The shot was not written", async () => {
      // Empty, or wrong and said so: the field is where it is mended.
      field.current?.focus();
      if (!gap || "problem" in gap || wrong) return "";
      const cells = pressCells(entry, { gap: gap.gap, ...(outcome && { outcome }), session, today, changed });
      if ("problem" in cells) throw new Error(cells.problem);
      const { row } = entry.open;
      const filled = await port.fillRow({ sheet: entry.log.sheet, row, cells });
      if ("filled" in filled)
        throw new Error(`${cellAddress(row, filled.filled)} holds something already, and nothing is written over it.`);
      used.current = entry;
      begin();
      // The next row comes into sight; the keyboard stays where the next gap is typed.
      await port.select(entry.log.sheet, {
        row: row + 1,
        column: entry.places.position.column.column,
        rows: 1,
        columns: 1,
      });
      field.current?.focus();
      return writtenWords(entry, gap.gap, outcome);
    });
  const ready = !busy && entry !== used.current;
  useEffect(() => {
    if (!asked || !ready) return;
    setAsked(false);
    void submit();
  });
  return (
    <form
      className={styles.form}
      aria-label="One shot"
      data-part="entry"
      onSubmit={(event) => {
        event.preventDefault();
        // Who types faster than the row is written waits for it, and loses nothing.
        setAsked(true);
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

/** "Row 2: gap 1/4 in, bend 7/8 in.": by the ball's radius less the gap, as far as the outcome lets it be said. */
function writtenWords({ unit, ballDiameter, open }: ShootLog, gap: number, outcome: Outcome | undefined): string {
  const bend = gapText(ballDiameter / 2 - gap, unit);
  const told = outcome === undefined ? say`bend ${bend}` : SAID[outcome](toText(bend));
  return toText(say`Row ${open.row + 1}: gap ${gapText(gap, unit)}, ${told}.`);
}

const SAID: Readonly<Record<Outcome, (bend: string) => string>> = {
  made: (bend) => `pocketed: a bend of ${bend} or more`,
  cleared: (bend) => `got by: a bend of ${bend} or more`,
  "hit obstacle": (bend) => `hit: a bend of less than ${bend}`,
  missed: () => "missed: nothing told of the bend",
};

/** What is typed, and what is wrong with it. */
function useEntry(entry: ShootLog) {
  const field = useRef<HTMLInputElement>(null);
  const [text, setText] = useState("");
  const [outcome, setOutcome] = useState<Outcome>();
  const [changed, setChanged] = useState<Changed>({});
  const gap = useMemo(() => (text.trim() === "" ? undefined : typedGap(entry, text)), [entry, text]);
  const today = dayOf(new Date());
  const evening = eveningOf(entry, NEW_SHOOT, today);
  const name = entry.session?.heading.text;
  const session = (name === undefined ? undefined : changed[name]) ?? evening.asks?.next ?? evening.session;
  const wrong = entry.settings.some((setting) => isWrong(setting, changed[setting.column.heading.text]));
  /** What changed stands in its row now, and stays from there. */
  const begin = () => {
    setText("");
    setOutcome(undefined);
    setChanged({});
  };
  return {
    field,
    gap: gap && { ...gap, text },
    outcome,
    changed,
    wrong,
    today,
    session,
    setGap: setText,
    setOutcome,
    setChanged,
    begin,
  };
}

function isWrong({ column, format, text: before }: KeptSetting, text: string | undefined): boolean {
  if (text === undefined || text.trim() === "" || text.trim() === before) return false;
  return "problem" in typedSetting(column, text, format);
}

interface GapProps {
  readonly entry: ShootLog;
  readonly field: React.RefObject<HTMLInputElement>;
  readonly gap: ({ readonly text: string } & ReturnType<typeof typedGap>) | undefined;
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
