/**
 * A number that the user types, in the unit shown; what cannot be used stays as typed, with the reason, and the last good
 * value stays in force. May import: experiment/, bank/ruler.ts.
 */
import { Field, Input } from "@fluentui/react-components";
import { useEffect, useState } from "react";
import { parseInches } from "../bank/ruler";
import { significant, withUnit } from "../experiment/wording";
import type { Unit } from "../experiment/shotSettings";

interface Props {
  /** Shown above the field; `name` alone is for those who do not see it when left out. */
  readonly label?: string;
  readonly name: string;
  /** SI. */
  readonly value: number;
  readonly unit: Unit;
  readonly low: number;
  readonly high: number;
  /** Takes a value within low and high; returns what is wrong with it beside other fields, if anything. */
  readonly onChange: (value: number) => string | undefined | void;
}

/** What a field shows of an SI value. */
export const plainText = (value: number, { size }: Unit) => String(Number((value / size).toPrecision(6)) + 0);

export function NumberField({ label, name, value, unit, low, high, onChange }: Props) {
  const [draft, setDraft] = useState<{ text: string; problem: string | undefined }>();
  const shown = plainText(value, unit);
  // A value that comes from elsewhere, such as the slider, replaces what was typed.
  useEffect(() => setDraft(undefined), [shown, unit.name]);
  const take = (text: string) => {
    const said = (at: number) => withUnit(significant(at / unit.size, 4), unit.name);
    const number = read(text, unit);
    const inside = number !== undefined && number >= low - 1e-9 * Math.abs(low) && number <= high + 1e-9 * Math.abs(high);
    const problem = number === undefined ? `${name} is "${text}": give a number from ${said(low)} to ${said(high)}.` : inside ? (onChange(number) ?? undefined) : `${name} is ${text}: give ${said(low)} to ${said(high)}.`;
    setDraft({ text, problem });
  };
  return (
    <Field label={label} validationState={draft?.problem ? "error" : "none"} validationMessage={draft?.problem} style={{ minWidth: 0 }}>
      <Input
        size="small" aria-label={label ? undefined : name} inputMode="decimal" value={draft?.text ?? shown} input={{ style: { minWidth: 0, width: "100%" } }} style={{ minWidth: 0, width: "100%" }}
        onChange={(_, data) => take(data.value)}
        onBlur={() => setDraft((before) => (before?.problem ? before : undefined))}
      />
    </Field>
  );
}

/** SI value; ruler readings such as 9/16 are read where the unit is the inch. */
function read(text: string, unit: Unit): number | undefined {
  const trimmed = text.trim().replace("−", "-");
  if (trimmed === "") return undefined;
  const number = Number(trimmed);
  if (Number.isFinite(number)) return number * unit.size;
  if (unit.name !== "in") return undefined;
  const inches = parseInches(trimmed);
  return typeof inches === "number" ? inches * unit.size : undefined;
}
