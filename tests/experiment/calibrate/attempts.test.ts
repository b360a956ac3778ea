/** The shot model fitted to attempts: what got by and what hit, beside measured bends. */
import { describe, expect, it } from "vitest";
import { calibrate, type MeasuredShot } from "../../../src/experiment/calibrate/calibration";
import { calibrationRows, guessParts } from "../../../src/experiment/calibrate/calibrationRows";
import { calibrationSentences } from "../../../src/experiment/calibrate/calibrationWords";
import { trialLogAt } from "../../../src/experiment/log/trialLog";
import { bankAtCushion } from "../../../src/experiment/shot/computedShot";
import { conditionsOf, DEFAULT_SHOT } from "../../../src/experiment/shot/shotSettings";
import { randomOf } from "../../../src/statistics/numeric/drawer";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { toText } from "../../../src/experiment/language/said";

const TRUE = { slipFriction: 0.22, noseFriction: 0.17, restitution: 0.87 };
const SCATTER = 0.001;

/** Invented attempts at varied shots: an obstacle near the model's bend, got by or hit; a share is measured. */
function attempts(count: number, measuredEvery: number, seed: number): MeasuredShot[] {
  const random = randomOf(seed);
  return Array.from({ length: count }, (_, i) => {
    const shot = {
      speed: [1.4, 1.9, 2.4][i % 3]!,
      angle: ([12, 25, 38][Math.floor(i / 3) % 3]! * Math.PI) / 180,
      roll: [1, 0.6, 0.2][Math.floor(i / 9) % 3]!,
      side: [0, 0.3, -0.4][(i + Math.floor(i / 9)) % 3]!,
      across: 1.1,
    };
    const model = Math.abs(bankAtCushion(shot, conditionsOf(TRUE)).path!.bend);
    const bend = model + SCATTER * random.normal();
    if (measuredEvery > 0 && i % measuredEvery === 0) return { ...shot, bend };
    const asked = model + 2 * SCATTER * (random.uniform() - 0.5) * 1.5;
    return { ...shot, bend: asked, known: bend >= asked ? ("at least" as const) : ("less than" as const) };
  });
}

const question = (shots: readonly MeasuredShot[]) => ({
  shots,
  signed: false,
  constants: DEFAULT_SHOT.constants,
});

describe("a calibration from attempts", () => {
  it("finds the constants and the scatter that they were drawn with, within what it says of its errors", () => {
    const fit = calibrate(question(attempts(108, 6, 11)));
    expect(fit.bounds).toBe(90);
    for (const { name, estimate, standardError } of fit.constants) {
      expect(standardError).not.toBeNull();
      expect(Math.abs(estimate - TRUE[name]) / standardError!).toBeLessThan(3);
    }
    // About 108 attempts are worth 70 measured ones: their scatter is known to a quarter or so.
    expect(fit.scatter! / SCATTER).toBeGreaterThan(0.65);
    expect(fit.scatter! / SCATTER).toBeLessThan(1.35);
    expect(toText(calibrationSentences(fit, 108, false, "us")[0])).toContain(
      "90 of them say only that the bend was at least",
    );
  }, 120_000);

  it("is the plain one where every bend is measured", () => {
    const shots = attempts(27, 1, 3);
    const fit = calibrate(question(shots));
    const same = calibrate(question(shots.map((shot) => ({ ...shot, known: "value" as const }))));
    expect(same).toEqual(fit);
    expect(fit.bounds).toBe(0);
  }, 120_000);
});

it("reads a log of attempts: bounds from the obstacle, a measured bend as itself, misses not at all", () => {
  const log = trialLogAt(
    sheetOf(
      [
        ["Speed (m/s)", "Gap (mm)", "Outcome", "Film bend (mm)"],
        [1.9, 8.575, "cleared", null],
        [1.9, 3.575, "hit", null],
        [2.4, 8.575, "missed", null],
        [2.4, 8.575, "made", 21.5],
        [2.4, 8.575, "perhaps", null],
        [null, 8.575, "made", null],
      ],
      { sheet: "Attempts" },
    ),
    0,
  )!;
  const { shots, leftOut, problem } = calibrationRows(log, guessParts(log), DEFAULT_SHOT);
  expect(problem).toBeUndefined();
  expect(shots.map(({ bend, known = "value" }) => [Number(bend.toFixed(6)), known])).toEqual([
    [0.02, "at least"],
    [0.025, "less than"],
    [0.0215, "value"],
  ]);
  expect(leftOut.map(({ address }) => address)).toEqual(["C6", "A7"]);
});
