/** Numbers of a form that are lengths, angles or shares: each named with its unit, within its limits. */
import { unitOf, type Quantity } from "../../experiment/shot/shotSettings";
import { NumberField, named } from "./NumberField";

/** Limits are in SI. */
export type QuantityOf<Name extends string> = readonly [
  name: Name,
  label: string,
  quantity: Quantity,
  low: number,
  high: number,
];

interface Props<Name extends string> {
  readonly list: readonly QuantityOf<Name>[];
  readonly form: Readonly<Record<Name, number>> & { readonly units: "us" | "si" };
  readonly onChange: (part: { readonly [One in Name]?: number }) => void;
}

export function QuantityFields<Name extends string>({ list, form, onChange }: Props<Name>) {
  return list.map(([name, label, quantity, low, high]) => {
    const unit = unitOf(quantity, form.units);
    const take = (value: number) => onChange({ [name]: value } as { [One in Name]?: number });
    return (
      <NumberField
        key={name}
        name={named(label, unit)}
        value={form[name]}
        unit={unit}
        low={low}
        high={high}
        onChange={take}
      />
    );
  });
}
