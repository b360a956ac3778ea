/**
 * A computed shot as one row under headings that the panel's regression can read.
 */
import { toText, joinTexts } from "../language/said";
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

type Pair = readonly [heading: string, cell: NewCell];

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
  const atCushion = shot.origin === "cushion" ? { ...shot, swerve: 0 } : motionAtCushion(computed, conditions);
  const pairs: Pair[] = [
    ["Sent", sentCell(sent)],
    ["Set at", { value: ORIGIN_LABELS[shot.origin] }],
    ...motionPairs(shot, atCushion, " at cushion"),
    settingPair(shot, "across"),
    settingPair(shot, "along"),
    ...pathPairs(shot, computed, range),
    ...(["gap", "room", "obstacleRadius"] as const).map((name) => settingPair(shot, name)),
    ...clearancePairs(shot, layout),
    ["Warnings", { value: toText(joinTexts(shotWarnings(shot, computed, layout, conditions), " ")), wrap: true }],
    ...constantPairs(shot),
    ...beforePairs(shot, computed, conditions),
    ["Made by", { value: `Bendbook ${version}, a model; nothing measured. + bends short, − long.` }],
  ];
  return {
    sheet: "Shots",
    headings: pairs.map(([heading]) => heading),
    cells: pairs.map(([, cell]) => cell),
    columnWidths: pairs.map(([heading]) => (heading === "Warnings" ? 50 : heading === "Sent" ? 16 : 12)),
  };
}

function tidy(value: number | undefined): NewCell {
  return { value: value === undefined || !Number.isFinite(value) ? null : Number(value.toPrecision(DIGITS)) };
}

const headed = (text: string, unit: string) => (unit === "" ? text : `${text} (${unit})`);

/** A date as a spreadsheet has it. */
function sentCell(sent: Date): NewCell {
  const [year, month, day] = [sent.getFullYear(), sent.getMonth(), sent.getDate()];
  const at = Date.UTC(year, month, day, sent.getHours(), sent.getMinutes());
  return { value: (at - DAY_ZERO) / DAY, format: "yyyy-mm-dd hh:mm" };
}

/** A setting's value under its label, in the unit shown; blank where there is none. */
function valuePair({ units }: ShotSettings, name: SettingName, value: number | undefined, where = ""): Pair {
  const { label, quantity } = SETTING_KINDS[name];
  const unit = unitOf(quantity, units);
  return [headed(label + where, unit.name), tidy(value === undefined ? undefined : value / unit.size)];
}

/** @param origins at which the setting is set; at others it is blank */
function settingPair(shot: ShotSettings, name: SettingName, origins?: readonly Origin[]): Pair {
  return valuePair(shot, name, !origins || origins.includes(shot.origin) ? shot[name] : undefined);
}

const motionPairs = (shot: ShotSettings, of: Motion | undefined, where: string) =>
  (["speed", "angle", "roll", "side"] as const).map((name) => valuePair(shot, name, of?.[name], where));

function pathPairs({ units }: ShotSettings, { bank }: ComputedShot, range: BendRange): Pair[] {
  const [small, speed] = [unitOf("small", units), unitOf("speed", units)];
  const path = bank?.path;
  return [
    [headed("Predicted bend", small.name), tidy(path && path.bend / small.size)],
    [headed("Predicted bend, low", small.name), tidy(path && range.low / small.size)],
    [headed("Predicted bend, high", small.name), tidy(path && range.high / small.size)],
    ["Departure (°)", tidy(path && path.departureAngle / DEGREE)],
    ["Arrival (°)", tidy(path && path.arrival.angle / DEGREE)],
    [headed("Arrival speed", speed.name), tidy(path && path.arrival.speed / speed.size)],
    ["Arrives", { value: path ? { slip: "slipping", roll: "rolling", rest: "resting" }[path.arrival.phase] : "never" }],
  ];
}

function clearancePairs({ units }: ShotSettings, { marked }: ShotLayout): Pair[] {
  const [small, length] = [unitOf("small", units), unitOf("length", units)];
  return [
    [headed("Predicted clearance", small.name), tidy(marked && marked.clearance / small.size)],
    [headed("Arrival past the nearest pocket", length.name), tidy(marked && marked.offPocket / length.size)],
  ];
}

/** The fitted constants with the ends of their ranges. */
function constantPairs({ constants }: ShotSettings): Pair[] {
  return UNCERTAIN.flatMap((name): Pair[] => {
    const { low, value, high } = constants[name];
    const { label } = CONSTANT_KINDS[name];
    return [
      [label, tidy(value)],
      [`${label}, low`, tidy(low)],
      [`${label}, high`, tidy(high)],
    ];
  });
}

/** What happens before the cushion. */
function beforePairs(shot: ShotSettings, { leaving }: ComputedShot, { ballDiameter }: Conditions): Pair[] {
  const atSpot = shot.origin === "spot" ? { ...shot, swerve: 0 } : leaving && motionOf(leaving, ballDiameter / 2);
  return [
    settingPair(shot, "spotDistance", ["spot", "stroke"]),
    ...motionPairs(shot, atSpot, " at spot"),
    ...(["cueSpeed", "tipUp", "tipRight", "cut", "cueRun"] as const).map((name) => settingPair(shot, name, ["stroke"])),
  ];
}
