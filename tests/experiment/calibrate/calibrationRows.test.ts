/** The user's rows as measured shots: units, blanks, impossible values. */
import { expect, it } from "vitest";
import {
  atCushion,
  calibrationRows,
  fittingParts,
  guessParts,
} from "../../../src/experiment/calibrate/calibrationRows";
import { DEFAULT_SHOT } from "../../../src/experiment/shot/shotSettings";
import { logOf } from "../logs";

it("reads units, leaves out what cannot be used and says where", () => {
  const log = logOf([
    ["Session", "Speed (km/h)", "Angle (°)", "Bend (mm)"],
    ["one", 7.2, 20, 25],
    ["one", null, 20, 25],
    ["two", 7.2, 95, 25],
    ["two", 7.2, 30, "far"],
    [null, 7.2, 30, 12],
    ["two", 3.6, 30, 12],
  ]);
  expect(guessParts(log)).toEqual({ bend: "Bend (mm)", speed: "Speed (km/h)", angle: "Angle (°)", session: "Session" });
  const { shots, leftOut, problem } = calibrationRows(log, guessParts(log), DEFAULT_SHOT);
  expect(problem).toBeUndefined();
  expect(shots).toHaveLength(2);
  expect(shots[0]).toMatchObject({ bend: 0.025, session: "one", roll: DEFAULT_SHOT.roll, across: DEFAULT_SHOT.across });
  // 7.2 km/h is 2 m/s; the factor is rounded once.
  expect(shots[0].speed).toBeCloseTo(2, 12);
  expect(leftOut.map(({ address }) => address)).toEqual(["B3", "C4", "D5", "A6"]);
  expect(leftOut[1].reason).toContain("95: it is from −80° to 80°");
});

it("names a unit that it does not know, and a missing bend", () => {
  const log = logOf([
    ["Speed (rpm)", "Bend (in)"],
    [3, 1],
    [4, 1],
  ]);
  expect(calibrationRows(log, guessParts(log), DEFAULT_SHOT).problem).toContain('"Speed (rpm)" is in rpm');
  expect(calibrationRows(log, {}, DEFAULT_SHOT).problem).toBe("Name the column that holds the measured bend.");
});

it("goes on with kept columns as far as the table has them", () => {
  const log = logOf([
    ["Fast (mph)", "Angle (°)", "Bend (in)"],
    [5, 20, 1],
    [6, 25, 1.1],
  ]);
  expect(fittingParts(log, { bend: "Bend (in)", speed: "Fast (mph)", roll: "Roll" })).toEqual({
    bend: "Bend (in)",
    speed: "Fast (mph)",
  });
  expect(fittingParts(log, { bend: "Bend (mm)", speed: "Fast (mph)" })).toEqual(guessParts(log));
  expect(fittingParts(log, undefined)).toEqual({ bend: "Bend (in)", angle: "Angle (°)" });
});

it("takes settings without a column as they are at the cushion, wherever the shot is set", () => {
  const fromSpot = atCushion({ ...DEFAULT_SHOT, origin: "spot", roll: 0 });
  expect(fromSpot.roll).toBeGreaterThan(0.1);
  expect(fromSpot.speed).toBeLessThan(DEFAULT_SHOT.speed);
  expect(atCushion(DEFAULT_SHOT)).toBe(DEFAULT_SHOT);
});
