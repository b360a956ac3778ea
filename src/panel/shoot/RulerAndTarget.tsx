/** The ruler's division, which the proposed gaps keep to, and a bend whose chance is told. */
import { Field, Input, Radio, RadioGroup } from "@fluentui/react-components";
import type { ShootForm } from "../../experiment/shoot/shootForm";
import { readLength, RULERS } from "../../experiment/shoot/shootNow";
import type { ShootLog } from "../../experiment/shoot/shootLog";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly shoot: ShootLog;
  readonly form: ShootForm;
  readonly onChange: (part: Partial<ShootForm>) => void;
}

const USUAL: Readonly<Record<ShootLog["unit"], string>> = { in: "1/32", mm: "1", cm: "0.1" };

export function RulerAndTarget({ shoot: { unit }, form, onChange }: Props) {
  const section = useSectionStyles();
  const typed = form.target.trim();
  const read = typed === "" ? undefined : readLength(typed, unit);
  const problem =
    read !== undefined && typeof read !== "number"
      ? `"${typed}" ${read.why}: give a bend in ${unit}, such as ${unit === "in" ? "1 or 3/4" : "25"}.`
      : undefined;
  return (
    <div className={section.stack}>
      <Field label={`Divisions of the ruler (${unit})`}>
        <RadioGroup
          layout="horizontal"
          style={{ flexWrap: "wrap" }}
          value={form.ruler === "" ? USUAL[unit] : form.ruler}
          onChange={(_, { value }) => onChange({ ruler: value })}
        >
          {RULERS[unit].map((division) => (
            <Radio
              key={division}
              value={division}
              label={division}
              style={{ minHeight: "48px", alignItems: "center" }}
            />
          ))}
        </RadioGroup>
      </Field>
      <Field
        label={`Bend to get by (${unit})`}
        hint="Its chance is told with the answer. Empty for none."
        validationState={problem ? "error" : "none"}
        validationMessage={problem}
      >
        <Input
          size="large"
          value={form.target}
          style={{ minWidth: 0, minHeight: "48px" }}
          input={{ style: { minWidth: 0, width: "100%" } }}
          onChange={(_, { value }) => onChange({ target: value })}
        />
      </Field>
    </div>
  );
}
