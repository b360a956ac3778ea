/**
 * The set-up: table, ball, obstacle, ruler, target, and the constants of cloth and cushion, each with its range. One
 * for a workbook; every view and every [conditions] takes it from here. SI.
 */
import { conditionProblem, DEFAULT_CONDITIONS, type Conditions } from "../../bank/conditions";
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import { NINE_FOOT, type TableSize } from "../../bank/tableShape";
import { INCH } from "../../bank/units";

export interface Range {
  readonly low: number;
  readonly high: number;
}

/** A value and within what it lies. */
export interface Uncertain extends Range {
  readonly value: number;
}

export const SETUP_NAMES = [
  "length",
  "breadth",
  "cornerMouth",
  "sideMouth",
  "noseHeight",
  "ballDiameter",
  "ballMass",
  "obstacleDiameter",
  "rulerDivision",
  "target",
  "slipFriction",
  "rollFriction",
  "sideFriction",
  "noseFriction",
  "restitution",
] as const;
export type SetupName = (typeof SETUP_NAMES)[number];

export type Setup = Readonly<Record<SetupName, Uncertain>> & {
  readonly units: "us" | "si";
};

export type SetupKind = "length" | "small" | "ratio" | "mass";

export interface SetupItem {
  /** As its row on the sheet is called, and in the panel with a capital. */
  readonly label: string;
  readonly kind: SetupKind;
  readonly group: "Table" | "Ball" | "Obstacle, ruler, target" | "Cloth and cushion";
  readonly bounds: Range;
  /** Where the value that holds until somebody gives one comes from. */
  readonly from: string;
  /** How a person measures it. */
  readonly measure: string;
}

const WPA = "World Pool-Billiard Association equipment specifications, from memory";
const TAPE = "Tape, nose to nose, twice.";

export const SETUP_ITEMS: Readonly<Record<SetupName, SetupItem>> = {
  length: {
    label: "table length",
    kind: "length",
    group: "Table",
    bounds: { low: 0.5, high: 5 },
    from: WPA,
    measure: TAPE,
  },
  breadth: {
    label: "table breadth",
    kind: "length",
    group: "Table",
    bounds: { low: 0.3, high: 3 },
    from: WPA,
    measure: TAPE,
  },
  cornerMouth: {
    label: "corner mouth",
    kind: "small",
    group: "Table",
    bounds: { low: 0.06, high: 0.2 },
    from: WPA,
    measure: "Ruler between the tips of the jaws.",
  },
  sideMouth: {
    label: "side mouth",
    kind: "small",
    group: "Table",
    bounds: { low: 0.06, high: 0.2 },
    from: WPA,
    measure: "Ruler between the tips of the jaws.",
  },
  noseHeight: {
    label: "nose height",
    kind: "ratio",
    group: "Table",
    bounds: { low: 0.5, high: 0.9 },
    from: WPA,
    measure: "Height of the nose over the bed by a square and a ruler, divided by the ball's diameter.",
  },
  ballDiameter: {
    label: "ball diameter",
    kind: "small",
    group: "Ball",
    bounds: { low: 0.02, high: 0.1 },
    from: WPA,
    measure: "Caliper, or a row of balls on a ruler.",
  },
  ballMass: {
    label: "ball mass",
    kind: "mass",
    group: "Ball",
    bounds: { low: 0.05, high: 0.4 },
    from: `${WPA}, middle of 5.5 to 6 oz`,
    measure: "Kitchen scale.",
  },
  obstacleDiameter: {
    label: "obstacle diameter",
    kind: "small",
    group: "Obstacle, ruler, target",
    bounds: { low: 0.002, high: 0.3 },
    from: "no source: yours to choose or measure",
    measure: "Caliper, at several heights and ways round.",
  },
  rulerDivision: {
    label: "ruler division",
    kind: "small",
    group: "Obstacle, ruler, target",
    bounds: { low: 0, high: 0.05 },
    from: "no source: yours to choose or measure",
    measure: "Read it off the ruler.",
  },
  target: {
    label: "target",
    kind: "small",
    group: "Obstacle, ruler, target",
    bounds: { low: 0, high: 0.1 },
    from: "no source: yours to choose or measure",
    measure: "Yours to choose.",
  },
  slipFriction: {
    label: "slip friction",
    kind: "ratio",
    group: "Cloth and cushion",
    bounds: { low: 0.01, high: 0.8 },
    from: "Marlow 1995: middle of 0.15 to 0.25; from memory",
    measure: "Distance at which a stunned ball begins to roll, and its speed: BANK.SLIDING.",
  },
  rollFriction: {
    label: "roll friction",
    kind: "ratio",
    group: "Cloth and cushion",
    bounds: { low: 0, high: 0.1 },
    from: "Marlow 1995: middle of 0.005 to 0.015; from memory",
    measure: "Time a rolling ball until it rests: BANK.ROLLING.",
  },
  sideFriction: {
    label: "side friction",
    kind: "ratio",
    group: "Cloth and cushion",
    bounds: { low: 0, high: 0.2 },
    from: "no source: to be measured by you",
    measure: "Film a ball that spins on the spot.",
  },
  noseFriction: {
    label: "nose friction",
    kind: "ratio",
    group: "Cloth and cushion",
    bounds: { low: 0, high: 0.8 },
    from: "Mathavan, Jackson & Parkin 2010, their table; its range is a guess",
    measure: "Calibrate to banks of yours, in the Shot view.",
  },
  restitution: {
    label: "restitution",
    kind: "ratio",
    group: "Cloth and cushion",
    bounds: { low: 0.1, high: 1 },
    from: "Mathavan, Jackson & Parkin 2010, their table; its range is from memory",
    measure: "Speed of a straight ball before and after the cushion: BANK.REBOUND.",
  },
};

