/** What can be changed of a layout. */
import type { LayoutForm, LayoutNumber } from "../../experiment/layout/layoutForm";
import { QuantityFields, type QuantityOf } from "../fields/QuantityFields";
import { useSectionStyles } from "../frame/styles";

const FIELDS: readonly QuantityOf<LayoutNumber>[] = [
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

interface Props {
  readonly form: LayoutForm;
  readonly onChange: (part: Partial<LayoutForm>) => void;
}

export function LayoutFields({ form, onChange }: Props) {
  const { fields } = useSectionStyles();
  return (
    <div className={fields} role="group" aria-label="The layout">
      <QuantityFields list={FIELDS} form={form} onChange={onChange} />
    </div>
  );
}
