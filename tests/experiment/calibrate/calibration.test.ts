/**
 * Calibration: known constants come back, standard errors are what noise does to them, and what cannot be told apart is
 * said.
 */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../scripts/samples/random";
import {
  calibrate,
  calibrationSteps,
  sessionErrors,
  type CalibrationQuestion,
  type MeasuredShot,
} from "../../../src/experiment/calibrate/calibration";
import { calibrationSentences } from "../../../src/experiment/calibrate/calibrationWords";
import { conditionsOf, DEFAULT_SHOT, UNCERTAIN } from "../../../src/experiment/shot/shotSettings";
import { bankAtCushion } from "../../../src/experiment/shot/computedShot";
import { toText, joinTexts } from "../../../src/experiment/language/said";

const TRUE = { slipFriction: 0.22, noseFriction: 0.17, restitution: 0.87 };
const DEGREE = Math.PI / 180;

/** Bends of varied shots by a model with the true constants. */
function shots(noise: (i: number) => number = () => 0): MeasuredShot[] {
  const rows: MeasuredShot[] = [];
  for (const speed of [1.4, 1.9, 2.4]) {
    for (const angle of [12, 25, 38]) {
      for (const [roll, side] of [
        [1, 0],
        [0.6, 0.3],
        [0.2, -0.4],
      ]) {
        const shot = { speed, angle: angle * DEGREE, roll, side, across: 1.1 };
        rows.push({
          ...shot,
          bend: bankAtCushion(shot, conditionsOf(TRUE)).path!.bend + noise(rows.length),
          session: `S${rows.length % 4}`,
        });
      }
    }
  }
  return rows;
}
const question = (rows: readonly MeasuredShot[], part: Partial<CalibrationQuestion> = {}): CalibrationQuestion => ({
  shots: rows,
  signed: true,
  constants: DEFAULT_SHOT.constants,
  ...part,
});
const estimates = (rows: readonly MeasuredShot[], part: Partial<CalibrationQuestion> = {}) =>
  calibrate(question(rows, part)).constants.map(({ estimate }) => estimate);

describe("constants", () => {
  it("come back from rows without noise", () => {
    const fit = calibrate(question(shots()));
    // The predictions are exact to about 1e-10 m and a constant moves them by centimetres, so 1e-6 has room to spare.
    fit.constants.forEach(({ name, estimate }) => expect(estimate).toBeCloseTo(TRUE[name], 6));
    expect(fit.untold).toEqual([]);
    expect(fit.never).toEqual([]);
    expect(fit.constants.map(({ atBound }) => atBound)).toEqual([undefined, undefined, undefined]);
  });

  it("come back from sizes of bends, without sign, too", () => {
    const sizes = shots().map((shot) => ({ ...shot, bend: Math.abs(shot.bend) }));
    estimates(sizes, { signed: false }).forEach((estimate, k) => expect(estimate).toBeCloseTo(TRUE[UNCERTAIN[k]], 5));
  });

  it("weigh rows by their deviations: a wild row of little weight does not move them", () => {
    const rows = shots().map((shot, i) => ({
      ...shot,
      deviation: i === 3 ? 1e3 : 1e-3,
      bend: shot.bend + (i === 3 ? 0.05 : 0),
    }));
    // The wild row weighs 1e-12 of another.
    estimates(rows).forEach((estimate, k) => expect(estimate).toBeCloseTo(TRUE[UNCERTAIN[k]], 5));
    const alike = estimates(rows.map(({ deviation: _, ...shot }) => shot));
    expect(Math.max(...alike.map((estimate, k) => Math.abs(estimate - TRUE[UNCERTAIN[k]])))).toBeGreaterThan(1e-3);
  });

  // Both together say what a simulation of many draws would: the estimates move with the noise by (JᵀJ)⁻¹Jᵀ, so their
  // covariance is the noise's variance times (JᵀJ)⁻¹, and that is what is claimed.
  describe("with their standard errors", () => {
    const { normal } = seededRandom(7);
    const noise = shots().map(() => 0.0005 * normal());
    const rows = shots((i) => noise[i]!);
    const fit = calibrate(question(rows));
    const at = fit.constants.map(({ estimate }) => estimate);
    const bends = (constants: readonly number[]) => {
      const [slipFriction = 0, noseFriction = 0, restitution = 0] = constants;
      const conditions = conditionsOf({ slipFriction, noseFriction, restitution });
      return rows.map((shot) => bankAtCushion(shot, conditions).path!.bend);
    };
    /** Derivatives by differences of the model itself, a column for each constant. */
    const columns = at.map((_, k) => {
      const step = 1e-4;
      const [up, down] = [1, -1].map((sign) => bends(at.map((value, l) => (l === k ? value + sign * step : value))));
      return up!.map((bend, i) => (bend - down![i]!) / (2 * step));
    });
    const inverse = inverseOf(columns.map((one) => columns.map((other) => dot(one, other))));

    it("move with noise as the model's derivatives say", () => {
      const along = columns.map((column) => dot(column, noise));
      fit.constants.forEach(({ name, estimate, standardError }, k) =>
        // What is left is the curve of the model: a few hundredths of a standard error.
        expect((estimate - TRUE[name] - dot(inverse[k]!, along)) / standardError!).toBeCloseTo(0, 1),
      );
    });

    it("claim the noise that is left, spread by those derivatives", () => {
      const rest = bends(at).map((bend, i) => rows[i]!.bend - bend);
      const variance = dot(rest, rest) / (rows.length - at.length);
      fit.constants.forEach(({ standardError }, k) =>
        // The derivatives by differences are good to five digits.
        expect(standardError! / Math.sqrt(variance * inverse[k]![k]!)).toBeCloseTo(1, 3),
      );
    });
  });
});

