/**
 * A computed shot as one row under headings that the panel's regression can read.
 */
import { motionOf, type Motion } from "../../bank/ball";
import type { Conditions } from "../../bank/conditions";
import { DEGREE } from "../../bank/units";
import type { NewCell, NewRow } from "../../workbook/port";
import { motionAtCushion, type ComputedShot } from "./computedShot";
import type { ShotLayout } from "./shotLayout";
import {
  CONSTANT_KINDS,
  ORIGIN_LABELS,
  SETTING_KINDS,
  UNCERTAIN,
  unitOf,
  type Origin,
  type SettingName,
  type ShotSettings,
} from "./shotSettings";
import type { BendRange } from "./shotSweep";
import { shotWarnings } from "./shotWords";

const DIGITS = 10;
const DAY = 86_400_000;
/** Day 0 of a spreadsheet's dates, 1899-12-30. */
const DAY_ZERO = Date.UTC(1899, 11, 30);

/** @param sent when, by the clock of the place @param version of Bendbook */
export function shotRow(
  shot: ShotSettings,
  computed: ComputedShot,
  conditions: Conditions,
  layout: ShotLayout,
  range: BendRange,
  sent: Date,
  version: string,
): NewRow {
  const { units } = shot;
  const small = unitOf("small", units);
  const speed = unitOf("speed", units);
  const tidy = (value: number | undefined): NewCell => ({
    value: value === undefined || !Number.isFinite(value) ? null : Number(value.toPrecision(DIGITS)),
  });
  const headed = (text: string, unit: string) => (unit === "" ? text : `${text} (${unit})`);
  const cell = (name: SettingName, value: number | undefined, where = ""): [string, NewCell] => {
    const { label, quantity } = SETTING_KINDS[name];
    const { size, name: unit } = unitOf(quantity, units);
    return [headed(label + where, unit), tidy(value === undefined ? undefined : value / size)];
  };
  const setting = (name: SettingName, origins?: readonly Origin[]) =>
    cell(name, !origins || origins.includes(shot.origin) ? shot[name] : undefined);
  const motion = (of: Motion | undefined, where: string) =>
    (["speed", "angle", "roll", "side"] as const).map((name) => cell(name, of?.[name], where));
  const path = computed.bank?.path;
  const pairs: [string, NewCell][] = [
    [
      "Sent",
      {
        value:
          (Date.UTC(sent.getFullYear(), sent.getMonth(), sent.getDate(), sent.getHours(), sent.getMinutes()) -
            DAY_ZERO) /
          DAY,
        format: "yyyy-mm-dd hh:mm",
      },
    ],
    ["Set at", { value: ORIGIN_LABELS[shot.origin] }],
    ...motion(
      shot.origin === "cushion" ? { ...shot, swerve: 0 } : motionAtCushion(computed, conditions),
      " at cushion",
    ),
    setting("across"),
    setting("along"),
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
    [
      headed("Arrival past the nearest pocket", unitOf("length", units).name),
      tidy(layout.marked && layout.marked.offPocket / unitOf("length", units).size),
    ],
    ["Warnings", { value: shotWarnings(shot, computed, layout, conditions).join(" "), wrap: true }],
    ...UNCERTAIN.flatMap((name): [string, NewCell][] => {
      const { low, value, high } = shot.constants[name];
      const { label } = CONSTANT_KINDS[name];
      return [
        [label, tidy(value)],
        [`${label}, low`, tidy(low)],
        [`${label}, high`, tidy(high)],
      ];
    }),
    setting("spotDistance", ["spot", "stroke"]),
    ...motion(
      shot.origin === "spot"
        ? { ...shot, swerve: 0 }
        : computed.leaving && motionOf(computed.leaving, conditions.ballDiameter / 2),
      " at spot",
    ),
    ...(["cueSpeed", "tipUp", "tipRight", "cut", "cueRun"] as const).map((name) => setting(name, ["stroke"])),
    ["Made by", { value: `Bendbook ${version}, a model; nothing measured. + bends short, − long.` }],
  ];
  return {
    sheet: "Shots",
    headings: pairs.map(([heading]) => heading),
    cells: pairs.map(([, cell]) => cell),
    columnWidths: pairs.map(([heading]) => (heading === "Warnings" ? 50 : heading === "Sent" ? 16 : 12)),
  };
}
