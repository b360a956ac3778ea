/** Which drivers act together: pairs whose effects depend on one another. */
import { Button, Dropdown, Field, Option } from "@fluentui/react-components";
import { useState } from "react";
import type { Choice } from "../../experiment/question/choice";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly choice: Choice;
  readonly onChange: (joint: Choice["joint"]) => void;
}

export function JointPicker({ choice, onChange }: Props) {
  const styles = useSectionStyles();
  const headings = choice.drivers.map(({ heading }) => heading);
  const [first, setFirst] = useState<string>();
  const [second, setSecond] = useState<string>();
  const asked = choice.joint.some(
    (pair) => first !== undefined && second !== undefined && pair.includes(first) && pair.includes(second),
  );
  const ready =
    first !== undefined &&
    second !== undefined &&
    first !== second &&
    !asked &&
    headings.includes(first) &&
    headings.includes(second);
  const picker = (label: string, value: string | undefined, set: (heading: string) => void) => (
    <Field label={label}>
      <Dropdown
        placeholder="choose a driver"
        value={value ?? ""}
        selectedOptions={value ? [value] : []}
        onOptionSelect={(_, { optionValue }) => optionValue && set(optionValue)}
      >
        {headings.map((heading) => (
          <Option key={heading} value={heading}>
            {heading}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
  return (
    <fieldset style={{ border: 0, padding: 0, margin: 0, minWidth: 0 }} className={styles.stack}>
      <legend className={styles.subhead}>Do two act together?</legend>
      {choice.joint.map(([a, b]) => (
        <div key={`${a}\n${b}`} className={styles.driverMore}>
          <span>{`${a} with ${b}`}</span>
          <Button size="small" onClick={() => onChange(choice.joint.filter((pair) => pair[0] !== a || pair[1] !== b))}>
            Take out
          </Button>
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
