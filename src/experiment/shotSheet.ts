/**
 * A computed shot as a new sheet: one row under headings that the panel's regression can read, the constants below it.
 * May import: the shot* files, workbook/port.ts, bank/.
 */
import type { Bank } from "../bank/shot";
import { DEGREE } from "../bank/units";
import type { NewCell, NewSheet } from "../workbook/port";
import type { ShotLayout } from "./shotLayout";
import { CONSTANT_KINDS, SETTING_KINDS, UNCERTAIN, unitOf, type SettingName, type ShotSettings } from "./shotSettings";
import type { BendRange } from "./shotSweep";
import { CAUTION, shotWarnings } from "./shotWords";

const DIGITS = 10;

/** @param made day and time in words @param version of Bendbook */
export function shotSheet(shot: ShotSettings, bank: Bank, layout: ShotLayout, range: BendRange, made: string, version: string): NewSheet {
  const { units } = shot;
  const small = unitOf("small", units);
  const speed = unitOf("speed", units);
  const tidy = (value: number | undefined): NewCell => ({ value: value === undefined || !Number.isFinite(value) ? null : Number(value.toPrecision(DIGITS)) });
  const headed = (text: string, unit: string) => (unit === "" ? text : `${text} (${unit})`);
  const setting = (name: SettingName): [string, NewCell] => {
    const { label, quantity } = SETTING_KINDS[name];
    const { size, name: unit } = unitOf(quantity, units);
    return [headed(label, unit), tidy(shot[name] / size)];
  };
  const { path } = bank;
  const pairs: [string, NewCell][] = [
    ...(["speed", "angle", "roll", "side", "across", "along"] as const).map(setting),
    [headed("Predicted bend", small.name), tidy(path && path.bend / small.size)],
    [headed("Predicted bend, low", small.name), tidy(path && range.low / small.size)],
    [headed("Predicted bend, high", small.name), tidy(path && range.high / small.size)],
    ["Departure (°)", tidy(path && path.departureAngle / DEGREE)],
    ["Arrival (°)", tidy(path && path.arrival.angle / DEGREE)],
    [headed("Arrival speed", speed.name), tidy(path && path.arrival.speed / speed.size)],
    ["Arrives", { value: path ? { slip: "slipping", roll: "rolling", rest: "resting" }[path.arrival.phase] : "never" }],
    setting("gap"),
    setting("obstacleRadius"),
    [headed("Predicted clearance", small.name), tidy(layout.marked && layout.marked.clearance / small.size)],
    ["Warnings", { value: shotWarnings(shot, bank, layout).join(" ") }],
  ];
  return {
    name: "Shot",
    rows: [
      pairs.map(([value]) => ({ value, bold: true })),
      pairs.map(([, cell]) => cell),
      [],
      ["Table constant", "Value", "Low", "High"].map((value) => ({ value, bold: true })),
      ...UNCERTAIN.map((name) => [{ value: CONSTANT_KINDS[name].label }, ...[shot.constants[name].value, shot.constants[name].low, shot.constants[name].high].map(tidy)]),
      [],
      [{ value: "Computed by a model, not measured. + bends short, − long. Low and high span the ranges of the table's constants." }],
      [{ value: CAUTION }],
      [{ value: "Bendbook" }, { value: version }],
      [{ value: "Made" }, { value: made }],
    ],
    columnWidths: [18, 12, 12, 12, 20, 20, 20, 24, 24, 14, 12, 18, 12, 12, 22, 24, 60],
  };
}
