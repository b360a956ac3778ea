/**
 * A shot as the Shot view sets it: the settings with their limits, the table's constants with the range that each may
 * have, and what is kept of them with the workbook. SI, angles in radians.
 */
import { asRecord } from "../language/keptObject";
import type { Motion } from "../../bank/ball";
import { conditionProblem, type Conditions } from "../../bank/conditions";
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import { MISCUE_LIMIT } from "../../bank/stroke";
import { NINE_FOOT, tableShape, type Rail, type TableSize } from "../../bank/tableShape";
import { DEGREE, SYSTEMS } from "../../bank/units";
import { DEFAULT_SETUP, tableSizeOf, type Range, type Setup, type Uncertain } from "../setup/setup";

/** From where on the shot is set: speed, angle, roll and side are those there. */
export const ORIGINS = ["cushion", "spot", "stroke"] as const;
export type Origin = (typeof ORIGINS)[number];
export const ORIGIN_LABELS: Readonly<Record<Origin, string>> = {
  cushion: "the cushion",
  spot: "the object ball's spot",
  stroke: "the cue's stroke",
};

/**
 * What can be set. From the spot on, `spotDistance` is how far the spot is from where the ball touches the cushion,
 * square to the rail; `room` how far beyond grazing the gate at the cushion stands from the way that it must let pass.
 * With a stroke, `angle` is that of the line of centres, the tip's place is in radii of the ball,
 * `cut` is from the stroke's direction to the line of centres, and the cue ball runs `cueRun` before it hits.
 */
export type SettingName =
  | "speed"
  | "angle"
  | "roll"
  | "side"
  | "across"
  | "along"
  | "gap"
  | "room"
  | "obstacleRadius"
  | "spotDistance"
  | "cueSpeed"
  | "tipUp"
  | "tipRight"
  | "cut"
  | "cueRun";
/** The motion at the cushion and the line to reach: what the bend follows from, and what trial logs have. */
export const AT_CUSHION = ["speed", "angle", "roll", "side", "across"] as const;
export type AtCushion = (typeof AT_CUSHION)[number];
/** Settings that the search for the best may change: those of the stroke. */
const SEARCHABLE = ["speed", "angle", "roll", "side", "cueSpeed", "tipUp", "tipRight", "cut"] as const;
export type Searched = (typeof SEARCHABLE)[number];
export type BendSetting = AtCushion | Searched | "spotDistance" | "cueRun";

const BEND_SETTINGS: Readonly<Record<Origin, readonly [BendSetting, ...BendSetting[]]>> = {
  cushion: AT_CUSHION,
  spot: ["speed", "angle", "roll", "side", "spotDistance", "across"],
  stroke: ["cueSpeed", "tipUp", "tipRight", "cut", "cueRun", "angle", "spotDistance", "across"],
};

/** Settings that change the bend. */
export const bendSettings = ({ origin }: Pick<ShotSettings, "origin">): readonly BendSetting[] => BEND_SETTINGS[origin];
/** Settings that the search changes. */
export const searched = ({ origin }: Pick<ShotSettings, "origin">): readonly Searched[] =>
  SEARCHABLE.filter((name) => BEND_SETTINGS[origin].includes(name));

/** Constants that rows of measured bends can be fitted for. */
export const UNCERTAIN = ["slipFriction", "noseFriction", "restitution"] as const;
export type UncertainName = (typeof UNCERTAIN)[number];
/** What else the bend follows from, each with its own range. */
export const OTHERS = ["noseHeight", "rollFriction", "sideFriction", "ballDiameter", "ballMass"] as const;
export type OtherName = (typeof OTHERS)[number];

/** Which way a shot is to bend. */
export type BendWanted = "short" | "long" | "either";

type Others = Readonly<Record<OtherName, Uncertain>>;
/** The other constants at their values. */
export type OtherValues = Readonly<Record<OtherName, number>>;

function othersOf({ noseHeight, rollFriction, sideFriction, ballDiameter, ballMass }: Others): Others {
  return { noseHeight, rollFriction, sideFriction, ballDiameter, ballMass };
}

/** The other constants at their values. */
export function otherValues(others: Others): OtherValues {
  return Object.fromEntries(OTHERS.map((name) => [name, others[name].value])) as Record<OtherName, number>;
}

