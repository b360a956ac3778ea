/** Choose a question: the response, the drivers and how each is taken. Pickers throughout. May import: panel/, experiment/. */
import { Button, Checkbox, Dropdown, Field, Option } from "@fluentui/react-components";
import { useState } from "react";
import { asDriver, possibleDrivers, type Choice, type DriverChoice, type ScatterChoice } from "../../experiment/choice";
import type { LogColumn, TrialLog } from "../../experiment/trialLog";
import { useSectionStyles } from "./styles";

interface Props {
  readonly log: TrialLog;
  readonly choice: Choice;
  readonly missing: readonly string[];
  readonly onChange: (choice: Choice) => void;
}

const CONFIDENCES = [0.9, 0.95, 0.99];
const CURVES = [["1", "straight"], ["2", "one bow (degree 2)"], ["3", "two bows (degree 3)"]] as const;

export function QuestionSection({ log, choice, missing, onChange }: Props) {
  const styles = useSectionStyles();
  const drivers = possibleDrivers(log, choice.response);
  const change = (part: Partial<Choice>) => onChange({ ...choice, ...part });
  const setDriver = (heading: string, next: DriverChoice | undefined) => {
    const others = choice.drivers.filter((one) => one.heading !== heading);
    const changed = next === undefined ? others : choice.drivers.some((one) => one.heading === heading) ? choice.drivers.map((one) => (one.heading === heading ? next : one)) : [...others, next];
    change({ drivers: changed, joint: choice.joint.filter((pair) => next !== undefined || !pair.includes(heading)) });
  };
  const responses = log.columns.filter(({ kind }) => kind === "number");
  return (
    <div className={styles.stack}>
      <Field label="What to explain">
        <Dropdown
          value={choice.response} selectedOptions={[choice.response]}
          onOptionSelect={(_, { optionValue }) =>
            optionValue && change({ response: optionValue, drivers: choice.drivers.filter(({ heading }) => heading !== optionValue), joint: choice.joint.filter((pair) => !pair.includes(optionValue)) })
          }
        >
          {responses.map(({ heading }) => <Option key={heading.text} value={heading.text}>{heading.text}</Option>)}
        </Dropdown>
      </Field>
      <fieldset style={{ border: 0, padding: 0, margin: 0, minWidth: 0 }}>
        <legend className={styles.subhead}>Drivers</legend>
        {drivers.map((column) => (
          <DriverRow key={column.column} column={column} driver={choice.drivers.find(({ heading }) => heading === column.heading.text)} onChange={(next) => setDriver(column.heading.text, next)} />
        ))}
        {missing.map((heading) => <p key={heading} className={styles.note}>{`"${heading}" is not on the sheet now; it is asked again when it is back.`}</p>)}
      </fieldset>
      {choice.drivers.length > 1 && <JointPicker choice={choice} onChange={(joint) => change({ joint })} />}
      <ScatterPicker log={log} choice={choice} onChange={(scatter) => change({ scatter })} />
      <WeightPicker log={log} choice={choice} onChange={(weight) => change({ weight })} />
      <Field label="Confidence of the intervals">
        <Dropdown value={`${Math.round(100 * choice.confidence)} %`} selectedOptions={[String(choice.confidence)]} onOptionSelect={(_, { optionValue }) => optionValue && change({ confidence: Number(optionValue) })}>
          {CONFIDENCES.map((one) => <Option key={one} value={String(one)}>{`${Math.round(100 * one)} %`}</Option>)}
        </Dropdown>
      </Field>
    </div>
  );
}

function DriverRow({ column, driver, onChange }: { column: LogColumn; driver: DriverChoice | undefined; onChange: (next: DriverChoice | undefined) => void }) {
  const styles = useSectionStyles();
  const name = column.heading.text;
  return (
    <div className={styles.driver}>
      <Checkbox className={styles.driverName} label={name} checked={driver !== undefined} onChange={(_, { checked }) => onChange(checked ? asDriver(column) : undefined)} />
      {driver && (
        <div className={styles.driverMore}>
          <Dropdown
            size="small" aria-label={`${name} is taken as`} style={{ minWidth: "96px" }}
            value={driver.as} selectedOptions={[driver.as]}
            onOptionSelect={(_, { optionValue }) => onChange({ heading: name, as: optionValue === "category" ? "category" : "number", degree: 1 })}
          >
            <Option value="number">number</Option>
            <Option value="category">category</Option>
          </Dropdown>
          {driver.as === "number" && (
            <Dropdown
              size="small" aria-label={`Line of ${name}`} style={{ minWidth: "96px" }}
              value={CURVES.find(([degree]) => degree === String(driver.degree))?.[1] ?? `degree ${driver.degree}`} selectedOptions={[String(driver.degree)]}
              onOptionSelect={(_, { optionValue }) => onChange({ ...driver, degree: Number(optionValue) })}
            >
              {CURVES.map(([degree, text]) => <Option key={degree} value={degree}>{text}</Option>)}
            </Dropdown>
          )}
        </div>
      )}
    </div>
  );
}

