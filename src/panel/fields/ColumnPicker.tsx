/** The choice of one column of a log, by its heading. */
import { Dropdown, Field, Option } from "@fluentui/react-components";
import type { LogColumn } from "../../experiment/log/trialLog";

export function ColumnPicker({
  label,
  columns,
  value,
  onChange,
}: {
  label: string;
  columns: readonly LogColumn[];
  value: string;
  onChange: (heading: string) => void;
}) {
  return (
    <Field label={label}>
      <Dropdown
        value={value}
        selectedOptions={[value]}
        onOptionSelect={(_, { optionValue }) => optionValue && onChange(optionValue)}
      >
        {columns.map(({ heading }) => (
          <Option key={heading.text} value={heading.text}>
            {heading.text}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}
