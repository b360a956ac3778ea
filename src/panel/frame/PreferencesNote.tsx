/** Units, confidence and theme, once for every view and every workbook of this person. */
import { Dropdown, Field, Option } from "@fluentui/react-components";
import { CONFIDENCES, usePreferences, type ThemeChoice, type UnitSystem } from "./preferences";
import { useSectionStyles } from "./styles";

interface Props {
  /** In force, whoever chose them. */
  readonly units: UnitSystem;
  readonly confidence: number;
}

const UNITS: Readonly<Record<UnitSystem, string>> = { us: "inches", si: "metric" };
const THEMES: Readonly<Record<ThemeChoice, string>> = { system: "as the system", light: "light", dark: "dark" };
const percent = (share: number) => `${Number((100 * share).toPrecision(4))} %`;

export function PreferencesNote({ units, confidence }: Props) {
  const section = useSectionStyles();
  const [{ theme }, change] = usePreferences();
  const levels = Object.fromEntries(CONFIDENCES.map((one) => [String(one), percent(one)]));
  return (
    <div data-part="preferences" role="group" aria-label="Preferences">
      <div className={section.fields}>
        <Choice label="Units" value={units} names={UNITS} onChange={(next) => change({ units: next })} />
        <Choice
          label="Confidence"
          value={String(confidence)}
          shown={percent(confidence)}
          names={levels}
          onChange={(next) => change({ confidence: Number(next) })}
        />
        <Choice label="Theme" value={theme} names={THEMES} onChange={(next) => change({ theme: next })} />
      </div>
      <p className={section.note}>
        They hold for every view and every workbook, and stay in this browser. A sheet keeps the units of its headings.
      </p>
    </div>
  );
}

interface ChoiceProps<Name extends string> {
  readonly label: string;
  readonly value: Name;
  readonly shown?: string;
  readonly names: Readonly<Record<Name, string>>;
  readonly onChange: (next: Name) => void;
}

function Choice<Name extends string>({ label, value, shown, names, onChange }: ChoiceProps<Name>) {
  return (
    <Field label={label} style={{ minWidth: 0 }}>
      <Dropdown
        style={{ minWidth: 0 }}
        value={shown ?? names[value]}
        selectedOptions={[value]}
        onOptionSelect={(_, { optionValue }) => optionValue && onChange(optionValue as Name)}
      >
        {(Object.keys(names) as Name[]).map((name) => (
          <Option key={name} value={name}>
            {names[name]}
          </Option>
        ))}
      </Dropdown>
    </Field>
  );
}