export interface ShotSettings extends Readonly<Record<SettingName, number>> {
  readonly units: "us" | "si";
  /** The table and what is known of nose, cloth and ball beside the fitted constants: from the set-up. */
  readonly table: TableSize;
  readonly others: Others;
  readonly rail: Rail;
  readonly origin: Origin;
  readonly constants: Readonly<Record<UncertainName, Uncertain>>;
  readonly limits: Readonly<Record<Searched, Range>>;
  readonly wanted: BendWanted;
  /** Setting that the bend is drawn against. */
  readonly against: BendSetting;
}

const { speed: MPH, length: INCH } = SYSTEMS.us;
const RADIUS = STANDARD_BALL_DIAMETER.mm / 2000;

export const DEFAULT_SHOT: ShotSettings = {
  units: "us",
  table: NINE_FOOT,
  others: othersOf(DEFAULT_SETUP),
  rail: "long",
  origin: "cushion",
  speed: 5 * MPH,
  angle: 20 * DEGREE,
  roll: 1,
  side: 0,
  across: 45 * INCH,
  along: 32 * INCH,
  gap: 0.25 * INCH,
  room: 0,
  obstacleRadius: 1 * INCH,
  spotDistance: 15 * INCH,
  cueSpeed: 6 * MPH,
  tipUp: 0,
  tipRight: 0,
  cut: 0,
  cueRun: 10 * INCH,
  constants: {
    slipFriction: DEFAULT_SETUP.slipFriction,
    noseFriction: DEFAULT_SETUP.noseFriction,
    restitution: DEFAULT_SETUP.restitution,
  },
  limits: {
    speed: { low: 2 * MPH, high: 6 * MPH },
    angle: { low: 0, high: 45 * DEGREE },
    roll: { low: -0.2, high: 1 },
    side: { low: -0.28, high: 0.28 },
    cueSpeed: { low: 2 * MPH, high: 8 * MPH },
    tipUp: { low: -0.35, high: 0.35 },
    tipRight: { low: -0.35, high: 0.35 },
    cut: { low: -30 * DEGREE, high: 30 * DEGREE },
  },
  wanted: "either",
  against: "speed",
};

/** The most that friction of ball on ball is known to be; see shootable.ts. */
const MOST_BALL_FRICTION = 0.08;

/** Roll and side together with which an object ball can leave its spot: 5/2 of that. */
export const MOST_AT_START = 2.5 * MOST_BALL_FRICTION;

/** How a setting is measured; "small" is a length that rulers give in mm where the system is SI. */
export type Quantity = "speed" | "angle" | "ratio" | "length" | "small";

export interface SettingKind {
  readonly label: string;
  readonly quantity: Quantity;
  /** One step of its slider in the units of each system. */
  readonly step: { readonly us: number; readonly si: number };
}

export const SETTING_KINDS: Readonly<Record<SettingName, SettingKind>> = {
  speed: { label: "Speed", quantity: "speed", step: { us: 0.1, si: 0.05 } },
  angle: { label: "Angle", quantity: "angle", step: { us: 1, si: 1 } },
  roll: { label: "Roll", quantity: "ratio", step: { us: 0.05, si: 0.05 } },
  side: { label: "Side", quantity: "ratio", step: { us: 0.05, si: 0.05 } },
  across: { label: "Distance across", quantity: "length", step: { us: 0.25, si: 0.01 } },
  along: { label: "Place on the rail", quantity: "length", step: { us: 0.25, si: 0.01 } },
  gap: { label: "Gap", quantity: "small", step: { us: 0.0625, si: 1 } },
  room: { label: "Room at the departure gate", quantity: "small", step: { us: 0.03125, si: 0.5 } },
  obstacleRadius: { label: "Obstacle's radius", quantity: "small", step: { us: 0.125, si: 1 } },
  spotDistance: { label: "Spot to cushion", quantity: "length", step: { us: 0.25, si: 0.01 } },
  cueSpeed: { label: "Cue's speed", quantity: "speed", step: { us: 0.1, si: 0.05 } },
  tipUp: { label: "Tip above centre", quantity: "ratio", step: { us: 0.05, si: 0.05 } },
  tipRight: { label: "Tip right of centre", quantity: "ratio", step: { us: 0.05, si: 0.05 } },
  cut: { label: "Cut", quantity: "angle", step: { us: 1, si: 1 } },
  cueRun: { label: "Cue ball's run", quantity: "length", step: { us: 0.25, si: 0.01 } },
};

