/** How far does it bend: which columns say where the obstacle stood and how attempts ended, drivers, sessions. */
import { Checkbox, Dropdown, Field, Option } from "@fluentui/react-components";
import { isRequired } from "../../experiment/log/attemptLog";
import type { ReachChoice } from "../../experiment/attempts/reachChoice";
import type { LogColumn, TrialLog } from "../../experiment/log/trialLog";
import { asDriver, possibleDrivers, withoutDriver } from "../../experiment/question/choice";
import { ColumnPicker } from "../fields/ColumnPicker";
import { NumberField, PERCENT } from "../fields/NumberField";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly log: TrialLog;
  readonly choice: ReachChoice;
  readonly missing: readonly string[];
  readonly onChange: (choice: ReachChoice) => void;
}

const NONE = "none";
/** Half of the outcomes misjudged would say nothing at all. */
const MOST_MISJUDGED = 0.49;

export function ReachQuestionFields({ log, choice, missing, onChange }: Props) {
  const styles = useSectionStyles();
  return (
    <>
      <ColumnFields log={log} choice={choice} onChange={onChange} />
      <DriverTicks log={log} choice={choice} onChange={onChange} />
      <SessionTicks log={log} choice={choice} onChange={onChange} />
      <NumberField
        name="Outcomes misjudged, such as a light touch that nobody saw (%)"
        value={choice.misjudged ?? 0}
        unit={PERCENT}
        low={0}
        high={MOST_MISJUDGED}
        onChange={(share) => {
          const { misjudged: _before, ...rest } = choice;
          onChange(share > 0 ? { ...rest, misjudged: share } : rest);
        }}
      />
      {missing.map((heading) => (
        <p
          key={heading}
          className={styles.note}
        >{`"${heading}" is not on the sheet now; it is asked again when it is back.`}</p>
      ))}
    </>
  );
}

type PartProps = Omit<Props, "missing">;

/** Which columns say where the obstacle stood, how the attempt ended, and what a camera saw. */
function ColumnFields({ log, choice, onChange }: PartProps) {
  const numbers = log.columns.filter(({ kind }) => kind === "number");
  const positions = numbers.filter((column) => column.meaning === "gap" || isRequired(column));
  const seen = numbers.filter((column) => column.meaning === "bend" && !isRequired(column));
  return (
    <>
      <ColumnPicker
        label="Where the obstacle stood (its gap, or the bend that it asked for)"
        columns={positions}
        value={choice.position.heading}
        onChange={(heading) => {
          const required = positions.some((column) => column.heading.text === heading && isRequired(column));
          onChange({ ...choice, position: { as: required ? "required" : "gap", heading } });
        }}
      />
      <ColumnPicker
        label="How the attempt ended"
        columns={log.columns.filter(({ meaning }) => meaning === "made")}
        value={choice.outcome}
        onChange={(outcome) => onChange({ ...choice, outcome })}
      />
      <Field label="Bend that a camera measured" hint="Where it stands, the row's outcome is not used again.">
        <Dropdown
          value={choice.measured ?? NONE}
          selectedOptions={[choice.measured ?? NONE]}
          onOptionSelect={(_, { optionValue }) => {
            const { measured: _before, ...rest } = choice;
            onChange(optionValue && optionValue !== NONE ? { ...rest, measured: optionValue } : rest);
          }}
        >
          <Option value={NONE}>{NONE}</Option>
          {seen.map(({ heading }) => (
            <Option key={heading.text} value={heading.text}>
              {heading.text}
            </Option>
          ))}
        </Dropdown>
      </Field>
    </>
  );
}

function DriverTicks({ log, choice, onChange }: PartProps) {
  const taken = new Set([choice.position.heading, choice.outcome, choice.measured, ...choice.sessions]);
  const { drivers } = choice;
  return (
    <Ticks
      legend="Drivers"
      columns={possibleDrivers(log, choice.position.heading).filter(({ heading }) => !taken.has(heading.text))}
      ticked={drivers.map(({ heading }) => heading)}
      onTick={(column, ticked) =>
        onChange({
          ...choice,
          drivers: ticked ? [...drivers, asDriver(column)] : withoutDriver(drivers, column.heading.text),
        })
      }
    />
  );
}

/** What may tell one visit to the table from another. */
const OF_SESSIONS = ["session", "date", "table", "observer"];

function SessionTicks({ log, choice, onChange }: PartProps) {
  const { sessions, drivers } = choice;
  const driven = new Set(drivers.map(({ heading }) => heading));
  return (
    <Ticks
      legend="What makes a session (several: each combination is one)"
      columns={log.columns.filter(
        ({ meaning, heading }) => OF_SESSIONS.includes(meaning ?? "") && !driven.has(heading.text),
      )}
      ticked={sessions}
      onTick={({ heading: { text } }, ticked) =>
        onChange({ ...choice, sessions: ticked ? [...sessions, text] : sessions.filter((one) => one !== text) })
      }
    />
  );
}

function Ticks({
  legend,
  columns,
  ticked,
  onTick,
}: {
  legend: string;
  columns: readonly LogColumn[];
  ticked: readonly string[];
  onTick: (column: LogColumn, ticked: boolean) => void;
}) {
  const styles = useSectionStyles();
  return (
    <fieldset style={{ border: 0, padding: 0, margin: 0, minWidth: 0 }}>
      <legend className={styles.subhead}>{legend}</legend>
      {columns.map((column) => (
        <Checkbox
          key={column.column}
          label={column.heading.text}
          checked={ticked.includes(column.heading.text)}
          onChange={(_, { checked }) => onTick(column, checked === true)}
        />
      ))}
    </fieldset>
  );
}
