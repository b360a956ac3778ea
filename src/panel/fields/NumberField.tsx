/**
 * A number that the user types, in the unit shown; what cannot be used stays as typed, with the reason, and the last
 * good value stays in force.
 */
import { say, toText, type Said } from "../../experiment/language/said";
import { Field, Input } from "@fluentui/react-components";
import { useEffect, useState } from "react";
import { parseInches } from "../../bank/ruler";
import { typedNumber } from "../../experiment/language/typedNumber";
import { significant, withUnit } from "../../experiment/language/wording";
import type { Unit } from "../../experiment/shot/shotSettings";

interface Props {
  /** Stands above the field. */
  readonly name: string;
  /** True where something beside the field says its name to those who see. */
  readonly unlabelled?: boolean;
  /** SI. */
  readonly value: number;
  readonly unit: Unit;
  readonly low: number;
  readonly high: number;
  /** Takes a value within low and high; returns what is wrong with it beside other fields, if anything. */
  readonly onChange: (value: number) => Said | undefined | void;
}

/** Shares are said in it. */
export const PERCENT: Unit = { size: 0.01, name: "%" };

/** What a value is called with its unit. @example named("Cut", { size: 1, name: "°" }) === "Cut (°)" */
export const named = (label: string, unit: Pick<Unit, "name">) =>
  unit.name === "" ? label : `${label} (${unit.name})`;

/** What a field shows of an SI value. */
export const plainText = (value: number, { size }: Unit) => String(Number((value / size).toPrecision(6)) + 0);

export function NumberField({ name, unlabelled = false, value, unit, low, high, onChange }: Props) {
  const [draft, setDraft] = useState<{ text: string; problem: Said | undefined; unit: string; shown: string }>();
  const shown = plainText(value, unit);
  // A value that comes from elsewhere, such as the slider, replaces what was typed; what the typing itself brought does
  // not.
  useEffect(
    () => setDraft((before) => (before && before.unit === unit.name && before.shown === shown ? before : undefined)),
    [shown, unit.name],
  );
  const take = (text: string) => {
    const said = (at: number) => withUnit(significant(at / unit.size, 4), unit.name);
    const number = read(text, unit);
    const wanted = say`${said(low)} to ${said(high)}`;
    const outside =
      typeof number === "number" && (number < low - 1e-9 * Math.abs(low) || number > high + 1e-9 * Math.abs(high));
    const why =
      typeof number === "string"
        ? say`${name}: "${text}" ${number}. Give a number from ${wanted}.`
        : outside
          ? say`${name} is ${text}: give ${wanted}.`
          : undefined;
    const problem = why ?? (onChange(number as number) || undefined);
    setDraft({
      text,
      problem,
      unit: unit.name,
      shown: problem === undefined ? plainText(number as number, unit) : shown,
    });
  };
  return (
    <Field
      label={unlabelled ? undefined : name}
      validationState={draft?.problem ? "error" : "none"}
      validationMessage={draft?.problem && toText(draft.problem)}
      style={{ minWidth: 0 }}
    >
      <Input
        size="small"
        aria-label={unlabelled ? name : undefined}
        inputMode="decimal"
        value={draft?.text ?? shown}
        input={{ style: { minWidth: 0, width: "100%" } }}
        style={{ minWidth: 0, width: "100%" }}
        onChange={(_, data) => take(data.value)}
        onBlur={() => setDraft((before) => (before?.problem ? before : undefined))}
      />
    </Field>
  );
}

/** SI value, or why there is none; ruler readings such as 9/16 are read where the unit is the inch. */
function read(text: string, unit: Unit): number | string {
  if (text.trim() === "") return "is blank";
  const number = typedNumber(text);
  if (typeof number === "number") return number * unit.size;
  if (unit.name !== "in" || text.includes(",")) return number.why;
  const inches = parseInches(text);
  return typeof inches === "number" ? inches * unit.size : inches.why;
}