/** A change of each setting that is worth speaking of, in the units shown. */
const CHANGES: Readonly<Record<BendSetting, { readonly us: number; readonly si: number }>> = {
  speed: { us: 1, si: 0.5 },
  angle: { us: 5, si: 5 },
  roll: { us: 0.1, si: 0.1 },
  side: { us: 0.1, si: 0.1 },
  across: { us: 4, si: 0.1 },
  spotDistance: { us: 4, si: 0.1 },
  cueSpeed: { us: 1, si: 0.5 },
  tipUp: { us: 0.1, si: 0.1 },
  tipRight: { us: 0.1, si: 0.1 },
  cut: { us: 5, si: 5 },
  cueRun: { us: 4, si: 0.1 },
};

/** A change of a setting that is worth speaking of, SI. */
export function changeOf(setting: BendSetting, units: "us" | "si"): number {
  return CHANGES[setting][units] * unitOf(SETTING_KINDS[setting].quantity, units).size;
}

export interface Unit {
  /** SI value of one. */
  readonly size: number;
  readonly name: string;
}

/** The unit that a quantity is shown in. @example unitOf("small", "si") // { size: 0.001, name: "mm" } */
export function unitOf(quantity: Quantity, units: "us" | "si"): Unit {
  const system = SYSTEMS[units];
  switch (quantity) {
    case "speed":
      return { size: system.speed, name: system.speedName };
    case "angle":
      return { size: DEGREE, name: "°" };
    case "ratio":
      return { size: 1, name: "" };
    case "length":
      return { size: system.length, name: system.lengthName };
    case "small":
      return units === "us" ? { size: INCH, name: "in" } : { size: 0.001, name: "mm" };
    default:
      return quantity satisfies never;
  }
}

/** A gate farther off than this is none, m. */
const MOST_ROOM = 0.02;

/** What a setting may be at all; distances end where the ball touches the rails. */
export function bounds(name: SettingName, rail: Rail, size: TableSize = NINE_FOOT, ball: number = 2 * RADIUS): Range {
  const { width, depth } = tableShape(rail, size);
  const radius = ball / 2;
  switch (name) {
    case "speed":
      return { low: 0.5 * MPH, high: 12 * MPH };
    case "angle":
      return { low: -80 * DEGREE, high: 80 * DEGREE };
    case "roll":
    case "side":
      return { low: -2, high: 2 };
    case "across":
      return { low: 4 * radius, high: depth - 2 * radius };
    case "along":
      return { low: radius, high: width - radius };
    case "gap":
      return { low: -radius, high: 4 * radius };
    case "room":
      return { low: 0, high: MOST_ROOM };
    case "obstacleRadius":
      return { low: 0.001, high: 0.1 };
    case "spotDistance":
      return { low: 0, high: depth - 2 * radius };
    case "cueSpeed":
      return { low: 0.5 * MPH, high: 20 * MPH };
    case "tipUp":
    case "tipRight":
      return { low: -MISCUE_LIMIT, high: MISCUE_LIMIT };
    case "cut":
      return { low: -80 * DEGREE, high: 80 * DEGREE };
    case "cueRun":
      return { low: 1 * INCH, high: 80 * INCH };
    default:
      return name satisfies never;
  }
}

/** What a setting of a shot may be on its own table. */
export function boundsOf(
  name: SettingName,
  { rail, table, others }: Pick<ShotSettings, "rail" | "table" | "others">,
): Range {
  return bounds(name, rail, table, others.ballDiameter.value);
}

const USUAL_OTHERS = otherValues(DEFAULT_SHOT.others);

/** A friction of 0 is possible; a wedged ball is not (see conditionProblem). */
export const CONSTANT_KINDS: Readonly<Record<UncertainName, { readonly label: string; readonly bounds: Range }>> = {
  slipFriction: { label: "Slip friction", bounds: { low: 0.01, high: 0.8 } },
  noseFriction: { label: "Nose friction", bounds: { low: 0, high: 0.8 } },
  restitution: { label: "Restitution", bounds: { low: 0.1, high: 1 } },
};

export function motionOfShot({ speed, angle, roll, side }: Omit<Motion, "swerve">): Motion {
  return { speed, angle, roll, side, swerve: 0 };
}

/** The table with the given constants. */
export function conditionsOf(
  constants: Readonly<Record<UncertainName, number>>,
  others: OtherValues = USUAL_OTHERS,
): Conditions {
  return { ...others, ...constants };
}

/** The table of a shot, its constants at their values. */
export function conditionsOfShot({ constants, others }: Pick<ShotSettings, "constants" | "others">): Conditions {
  const { slipFriction, noseFriction, restitution } = constants;
  return conditionsOf(
    { slipFriction: slipFriction.value, noseFriction: noseFriction.value, restitution: restitution.value },
    otherValues(others),
  );
}

