/**
 * BANK.SPEED, SPIN, ROLLING, SLIDING and REBOUND: measured runs to speeds and table constants.
 */
import { motionOf, stateOf } from "../bank/ball";
import { positionAt, runOnCloth, stateAt, timeAtLine } from "../bank/cloth";
import { restitutionOfLag, rollFrictionOfRun, slipFrictionOfStun } from "../bank/measures";
import { MISCUE_LIMIT, spinOfTip } from "../bank/stroke";
import { spread } from "../statistics/measure/spread";
import { isCellError } from "../workbook/book";
import { asMatrix, isBlank, lift, single, argumentNumber } from "./arguments";
import { toConditions } from "./conditionsArgument";
import { messages } from "./messages";
import { systemOf, toSystem } from "./system";

function positive(name: string, cell: unknown, unit: string): number {
  const number = argumentNumber(name, cell, `a number above 0 in ${unit}`);
  if (!(number > 0)) throw messages.outOfRange(name, cell, `give a number above 0 in ${unit}`);
  return number;
}

/** Mean speed over a distance, over ranges; with a frame rate the time is a count of frames. */
export function speeds(distance: unknown, time: unknown, frameRate: unknown, units: unknown): unknown[][] {
  return lift({ distance, time, frameRate, units }, (d, t, rate, u) => {
    const system = toSystem(u);
    const far = positive("distance", d, system.lengthName) * system.length;
    const seconds = isBlank(rate)
      ? positive("time", t, "s")
      : positive("time", t, "frames") / positive("frameRate", rate, "frames per second");
    return far / seconds / system.speed;
  });
}

/**
 * One row: roll and side of a cue ball hit with the tip `up` and `right` of the centre, at once or after a run of
 * cloth.
 */
export function spinRow(
  up: unknown,
  right: unknown,
  speed: unknown,
  distance: unknown,
  conditionsCells: unknown,
  units: unknown,
): number[][] {
  const system = systemOf(units);
  const conditions = toConditions(conditionsCells, system);
  const radius = conditions.ballDiameter / 2;
  const offset = (name: string, argument: unknown) => {
    const cell = single(name, argument);
    return isBlank(cell) ? 0 : argumentNumber(name, cell, `a number in ${system.lengthName}`) * system.length;
  };
  const high = offset("up", up);
  const wide = offset("right", right);
  if (Math.hypot(high, wide) > MISCUE_LIMIT * radius * (1 + 1e-9)) {
    const worse = Math.abs(high) >= Math.abs(wide) ? "up" : "right";
    throw messages.miscue(
      worse,
      single(worse, worse === "up" ? up : right),
      `${Number(((MISCUE_LIMIT * radius) / system.length).toPrecision(4))} ${system.lengthName}`,
    );
  }
  const spin = spinOfTip(high, wide, radius);
  const farCell = single("distance", distance);
  if (isBlank(farCell)) return [[spin.roll, spin.side]];
  const far = argumentNumber("distance", farCell, `a number in ${system.lengthName}`) * system.length;
  if (far < 0) throw messages.outOfRange("distance", farCell, `give 0 ${system.lengthName} or more`);
  const motion = {
    ...spin,
    speed: positive("speed", single("speed", speed), system.speedName) * system.speed,
    angle: 0,
    swerve: 0,
  };
  const run = runOnCloth(stateOf(motion, "in", radius), conditions);
  const time = far === 0 ? 0 : timeAtLine(run, far);
  const after = time < Infinity ? motionOf(stateAt(run, time), radius) : undefined;
  if (!after || !(after.speed > 0)) {
    const inUnits = (metres: number) => `${Number((metres / system.length).toPrecision(4))} ${system.lengthName}`;
    throw messages.neverGetsTo("distance", inUnits(far), `it rests at ${inUnits(positionAt(run, run.rest).y)}`);
  }
  return [[after.roll, after.side]];
}

/** Rows of paired measurements, blank pairs passed over. */
function pairs(
  firstName: string,
  first: unknown,
  secondName: string,
  second: unknown,
  firstUnit: string,
  secondUnit: string,
): { a: number; b: number; row: number }[] {
  const one = asMatrix(first).flat();
  const two = asMatrix(second).flat();
  if (one.length !== two.length) throw messages.columnsDiffer(firstName, one.length, secondName, two.length);
  const rows = one.flatMap((cell, i) => {
    for (const [name, value] of [
      [firstName, cell],
      [secondName, two[i]],
    ] as const)
      if (isCellError(value)) throw messages.errorCell(name, value.error, ` in row ${i + 1}`);
    if (isBlank(cell) && isBlank(two[i])) return [];
    const where = one.length > 1 ? `, row ${i + 1},` : "";
    return [
      {
        a: positive(firstName + where, cell, firstUnit),
        b: positive(secondName + where, two[i], secondUnit),
        row: i + 1,
      },
    ];
  });
  if (rows.length === 0) throw messages.tooFew(firstName, 0, 1);
  return rows;
}

/**
 * Header and one row: the mean, its standard uncertainty (type A, JCGM 100:2008, 4.2), a 95 % interval, and the count.
 */
function estimateTable(name: string, values: readonly number[]): [header: unknown[], row: unknown[]] {
  const header = [name, "standard uncertainty", "low", "high", "n"];
  if (values.length === 1) return [header, [values[0], "", "", "", 1]];
  const { n, mean, meanInterval, standardDeviation } = spread(values, 0.95);
  return [header, [mean, standardDeviation / Math.sqrt(n), meanInterval.low, meanInterval.high, n]];
}

export function rollingTable(distance: unknown, time: unknown, units: unknown): unknown[][] {
  const system = systemOf(units);
  return estimateTable(
    "roll friction",
    pairs("distance", distance, "time", time, system.lengthName, "s").map(({ a, b }) =>
      rollFrictionOfRun(a * system.length, b),
    ),
  );
}

export function slidingTable(speed: unknown, distance: unknown, units: unknown): unknown[][] {
  const system = systemOf(units);
  return estimateTable(
    "slip friction",
    pairs("speed", speed, "distance", distance, system.speedName, system.lengthName).map(({ a, b }) =>
      slipFrictionOfStun(a * system.speed, b * system.length),
    ),
  );
}

export function reboundTable(
  before: unknown,
  after: unknown,
  roll: unknown,
  conditionsCells: unknown,
  units: unknown,
): unknown[][] {
  const system = systemOf(units);
  const conditions = toConditions(conditionsCells, system);
  const rollCell = single("roll", roll);
  const ratio = isBlank(rollCell) ? 1 : argumentNumber("roll", rollCell, "a spin ratio such as 1 for natural roll");
  if (Math.abs(ratio) > 2) throw messages.spin("roll", rollCell, 2);
  const measured = pairs("before", before, "after", after, system.speedName, system.speedName);
  const values = measured.map(({ a, b, row }) => {
    const restitution = restitutionOfLag(a * system.speed, b * system.speed, ratio, conditions);
    if (restitution === undefined)
      throw messages.noRestitution(
        measured.length > 1 ? `row ${row}: ` : "",
        `${a} ${system.speedName}`,
        `${b} ${system.speedName}`,
      );
    return restitution;
  });
  const [header, row] = estimateTable("restitution", values);
  const shares = measured.map(({ a, b }) => b / a);
  return [
    [...header, "speed kept"],
    [...row, shares.reduce((sum, share) => sum + share, 0) / shares.length],
  ];
}
