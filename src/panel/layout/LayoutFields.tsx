/** What can be changed of a layout. */
import { makeStyles } from "@fluentui/react-components";
import type { LayoutForm, LayoutNumber } from "../../experiment/layout/layoutForm";
import { unitOf, type Quantity } from "../../experiment/shot/shotSettings";
import { NumberField } from "../fields/NumberField";

const FIELDS: readonly (readonly [name: LayoutNumber, label: string, quantity: Quantity, low: number, high: number])[] =
  [
    ["bend", "Wanted bend of the path, + short", "small", -0.1, 0.1],
    ["departure", "Departure along the rail", "length", 0, 5],
    ["arrival", "Arrival along the rail opposite", "length", 0, 5],
    ["approach", "Comes at, from square", "angle", -1.4, 1.4],
    ["spotDistance", "Object ball's spot to the cushion", "length", 0.06, 3],
    ["cut", "Cut", "angle", -1.4, 1.4],
    ["cueRun", "Cue ball's run", "length", 0.01, 3],
    ["swing", "Widest swing, share of the path", "ratio", 0.05, 0.95],
    ["room", "Room at the departure gate", "small", 0, 0.02],
    ["wrong", "Bend may be wrong by", "small", 0.0001, 0.02],
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
  readonly form: LayoutForm;
  readonly onChange: (part: Partial<LayoutForm>) => void;
}

export function LayoutFields({ form, onChange }: Props) {
  const styles = useStyles();
  return (
    <div className={styles.fields} role="group" aria-label="The layout">
      {FIELDS.map(([name, label, quantity, low, high]) => {
        const unit = unitOf(quantity, form.units);
        const text = unit.name === "" ? label : `${label} (${unit.name})`;
        return (
          <NumberField
            key={name}
            label={text}
            name={text}
            value={form[name]}
            unit={unit}
            low={low}
            high={high}
            onChange={(value) => onChange({ [name]: value })}
          />
        );
      })}
    </div>
  );
}