const exactly = (value: number): Uncertain => ({ low: value, value, high: value });
const within = (value: number, half: number): Uncertain => ({ low: value - half, value, high: value + half });

const BALL = STANDARD_BALL_DIAMETER.mm / 1000;

/** What holds until somebody gives something else; see the items for where each comes from. */
export const DEFAULT_SETUP: Setup = {
  units: "us",
  length: within(NINE_FOOT.length, INCH / 8),
  breadth: within(NINE_FOOT.breadth, INCH / 8),
  cornerMouth: { value: NINE_FOOT.cornerMouth, low: NINE_FOOT.cornerMouth, high: 4.625 * INCH },
  sideMouth: { value: NINE_FOOT.sideMouth, low: NINE_FOOT.sideMouth, high: 5.125 * INCH },
  noseHeight: within(DEFAULT_CONDITIONS.noseHeight, 0.01),
  ballDiameter: within(BALL, 0.005 * INCH),
  ballMass: { low: 0.1559, value: DEFAULT_CONDITIONS.ballMass, high: 0.1701 },
  obstacleDiameter: exactly(2 * INCH),
  rulerDivision: exactly(INCH / 16),
  target: exactly(INCH),
  slipFriction: { low: 0.15, value: DEFAULT_CONDITIONS.slipFriction, high: 0.25 },
  rollFriction: { low: 0.005, value: DEFAULT_CONDITIONS.rollFriction, high: 0.015 },
  sideFriction: exactly(DEFAULT_CONDITIONS.sideFriction),
  noseFriction: { low: 0.1, value: DEFAULT_CONDITIONS.noseFriction, high: 0.2 },
  restitution: { low: 0.75, value: DEFAULT_CONDITIONS.restitution as number, high: 0.98 },
};

/** Values that many share, to begin from; each is only a set of values. */
export interface Preset {
  readonly name: string;
  readonly values: Partial<Readonly<Record<SetupName, Uncertain>>>;
}

const table = (name: string, length: number): Preset => ({
  name,
  values: { length: within(length * INCH, INCH / 8), breadth: within((length / 2) * INCH, INCH / 8) },
});

/** Playing surfaces nose to nose: 9 ft as specified, 8 and 7 ft common practice; from memory. */
export const TABLE_PRESETS: readonly Preset[] = [table("9 ft", 100), table("8 ft", 88), table("7 ft", 76)];

const ball = (name: string, diameter: number, half: number, mass: Uncertain): Preset => ({
  name,
  values: { ballDiameter: within(diameter, half), ballMass: mass },
});

/** Pool as specified; the others common practice, from memory, no source. */
export const BALL_PRESETS: readonly Preset[] = [
  ball("pool, 2 1/4 in", BALL, 0.005 * INCH, DEFAULT_SETUP.ballMass),
  ball("snooker, 52.5 mm", 0.0525, 0.00005, within(0.142, 0.003)),
  ball("carom, 61.5 mm", 0.0615, 0.0005, within(0.21, 0.005)),
  ball("small pool, 2 in", 2 * INCH, 0.005 * INCH, within(0.118, 0.005)),
];

/** The preset whose values these are. */
export function presetOf(setup: Setup, presets: readonly Preset[]): Preset | undefined {
  return presets.find(({ values }) =>
    Object.entries(values).every(([name, { value }]) => Math.abs(setup[name as SetupName].value - value) < 1e-9),
  );
}

export function tableSizeOf({ length, breadth, cornerMouth, sideMouth }: Setup): TableSize {
  return {
    length: length.value,
    breadth: breadth.value,
    cornerMouth: cornerMouth.value,
    sideMouth: sideMouth.value,
  };
}

/** The constants at their values. */
export function conditionsOfSetup(setup: Setup): Conditions {
  const at = (name: SetupName) => setup[name].value;
  return {
    slipFriction: at("slipFriction"),
    rollFriction: at("rollFriction"),
    sideFriction: at("sideFriction"),
    noseFriction: at("noseFriction"),
    restitution: at("restitution"),
    noseHeight: at("noseHeight"),
    ballDiameter: at("ballDiameter"),
    ballMass: at("ballMass"),
  };
}

/** What is impossible in a value with its range; undefined when all can be. */
export function itemProblem(name: SetupName, { low, value, high }: Uncertain): string | undefined {
  const { label, bounds } = SETUP_ITEMS[name];
  if (![low, value, high].every(Number.isFinite)) return `${label} is no number`;
  if (low > value || value > high) return `${label} lies outside its own range`;
  if (low < bounds.low - 1e-12 || high > bounds.high + 1e-12) return `${label} is beyond what it can be`;
  return undefined;
}

/**
 * What is impossible in a whole set-up, such as a ball that would be wedged under the nose; undefined when all can be.
 */
export function setupProblem(setup: Setup): string | undefined {
  for (const name of SETUP_NAMES) {
    const problem = itemProblem(name, setup[name]);
    if (problem !== undefined) return problem;
  }
  if (setup.breadth.value > setup.length.value) return "the table is broader than it is long";
  return conditionProblem(conditionsOfSetup(setup))?.mend;
}
