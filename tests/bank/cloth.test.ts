/** A ball on the cloth. All of it exact mathematics, unless a line says otherwise. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { energyPerMass, GRAVITY, motionOf, stateOf } from "../../src/bank/ball";
import { phaseAt, positionAt, runOnCloth, stateAt, timeAtLine } from "../../src/bank/cloth";
import { conditionProblem, DEFAULT_CONDITIONS, type Conditions } from "../../src/bank/conditions";
import { earliestRoot } from "../../src/bank/earliestRoot";

const radius = DEFAULT_CONDITIONS.ballDiameter / 2;
const rest = { vx: 0, vy: 0, vz: 0, wx: 0, wy: 0, wz: 0 };
const size = fc.double({ min: -3, max: 3, noNaN: true });
const spin = fc.double({ min: -100, max: 100, noNaN: true });
const state = fc.record({ vx: size, vy: size, vz: fc.constant(0), wx: spin, wy: spin, wz: spin });
const runs = { seed: 20, numRuns: 3000 };

describe("motion and state", () => {
  it("are one another's inverse, toward the rail and off it", () => {
    const motion = fc.record({
      speed: fc.double({ min: 0.1, max: 5, noNaN: true }),
      angle: fc.double({ min: -1.5, max: 1.5, noNaN: true }),
      roll: size,
      side: size,
      swerve: size,
    });
    fc.assert(
      fc.property(motion, fc.constantFrom("in" as const, "off" as const), (given, way) => {
        const found = motionOf(stateOf(given, way, radius), radius);
        // Rounding of a dozen operations, grown by ratios up to 3.
        for (const key of ["speed", "angle", "roll", "side", "swerve"] as const)
          expect(found[key]).toBeCloseTo(given[key], 12);
      }),
      runs,
    );
  });
});

describe("a run over the cloth", () => {
  it("slip ends in natural roll, and energy never grows", () => {
    fc.assert(
      fc.property(state, (start) => {
        const run = runOnCloth(start, DEFAULT_CONDITIONS);
        const rolling = stateAt(run, run.slipEnd);
        expect(rolling.vx).toBeCloseTo(radius * rolling.wy, 12);
        expect(rolling.vy).toBeCloseTo(-radius * rolling.wx, 12);
        let before = energyPerMass(start, radius);
        for (let i = 1; i <= 8; i++) {
          const energy = energyPerMass(stateAt(run, (1.2 * run.rest * i) / 8), radius);
          expect(energy).toBeLessThanOrEqual(before * (1 + 1e-12) + 1e-15);
          before = energy;
        }
        // What is left is side spin alone.
        expect(stateAt(run, run.rest * (1 + 1e-12) + 1e-9)).toMatchObject({
          vx: expect.closeTo(0, 12),
          vy: expect.closeTo(0, 12),
        });
      }),
      runs,
    );
  });

  it("place and velocity do not jump where slip ends", () => {
    fc.assert(
      fc.property(state, (start) => {
        const run = runOnCloth(start, DEFAULT_CONDITIONS);
        const end = run.slipEnd;
        const a = positionAt(run, end);
        const b = positionAt(run, end * (1 + 1e-13));
        expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeLessThan(1e-11);
        const before = stateAt(run, end * (1 - 1e-13));
        expect(Math.hypot(before.vx - run.rollVx, before.vy - run.rollVy)).toBeLessThan(1e-11);
      }),
      runs,
    );
  });

  it("is on the line at the time it says, and never before", () => {
    let reached = 0;
    fc.assert(
      fc.property(state, fc.double({ min: -2, max: 2, noNaN: true }), (start, line) => {
        fc.pre(Math.abs(line) > 1e-3);
        const run = runOnCloth(start, DEFAULT_CONDITIONS);
        const time = timeAtLine(run, line);
        const until = Math.min(time, run.rest);
        const past = Array.from(
          { length: 100 },
          (_, i) => (positionAt(run, (until * i) / 100).y - line) * Math.sign(line),
        );
        expect(past.filter((distance) => !(distance < 1e-9))).toEqual([]);
        // Near the turn of a path the place goes with the square of the time, so it is the place that is checked.
        if (time === Infinity) return;
        reached++;
        expect(positionAt(run, time).y).toBeCloseTo(line, 9);
      }),
      runs,
    );
    expect(reached).toBeGreaterThan(10);
  });

  it("side spin dies by itself: R ω_z falls by 5/2 μ g", () => {
    const run = runOnCloth({ ...rest, vy: 1, wz: 50 }, DEFAULT_CONDITIONS);
    const perSecond = (2.5 * DEFAULT_CONDITIONS.sideFriction * GRAVITY) / radius;
    expect(stateAt(run, 0.3).wz).toBeCloseTo(50 - 0.3 * perSecond, 12);
    expect(stateAt(run, 50 / perSecond + 1e-9).wz).toBe(0);
  });

  it("goes on for ever without friction", () => {
    const smooth = { ...DEFAULT_CONDITIONS, slipFriction: 0 };
    const slipping = runOnCloth({ ...rest, vy: 2, wx: 10 }, smooth);
    expect(slipping.slipEnd).toBe(Infinity);
    expect(positionAt(slipping, 3).y).toBe(6);
    expect(stateAt(slipping, 3).wx).toBe(10);
    const rolling = runOnCloth(stateOf({ speed: 2, angle: 0, roll: 1, side: 0, swerve: 0 }, "in", radius), {
      ...DEFAULT_CONDITIONS,
      rollFriction: 0,
    });
    expect(rolling.rest).toBe(Infinity);
    expect(timeAtLine(rolling, 5)).toBeCloseTo(2.5, 12);
    expect(stateAt(rolling, 9).vy).toBeCloseTo(2, 12);
  });

  it("a ball at rest stays, and is never anywhere else", () => {
    const run = runOnCloth(rest, DEFAULT_CONDITIONS);
    expect(positionAt(run, 5)).toEqual({ x: 0, y: 0 });
    expect(phaseAt(run, 0)).toBe("rest");
    expect(timeAtLine(run, 1)).toBe(Infinity);
  });

  it("reaches the very place where it rests", () => {
    const rolling = stateOf({ speed: 2, angle: 0, roll: 1, side: 0, swerve: 0 }, "in", radius);
    const run = runOnCloth(rolling, DEFAULT_CONDITIONS);
    const end = positionAt(run, run.rest).y;
    expect(timeAtLine(run, end)).toBeCloseTo(run.rest, 6);
    expect(timeAtLine(run, end * (1 + 1e-9))).toBe(Infinity);
  });
});

describe("earliestRoot", () => {
  it("keeps its digits where the school formula cancels", () => {
    // t² − 2·10⁸ t + 1 = 0: the small root is 5·10⁻⁹ (1 + 2.5·10⁻¹⁷).
    expect(earliestRoot(1, -2e8, 1)).toBeCloseTo(5e-9, 22);
  });
  it.each([
    [0, 0, 1, Infinity],
    [0, 2, -1, 0.5],
    [1, 2, 1, Infinity],
    [-1, 0, 4, 2],
    [1, 0, 0, Infinity],
    [NaN, 1, 1, Infinity],
  ])("%d t² + %d t + %d", (a, b, c, root) => expect(earliestRoot(a, b, c)).toBe(root));
});

describe("conditions", () => {
  it.each<[Partial<Conditions>, keyof Conditions]>([
    [{ slipFriction: -0.1 }, "slipFriction"],
    [{ noseFriction: NaN }, "noseFriction"],
    [{ restitution: 1.1 }, "restitution"],
    [{ restitution: { slow: 0.9, fall: -0.1, least: 0.5 } }, "restitution"],
    [{ noseHeight: 0.49 }, "noseHeight"],
    [{ noseHeight: 1 }, "noseHeight"],
    [{ noseHeight: 0.8, noseFriction: 0.9, slipFriction: 0.5 }, "noseHeight"],
    [{ ballDiameter: 0 }, "ballDiameter"],
    [{ ballMass: Infinity }, "ballMass"],
  ])("%o is impossible", (change, constant) =>
    expect(conditionProblem({ ...DEFAULT_CONDITIONS, ...change })?.constant).toBe(constant),
  );
  it.each<[string, Partial<Conditions>]>([
    ["no friction at all", { slipFriction: 0, rollFriction: 0, sideFriction: 0, noseFriction: 0 }],
    [
      "all friction on the cloth",
      { slipFriction: 1, rollFriction: 1, sideFriction: 1, noseFriction: 0, noseHeight: 0.5 },
    ],
    ["all friction at the nose", { slipFriction: 0, noseFriction: 1, noseHeight: 0.5 }],
    ["nothing given back", { restitution: 0 }],
    ["everything given back", { restitution: 1 }],
    ["a restitution that never falls", { restitution: { slow: 0.5, fall: 0, least: 0.5 } }],
    ["the nose at the centre", { noseHeight: 0.5 }],
    ["hardly wedged", { noseHeight: 0.9, noseFriction: 0, slipFriction: 0.75 * (1 - 1e-12) }],
  ])("%s is possible", (_, change) => {
    const conditions = { ...DEFAULT_CONDITIONS, ...change };
    expect(conditionProblem(conditions)).toBeUndefined();
  });
  it("is wedged where the frictions hold what pushes the ball out: sine of 0.8 and friction of 3/4", () => {
    const wedged = { ...DEFAULT_CONDITIONS, noseHeight: 0.9, noseFriction: 0, slipFriction: 0.75 * (1 + 1e-12) };
    expect(conditionProblem(wedged)?.mend).toContain("wedged");
  });
});