function within(value: unknown, { low, high }: Range, otherwise: number): number {
  return typeof value === "number" && value >= low && value <= high ? value : otherwise;
}

function oneOf<T extends string>(value: unknown, choices: readonly T[], otherwise: T): T {
  return choices.find((choice) => choice === value) ?? otherwise;
}

/**
 * Kept settings; whatever is missing, of the wrong kind or impossible takes its default.
 * @param raw what was parsed from the workbook
 */
export function parseShot(raw: unknown): ShotSettings {
  const kept = asRecord(raw);
  const rail = oneOf(kept.rail, ["long", "short"], DEFAULT_SHOT.rail);
  const setting = (name: SettingName) => within(kept[name], bounds(name, rail), DEFAULT_SHOT[name]);
  const constants = Object.fromEntries(
    UNCERTAIN.map((name): [UncertainName, Uncertain] => {
      const one = asRecord(asRecord(kept.constants)[name]);
      const { low, value, high } = one;
      const fits =
        [low, value, high].every((at) => within(at, CONSTANT_KINDS[name].bounds, NaN) === at) &&
        (low as number) <= (value as number) &&
        (value as number) <= (high as number);
      return [name, fits ? (one as unknown as Uncertain) : DEFAULT_SHOT.constants[name]];
    }),
  ) as Record<UncertainName, Uncertain>;
  const origin = oneOf(kept.origin, ORIGINS, DEFAULT_SHOT.origin);
  const limits = Object.fromEntries(
    SEARCHABLE.map((name): [Searched, Range] => {
      const { low, high } = asRecord(asRecord(kept.limits)[name]);
      const allowed = bounds(name, rail);
      const fits = within(low, allowed, NaN) === low && within(high, allowed, NaN) === high && low <= high;
      return [name, fits ? { low, high } : DEFAULT_SHOT.limits[name]];
    }),
  ) as Record<Searched, Range>;
  return {
    units: oneOf(kept.units, ["us", "si"], DEFAULT_SHOT.units),
    table: DEFAULT_SHOT.table,
    others: DEFAULT_SHOT.others,
    rail,
    origin,
    ...(Object.fromEntries(
      (Object.keys(SETTING_KINDS) as SettingName[]).map((name) => [name, setting(name)]),
    ) as Record<SettingName, number>),
    constants: conditionProblem(conditionsOfShot({ ...DEFAULT_SHOT, constants })) ? DEFAULT_SHOT.constants : constants,
    limits,
    wanted: oneOf(kept.wanted, ["short", "long", "either"], DEFAULT_SHOT.wanted),
    against: oneOf(kept.against, BEND_SETTINGS[origin], BEND_SETTINGS[origin][0]),
  };
}

/** The same shot on another rail, with its distances brought within what that rail has. */
export function onRail(shot: ShotSettings, rail: Rail): ShotSettings {
  return onTable({ ...shot, rail });
}

/** The distances brought within what the table has. */
function onTable(shot: ShotSettings): ShotSettings {
  const clamped = (name: SettingName) => {
    const { low, high } = boundsOf(name, shot);
    return Math.min(high, Math.max(low, shot[name]));
  };
  return { ...shot, across: clamped("across"), along: clamped("along"), spotDistance: clamped("spotDistance") };
}

/** The shot with what the set-up says: units, table, ball, cloth and cushion, obstacle. */
export function shotOfSetup(shot: ShotSettings, setup: Setup): ShotSettings {
  const { slipFriction, noseFriction, restitution, obstacleDiameter } = setup;
  return onTable({
    ...shot,
    units: setup.units,
    table: tableSizeOf(setup),
    others: othersOf(setup),
    constants: { slipFriction, noseFriction, restitution },
    obstacleRadius: obstacleDiameter.value / 2,
  });
}

/** The same settings read as those at another origin; what the bend is drawn against is one that counts there. */
export function fromOrigin(shot: ShotSettings, origin: Origin): ShotSettings {
  // At its spot an object ball has little spin; what a slider there does not offer is not taken along.
  const spin = (value: number) =>
    origin === "spot" ? Math.min(MOST_AT_START, Math.max(-MOST_AT_START, value)) : value;
  return {
    ...shot,
    origin,
    roll: spin(shot.roll),
    side: spin(shot.side),
    against: BEND_SETTINGS[origin].includes(shot.against) ? shot.against : BEND_SETTINGS[origin][0],
  };
}
