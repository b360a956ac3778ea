/** A choice among values, or none of them. */
import { Dropdown, Field, Option } from "@fluentui/react-components";

interface Props {
  readonly label: string;
  readonly hint?: string;
  /** What stands for no value. */
  readonly none: string;
  readonly values: readonly string[];
  readonly value: string | undefined;
  readonly onChange: (value: string | undefined) => void;
}

export function OptionPicker({ label, hint, none, values, value, onChange }: Props) {
  return (
    <Field label={label} hint={hint}>
      <Dropdown
        value={value ?? none}
        selectedOptions={[value === undefined ? "" : `=${value}`]}
        onOptionSelect={(_, { optionValue }) => onChange(optionValue ? optionValue.slice(1) : undefined)}
      >
        <Option value="" text={none}>
          {none}
        </Option>
        {values.map((one) => (
          <Option key={one} value={`=${one}`} text={one}>
            {one}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}
