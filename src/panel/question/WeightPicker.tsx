/** Whether some rows count more than others. */
import { Dropdown, Field, Option } from "@fluentui/react-components";
import type { TrialLog } from "../../experiment/log/trialLog";
import type { Choice } from "../../experiment/question/choice";

interface Props {
  readonly log: TrialLog;
  readonly choice: Pick<Choice, "response" | "weight">;
  /** Heading that has another part in the question. */
  readonly except?: string;
  readonly onChange: (weight: string | undefined) => void;
}

const ALIKE = "all rows alike";

export function WeightPicker({ log, choice, except, onChange }: Props) {
  const columns = log.columns.filter(
    ({ heading, kind }) => kind === "number" && heading.text !== choice.response && heading.text !== except,
  );
  const current = choice.weight ?? ALIKE;
  return (
    <Field label="Weights" hint="A row of weight 2 counts like the mean of two shots.">
      <Dropdown
        value={current}
        selectedOptions={[current]}
        onOptionSelect={(_, { optionValue }) => onChange(optionValue === ALIKE ? undefined : optionValue)}
      >
        <Option value={ALIKE}>{ALIKE}</Option>
        {columns.map(({ heading }) => (
          <Option key={heading.text} value={heading.text}>
            {heading.text}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}
