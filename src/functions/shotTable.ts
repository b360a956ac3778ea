/**
 * BANK.RUN, IMPACT, PREDICT, PATH, SWING and CAUTION: cells in, numbers and tables out.
 */
import { motionOf, stateOf, type Motion } from "../bank/ball";
import { phaseAt, positionAt, runOnCloth, stateAt, timeAtLine } from "../bank/cloth";
import type { Conditions } from "../bank/conditions";
import { impact } from "../bank/cushion";
import { bankOf, type Bank, type BankPath, type BankWarning } from "../bank/shot";
import { lift, single, argumentNumber } from "./arguments";
import { toConditions } from "./conditionsArgument";
import { messages } from "./messages";
import { DEGREE, systemOf, type System } from "./system";

/**
 * Ratio of spin beyond which a cell is wrong. A stroke gives 1.25; the speed that slip costs raises that to about 2.
 */
const MOST_SPIN = 2;

/** Rows of BANK.PATH between departure and arrival are this many equal times, and the events. */
const PATH_PIECES = 24;
/** Share of the speed toward the rail below which what comes off it is only the rounding of sums. */
const ROUNDING = 1e-12;

function positive(name: string, cell: unknown, unit: string): number {
  const number = argumentNumber(name, cell, `a number above 0 in ${unit}`);
  if (!(number > 0)) throw messages.outOfRange(name, cell, `give a number above 0 in ${unit}`);
  return number;
}

function spinRatio(name: string, cell: unknown): number {
  const ratio = argumentNumber(name, cell, "a spin ratio such as 1 for natural roll");
  if (Math.abs(ratio) > MOST_SPIN) throw messages.spin(name, cell, MOST_SPIN);
  return ratio;
}

function toMotion(speed: unknown, angle: unknown, roll: unknown, side: unknown, system: System): Motion {
  const degrees = argumentNumber("angle", angle, "degrees from square to the rail");
  const motion = {
    speed: positive("speed", speed, system.speedName) * system.speed,
    angle: degrees * DEGREE,
    roll: spinRatio("roll", roll),
    side: spinRatio("side", side),
    swerve: 0,
  };
  if (!(Math.abs(degrees) < 90))
    throw messages.outOfRange("angle", angle, "the angle is from square to the rail, between -90 and 90 degrees");
  return motion;
}

const shown = (value: number, unit: string) => `${Number(value.toPrecision(4))} ${unit}`;

/** One row: speed, roll, side after a straight run of cloth. */
export function runRow(
  speed: unknown,
  roll: unknown,
  side: unknown,
  distance: unknown,
  conditionsCells: unknown,
  units: unknown,
): number[][] {
  const system = systemOf(units);
  const conditions = toConditions(conditionsCells, system);
  const motion = toMotion(single("speed", speed), 0, single("roll", roll), single("side", side), system);
  const cell = single("distance", distance);
  const far = argumentNumber("distance", cell, `a number in ${system.lengthName}`);
  if (far < 0) throw messages.outOfRange("distance", cell, `give 0 ${system.lengthName} or more`);
  const radius = conditions.ballDiameter / 2;
  const run = runOnCloth(stateOf(motion, "in", radius), conditions);
  const time = far === 0 ? 0 : timeAtLine(run, far * system.length);
  const after = time < Infinity ? motionOf(stateAt(run, time), radius) : undefined;
  if (!after || !(after.speed > 0)) {
    const rests = positionAt(run, run.rest).y / system.length;
    const turn = -run.start.vy / run.ay;
    const reached =
      turn > 0 && turn < run.slipEnd
        ? `it turns after ${shown(positionAt(run, turn).y / system.length, system.lengthName)}`
        : `it rests after ${shown(rests, system.lengthName)}`;
    throw messages.neverGetsTo("distance", shown(far, system.lengthName), reached);
  }
  return [[after.speed / system.speed, after.roll, after.side]];
}

/** One row: speed, angle, roll, side, swerve after the cushion. */
export function impactRow(
  speed: unknown,
  angle: unknown,
  roll: unknown,
  side: unknown,
  conditionsCells: unknown,
  units: unknown,
): number[][] {
  const system = systemOf(units);
  const conditions = toConditions(conditionsCells, system);
  const motion = toMotion(
    single("speed", speed),
    single("angle", angle),
    single("roll", roll),
    single("side", side),
    system,
  );
  const radius = conditions.ballDiameter / 2;
  const before = stateOf(motion, "in", radius);
  const off = impact(before, conditions);
  const after = motionOf(off, radius);
  // A speed that is only the rounding of the impact's sums is none.
  const none = ROUNDING * before.vy;
  if (!(after.speed > none)) throw messages.neverGetsTo("the table", "again", "the cushion gives no speed back");
  if (!(off.vy < -none))
    throw messages.neverGetsTo("the table", "again", "with this nose and restitution it stays at the cushion");
  return [[after.speed / system.speed, Math.atan2(off.vx, -off.vy) / DEGREE, after.roll, after.side, after.swerve]];
}

