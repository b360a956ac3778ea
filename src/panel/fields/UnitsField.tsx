/** The choice between the two systems of units. */
import { Dropdown, Field, Option } from "@fluentui/react-components";

type UnitSystem = "us" | "si";

interface Props {
  readonly label?: string;
  readonly value: UnitSystem;
  /** What the choices are called; inches and metric unless said. */
  readonly names?: Readonly<Record<UnitSystem, string>>;
  readonly onChange: (units: UnitSystem) => void;
}

const NAMES = { us: "inches", si: "metric" } as const;

export function UnitsField({ label = "Units", value, names = NAMES, onChange }: Props) {
  return (
    <Field label={label} style={{ minWidth: 0 }}>
      <Dropdown
        style={{ minWidth: 0 }}
        value={names[value]}
        selectedOptions={[value]}
        onOptionSelect={(_, { optionValue }) => optionValue && onChange(optionValue as UnitSystem)}
      >
        {(["us", "si"] as const).map((units) => (
          <Option key={units} value={units}>
            {names[units]}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}