/** How rows scatter about the fit. */
function ScatterPicker({ log, choice, onChange }: { log: TrialLog; choice: Choice; onChange: (scatter: ScatterChoice | undefined) => void }) {
  const asked = new Set([choice.response, ...choice.drivers.map(({ heading }) => heading)]);
  const groups = log.columns.filter(({ heading, meaning }) => !asked.has(heading.text) && ["session", "date", "table", "balls"].includes(meaning ?? ""));
  const options: readonly (readonly [string, ScatterChoice | undefined])[] = [
    ["Every shot on its own", undefined],
    ["On its own, some scatter more than others", { as: "robust" }],
    ...groups.flatMap(({ heading: { text } }): (readonly [string, ScatterChoice])[] => [
      [`Each ${text} shifted by a random amount`, { as: "random", heading: text }],
      [`Shots of one ${text} together in any way`, { as: "cluster", heading: text }],
    ]),
  ];
  const key = JSON.stringify(choice.scatter ?? null);
  const current = options.find(([, scatter]) => JSON.stringify(scatter ?? null) === key)?.[0] ?? options[0][0];
  return (
    <Field label="Which shots go together">
      <Dropdown value={current} selectedOptions={[current]} onOptionSelect={(_, { optionValue }) => onChange(options.find(([text]) => text === optionValue)?.[1])}>
        {options.map(([text]) => <Option key={text} value={text}>{text}</Option>)}
      </Dropdown>
    </Field>
  );
}

const ALIKE = "all rows alike";

/** Whether some rows count more than others. */
function WeightPicker({ log, choice, onChange }: { log: TrialLog; choice: Choice; onChange: (weight: string | undefined) => void }) {
  const columns = log.columns.filter(({ heading, kind }) => kind === "number" && heading.text !== choice.response);
  const current = choice.weight ?? ALIKE;
  return (
    <Field label="Weights" hint="A row of weight 2 counts like the mean of two shots.">
      <Dropdown value={current} selectedOptions={[current]} onOptionSelect={(_, { optionValue }) => onChange(optionValue === ALIKE ? undefined : optionValue)}>
        <Option value={ALIKE}>{ALIKE}</Option>
        {columns.map(({ heading }) => <Option key={heading.text} value={heading.text}>{heading.text}</Option>)}
      </Dropdown>
    </Field>
  );
}

function JointPicker({ choice, onChange }: { choice: Choice; onChange: (joint: Choice["joint"]) => void }) {
  const styles = useSectionStyles();
  const headings = choice.drivers.map(({ heading }) => heading);
  const [first, setFirst] = useState<string>();
  const [second, setSecond] = useState<string>();
  const asked = choice.joint.some((pair) => first !== undefined && second !== undefined && pair.includes(first) && pair.includes(second));
  const ready = first !== undefined && second !== undefined && first !== second && !asked && headings.includes(first) && headings.includes(second);
  const picker = (label: string, value: string | undefined, set: (heading: string) => void) => (
    <Field label={label}>
      <Dropdown placeholder="choose a driver" value={value ?? ""} selectedOptions={value ? [value] : []} onOptionSelect={(_, { optionValue }) => optionValue && set(optionValue)}>
        {headings.map((heading) => <Option key={heading} value={heading}>{heading}</Option>)}
      </Dropdown>
    </Field>
  );
  return (
    <fieldset style={{ border: 0, padding: 0, margin: 0, minWidth: 0 }} className={styles.stack}>
      <legend className={styles.subhead}>Do two act together?</legend>
      {choice.joint.map(([a, b]) => (
        <div key={`${a}\n${b}`} className={styles.driverMore}>
          <span>{`${a} with ${b}`}</span>
          <Button size="small" onClick={() => onChange(choice.joint.filter((pair) => pair[0] !== a || pair[1] !== b))}>Take out</Button>
        </div>
      ))}
      {picker("Does the effect of", first, setFirst)}
      {picker("depend on", second, setSecond)}
      <Button
        disabled={!ready}
        onClick={() => {
          if (first !== undefined && second !== undefined) onChange([...choice.joint, [first, second]]);
        }}
      >
        Ask
      </Button>
    </fieldset>
  );
}
