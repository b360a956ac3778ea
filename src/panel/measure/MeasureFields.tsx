/** What a measurement rests on beside the set-up. */
import { Field, Input } from "@fluentui/react-components";
import type { MeasureForm } from "../../experiment/measure/measureForm";
import { unitOf } from "../../experiment/shot/shotSettings";
import { named, NumberField, PERCENT } from "../fields/NumberField";
import { QuantityFields, type QuantityOf } from "../fields/QuantityFields";
import { useSectionStyles } from "../frame/styles";

type NumberName = { [K in keyof MeasureForm]: MeasureForm[K] extends number ? K : never }[keyof MeasureForm];

const SOURCES: readonly QuantityOf<NumberName>[] = [
  ["scatter", "Readings scatter, 0: not known", "small", 0, 0.05],
  ["markError", "Near mark, ±", "small", 0, 0.05],
  ["alignmentError", "Sighted line, ±", "small", 0, 0.05],
  ["gateCorrection", "Departure gate takes off", "small", -0.05, 0.05],
  ["gateError", "Departure gate, ±", "small", 0, 0.05],
];
const CAMERA: readonly QuantityOf<NumberName>[] = [
  ["readHeight", "Read above the ruler by", "small", 0, 0.3],
  ["cameraHeight", "Camera above the ruler", "length", 0.31, 10],
  ["cameraOffset", "Camera off the plumb line", "length", 0, 10],
];

interface Props {
  readonly form: MeasureForm;
  /** The readings, or what is wrong with them. */
  readonly readings: readonly number[] | string;
  readonly onChange: (part: Partial<MeasureForm>) => void;
}

export function MeasureFields({ form, readings, onChange }: Props) {
  const section = useSectionStyles();
  const unit = unitOf("small", form.units);
  return (
    <>
      <Field
        label={named("Gap readings of one layout", unit)}
        validationState={typeof readings === "string" ? "error" : "none"}
        validationMessage={typeof readings === "string" ? readings : undefined}
      >
        <Input value={form.readings} onChange={(_, { value }) => onChange({ readings: value })} />
      </Field>
      <div className={section.fields}>
        <QuantityFields list={SOURCES} form={form} onChange={onChange} />
      </div>
      <h2 className={section.subhead}>Parallax</h2>
      <div className={section.fields}>
        <QuantityFields list={CAMERA} form={form} onChange={onChange} />
      </div>
      <h2 className={section.subhead}>How sure</h2>
      <div className={section.fields}>
        <Percent name="sure" label="Wanted certainty (%)" low={0.5001} form={form} onChange={onChange} />
        <Percent name="confidence" label="Confidence of ± (%)" low={0.5} form={form} onChange={onChange} />
      </div>
    </>
  );
}

type FieldProps = Pick<Props, "form" | "onChange">;

function Percent({
  name,
  label,
  low,
  form,
  onChange,
}: FieldProps & { readonly name: "confidence" | "sure"; readonly label: string; readonly low: number }) {
  return (
    <NumberField
      name={label}
      value={form[name]}
      unit={PERCENT}
      low={low}
      high={0.9999}
      onChange={(value) => onChange({ [name]: value })}
    />
  );
}
