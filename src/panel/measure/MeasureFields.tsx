/** What a measurement rests on beside the set-up. */
import { Field, Input, makeStyles } from "@fluentui/react-components";
import type { MeasureForm } from "../../experiment/measure/measureForm";
import { unitOf, type Quantity, type Unit } from "../../experiment/shot/shotSettings";
import { NumberField } from "../fields/NumberField";
import { useSectionStyles } from "../frame/styles";

type NumberName = { [K in keyof MeasureForm]: MeasureForm[K] extends number ? K : never }[keyof MeasureForm];
type Source = readonly [name: NumberName, label: string, quantity: Quantity, low: number, high: number];

const PERCENT: Unit = { size: 0.01, name: "%" };
const SOURCES: readonly Source[] = [
  ["scatter", "Readings scatter, 0: not known", "small", 0, 0.05],
  ["markError", "Near mark, ±", "small", 0, 0.05],
  ["alignmentError", "Sighted line, ±", "small", 0, 0.05],
  ["gateCorrection", "Departure gate takes off", "small", -0.05, 0.05],
  ["gateError", "Departure gate, ±", "small", 0, 0.05],
];
const CAMERA: readonly Source[] = [
  ["readHeight", "Read above the ruler by", "small", 0, 0.3],
  ["cameraHeight", "Camera above the ruler", "length", 0.31, 10],
  ["cameraOffset", "Camera off the plumb line", "length", 0, 10],
];

const useStyles = makeStyles({
  fields: {
    display: "grid",
    gridTemplateColumns: "repeat(auto-fit, minmax(130px, 1fr))",
    gap: "8px 12px",
    alignItems: "end",
  },
});

interface Props {
  readonly form: MeasureForm;
  /** The readings, or what is wrong with them. */
  readonly readings: readonly number[] | string;
  readonly onChange: (part: Partial<MeasureForm>) => void;
}

export function MeasureFields({ form, readings, onChange }: Props) {
  const styles = useStyles();
  const section = useSectionStyles();
  const unit = unitOf("small", form.units);
  const sources = (list: readonly Source[]) =>
    list.map((source) => <SourceField key={source[0]} source={source} form={form} onChange={onChange} />);
  return (
    <>
      <Field
        label={`Gap readings of one layout (${unit.name})`}
        validationState={typeof readings === "string" ? "error" : "none"}
        validationMessage={typeof readings === "string" ? readings : undefined}
      >
        <Input value={form.readings} onChange={(_, { value }) => onChange({ readings: value })} />
      </Field>
      <div className={styles.fields}>{sources(SOURCES)}</div>
      <h2 className={section.subhead}>Parallax</h2>
      <div className={styles.fields}>{sources(CAMERA)}</div>
      <h2 className={section.subhead}>How sure</h2>
      <div className={styles.fields}>
        <Percent name="sure" label="Wanted certainty (%)" low={0.5001} form={form} onChange={onChange} />
        <Percent name="confidence" label="Confidence of ± (%)" low={0.5} form={form} onChange={onChange} />
      </div>
    </>
  );
}

type FieldProps = Pick<Props, "form" | "onChange">;

function SourceField({ source, form, onChange }: FieldProps & { readonly source: Source }) {
  const [name, label, quantity, low, high] = source;
  const unit = unitOf(quantity, form.units);
  const text = `${label} (${unit.name})`;
  return (
    <NumberField
      label={text}
      name={text}
      value={form[name]}
      unit={unit}
      low={low}
      high={high}
      onChange={(value) => onChange({ [name]: value })}
    />
  );
}

function Percent({
  name,
  label,
  low,
  form,
  onChange,
}: FieldProps & { readonly name: "confidence" | "sure"; readonly label: string; readonly low: number }) {
  return (
    <NumberField
      label={label}
      name={label}
      value={form[name]}
      unit={PERCENT}
      low={low}
      high={0.9999}
      onChange={(value) => onChange({ [name]: value })}
    />
  );
}