function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, i) => sum + value * other[i]!, 0);
}

/** Of three rows and columns, by cofactors. */
function inverseOf(m: readonly (readonly number[])[]): number[][] {
  const minor = (i: number, j: number) => {
    const [a, b] = [(i + 1) % 3, (i + 2) % 3];
    const [c, d] = [(j + 1) % 3, (j + 2) % 3];
    return m[a]![c]! * m[b]![d]! - m[a]![d]! * m[b]![c]!;
  };
  const whole = [0, 1, 2].reduce((sum, j) => sum + m[0]![j]! * minor(0, j), 0);
  return [0, 1, 2].map((i) => [0, 1, 2].map((j) => minor(j, i) / whole));
}

describe("a constant at its limit", () => {
  it("has no standard error and no correlation, and the words say so", () => {
    // Twice the bend that any cushion gives: no constants reach it.
    const { normal } = seededRandom(5);
    const fit = calibrate(question(shots(() => 0.0002 * normal()).map((shot) => ({ ...shot, bend: 2.5 * shot.bend }))));
    const stuck = fit.constants.findIndex(({ atBound }) => atBound !== undefined);
    expect(stuck).toBeGreaterThanOrEqual(0);
    fit.constants.forEach(({ atBound, standardError }) =>
      expect(atBound === undefined || standardError === null).toBe(true),
    );
    UNCERTAIN.forEach((_, k) => k !== stuck && expect(fit.correlations[UNCERTAIN[stuck]][UNCERTAIN[k]]).toBeNull());
    expect(toText(joinTexts(calibrationSentences(fit, 27, false, "us"), " "))).toMatch(
      /ran into its limit of [\d.]+.*No standard error can be given for it/,
    );
  });
});

describe("what cannot be told apart", () => {
  it("is said when every shot is the same", () => {
    const { normal } = seededRandom(3);
    const one = shots()[4];
    const fit = calibrate(question(Array.from({ length: 12 }, () => ({ ...one, bend: one.bend + 0.0003 * normal() }))));
    // One number was measured, so two directions of three are open and no constant is determined.
    expect(fit.untold).toHaveLength(2);
    expect(fit.constants.map(({ standardError }) => standardError)).toEqual([null, null, null]);
    // Along them the predictions hardly change: a thousandth of what the constants do otherwise, which is millimetres.
    for (const { effect } of fit.untold) expect(effect).toBeLessThan(1e-5);
    expect(fit.correlations.slipFriction.noseFriction).toBeNull();
  });

  it("is a constant that does nothing: square stun shots have no bend to learn from", () => {
    const straight = [1, 1.5, 2, 2.5].map((speed) => ({ speed, angle: 0, roll: 0, side: 0, across: 1, bend: 0 }));
    const fit = calibrate(question(straight));
    expect(fit.untold).toHaveLength(3);
    expect(fit.constants.map(({ estimate }) => estimate)).toEqual(
      UNCERTAIN.map((name) => DEFAULT_SHOT.constants[name].value),
    );
  });

  it("does not hide behind too few rows", () => {
    expect(() => calibrate(question(shots().slice(0, 2)))).toThrow("2 shots cannot determine 3 constants");
    expect(() => calibrate(question([{ ...shots()[0], deviation: 0 }, ...shots()]))).toThrow(
      "a standard deviation is 0",
    );
  });
});

describe("sessions left out", () => {
  it("show the model ahead where it is true, and the pair ahead where a session drifts with speed", () => {
    const { normal } = seededRandom(11);
    const rows = shots(() => 0.0005 * normal());
    const q = question(rows);
    const errors = sessionErrors(q, calibrate(q))!;
    expect(errors).toMatchObject({ sessions: 4, shots: rows.length });
    // The noise is 0.5 mm; the model can be no better, and a straight regression misses the curves.
    expect(errors.model!).toBeLessThan(0.0008);
    expect(errors.regression!).toBeGreaterThan(2 * errors.model!);
    expect(errors.mean!).toBeGreaterThan(errors.regression!);
    // What the model does not have: bend that grows by 4 mm from the slowest to the fastest shot.
    const drift = question(rows.map((shot) => ({ ...shot, bend: shot.bend + 0.004 * (shot.speed - 1.4) })));
    const drifted = sessionErrors(drift, calibrate(drift))!;
    expect(drifted.both!).toBeLessThan(drifted.model!);
  });

  it("come in steps that say how far they are, to the same end", () => {
    const q = question(shots(() => 0));
    const steps = calibrationSteps(q);
    const shares: number[] = [];
    let step = steps.next();
    while (!step.done) {
      shares.push(step.value);
      step = steps.next();
    }
    expect(shares.length).toBe(5);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.every((share) => share > 0 && share <= 1)).toBe(true);
    const fit = calibrate(q);
    expect(step.value).toEqual({ fit, errors: sessionErrors(q, fit) });
  });

  it("need two sessions", () => {
    const q = question(shots().map((shot) => ({ ...shot, session: "one" })));
    expect(sessionErrors(q, calibrate(q))).toBeUndefined();
  });
});