function bankOfCells(
  cells: readonly unknown[],
  system: System,
  conditions: Conditions,
): { bank: Bank; path: BankPath } {
  const [speed, angle, roll, side, across] = cells;
  const motion = toMotion(speed, angle, roll, side, system);
  const line = positive("across", across, system.lengthName);
  const bank = bankOf(motion, line * system.length, conditions);
  if (bank.path) return { bank, path: bank.path };
  const far = shown(bank.reach / system.length, system.lengthName);
  throw messages.neverGetsTo(
    "the line across",
    shown(line, system.lengthName),
    bank.warnings.includes("double contact")
      ? `it comes back to the cushion from ${far}`
      : `it gets ${far} from the cushion`,
  );
}

type Cells = readonly [speed: unknown, angle: unknown, roll: unknown, side: unknown, across: unknown];

function lifted(
  [speed, angle, roll, side, across]: Cells,
  conditionsCells: unknown,
  units: unknown,
  value: (of: { bank: Bank; path: BankPath }, system: System) => unknown,
): unknown[][] {
  const system = systemOf(units);
  const conditions = toConditions(conditionsCells, system);
  return lift({ speed, angle, roll, side, across }, (...cells) =>
    value(bankOfCells(cells, system, conditions), system),
  );
}

/** Signed bend, over rows. */
export function predictions(cells: Cells, conditionsCells: unknown, units: unknown): unknown[][] {
  return lifted(cells, conditionsCells, units, ({ path }, system) => path.bend / system.length);
}

const CAUTIONS: Record<BankWarning, string> = {
  "fast for the nose":
    "faster than 2.5 m/s (5.6 mph) square to the rail, where the rigid nose of the source no longer holds",
  airborne: "the ball likely leaves the bed at the cushion",
  "double contact": "the ball comes back to the cushion",
  "falls short": "the ball never gets to the line",
};

const cautionText = (warnings: readonly BankWarning[]) => warnings.map((warning) => CAUTIONS[warning]).join("; ");

/** What to know about each prediction, over rows; empty text where there is nothing. */
export function cautions(cells: Cells, conditionsCells: unknown, units: unknown): unknown[][] {
  return lifted(cells, conditionsCells, units, ({ bank }) => cautionText(bank.warnings));
}

function single5(cells: Cells): unknown[] {
  return ["speed", "angle", "roll", "side", "across"].map((name, i) => single(name, cells[i]));
}

/**
 * Header and rows of time, x, y, phase from the cushion to the line; y is into the rail, so 0 at the cushion and
 * −across at the line.
 */
export function pathTable(cells: Cells, conditionsCells: unknown, units: unknown): unknown[][] {
  const system = systemOf(units);
  const { path } = bankOfCells(single5(cells), system, toConditions(conditionsCells, system));
  const { run, arrival, swing } = path;
  const times = Array.from({ length: PATH_PIECES + 1 }, (_, i) => (arrival.time * i) / PATH_PIECES);
  for (const event of [swing.time, run.slipEnd]) {
    if (event < arrival.time && times.every((time) => Math.abs(time - event) > 1e-9 * arrival.time)) times.push(event);
  }
  const rows = times
    .sort((a, b) => a - b)
    .map((time) => {
      const { x, y } = positionAt(run, time);
      return [time, x / system.length, y / system.length, phaseAt(run, time)];
    });
  return [["time", "x", "y", "phase"], ...rows];
}

/** Header and one row: bend, where and when the swing is widest, how the ball leaves and arrives, cautions. */
export function swingTable(cells: Cells, conditionsCells: unknown, units: unknown): unknown[][] {
  const system = systemOf(units);
  const { bank, path } = bankOfCells(single5(cells), system, toConditions(conditionsCells, system));
  const { swing, arrival } = path;
  return [
    [
      "bend",
      "time",
      "x",
      "y",
      "along",
      "departure angle",
      "arrival angle",
      "arrival x",
      "arrival speed",
      "phase",
      "caution",
    ],
    [
      path.bend / system.length,
      swing.time,
      swing.x / system.length,
      swing.y / system.length,
      swing.along / system.length,
      path.departureAngle / DEGREE,
      arrival.angle / DEGREE,
      arrival.x / system.length,
      arrival.speed / system.speed,
      arrival.phase,
      cautionText(bank.warnings),
    ],
  ];
}
