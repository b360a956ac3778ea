/** A layout as a new sheet: places, bends, steps. */
import { say, toText } from "../language/said";
import type { NewCell, NewSheet } from "../../workbook/port";
import { unitOf } from "../shot/shotSettings";
import type { LaidShot } from "./layoutCheck";
import { layoutScene } from "./layoutScene";
import { layoutSteps } from "./layoutSteps";
import { arrangementLabel } from "./layoutWords";

const tidy = (value: number) => Number(value.toPrecision(10));

export function layoutSheet(laid: LaidShot): NewSheet {
  const { form, gated } = laid;
  const { name: unit, size } = unitOf("small", form.units);
  const bold = (...texts: string[]) => texts.map((value): NewCell => ({ value, bold: true }));
  const bends: readonly (readonly [string, number])[] = [
    ["Bend of the path, + short", form.bend],
    ["Set bend (R − gap)", gated.setBend],
    ["Gap", gated.gap],
    ["Correction of the departure gate", gated.correction],
  ];
  return {
    name: "Layout",
    rows: [
      bold("Place", `x (${unit})`, `y (${unit})`, `May be off, square to the line (${unit})`, "Measured"),
      ...layoutScene(laid).places.map(({ label, x, y, tolerance, words }): NewCell[] => [
        { value: label },
        { value: tidy(x / size) },
        { value: tidy(y / size) },
        { value: tolerance === undefined ? null : tidy(tolerance / size) },
        { value: words },
      ]),
      [],
      ...bends.map(([label, value]): NewCell[] => [{ value: `${label} (${unit})` }, { value: tidy(value / size) }]),
      [{ value: "Departure gate" }, { value: arrangementLabel(form.arrangement) }],
      [{ value: "x along the banked rail from its left end, y square to it, nose to nose, to the centres." }],
      ...layoutSteps(laid).flatMap(({ title, lines }): NewCell[][] => [
        [],
        bold(title),
        ...lines.map((line, i): NewCell[] => [{ value: toText(say`${i + 1}. ${line}`) }]),
      ]),
    ],
    columnWidths: [32, 10, 10, 18, 70],
  };
}
