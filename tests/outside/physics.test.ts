/**
 * The physics of the shot against published results and against an independent integrator, odex (Hairer & Wanner's
 * extrapolation code, from the registry). Each test says what it rests on.
 */
import { describe, expect, it } from "vitest";
import { absoluteHumidity, dewPoint, relativeHumidity, saturationPressure } from "../../src/bank/air";
import { energyPerMass, GRAVITY, motionOf, stateOf, type BallState } from "../../src/bank/ball";
import { phaseAt, positionAt, runOnCloth, stateAt } from "../../src/bank/cloth";
import { DEFAULT_CONDITIONS } from "../../src/bank/conditions";
import { impact, RIGID_NOSE_LIMIT } from "../../src/bank/cushion";
import { noseImpulse, type NoseImpulseInput } from "../../src/bank/impact/noseImpulse";
import { closestPassing } from "../../src/bank/pathClearance";
import { approachToRail, bankOf } from "../../src/bank/shot";

/** By a name that the type checker does not follow: the package's types are its sources, which strict rules refuse. */
const ODEX: string = "odex";
const { Solver } = (await import(ODEX)) as {
  Solver: new (size: number) => {
    absoluteTolerance: number;
    relativeTolerance: number;
    maxSteps: number;
    solve(rates: (t: number, y: number[]) => number[], from: number, start: number[], to: number): { y: number[] };
  };
};

const radius = DEFAULT_CONDITIONS.ballDiameter / 2;

/** Seeded uniform numbers (mulberry32). */
function uniform(seed: number): (low: number, high: number) => number {
  return (low, high) => {
    seed = (seed + 0x6d2b79f5) | 0;
    let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return low + ((high - low) * ((t ^ (t >>> 14)) >>> 0)) / 4294967296;
  };
}

function integrate(
  rates: (t: number, y: number[]) => number[],
  start: number[],
  end: number,
  tolerance: number,
): number[] {
  const solver = new Solver(start.length);
  solver.absoluteTolerance = tolerance;
  solver.relativeTolerance = tolerance;
  solver.maxSteps = 100000;
  return solver.solve(rates, 0, start, end).y;
}

describe("on the cloth, exact results (Coriolis 1835; textbook mechanics)", () => {
  const stun = runOnCloth(
    stateOf({ speed: 2, angle: 0, roll: 0, side: 0, swerve: 0 }, "in", radius),
    DEFAULT_CONDITIONS,
  );
  const braking = DEFAULT_CONDITIONS.slipFriction * GRAVITY;
  it("a stunned ball rolls after t = 2v/(7μg), distance 12v²/(49μg), at 5v/7", () => {
    expect(stun.slipEnd).toBeCloseTo((2 * 2) / (7 * braking), 13);
    expect(stun.rollY).toBeCloseTo((12 * 4) / (49 * braking), 13);
    expect(stun.rollVy).toBeCloseTo((5 * 2) / 7, 14);
  });
  it("a ball hit at height 2R/5 above centre rolls at once", () => {
    const run = runOnCloth(
      stateOf({ speed: 2, angle: 0.3, roll: (5 / 2) * (2 / 5), side: 0, swerve: 0 }, "in", radius),
      DEFAULT_CONDITIONS,
    );
    expect(run.slipEnd).toBe(0);
    expect(phaseAt(run, 0)).toBe("roll");
  });
  it("a ball that slips all the way has bend |a⊥| T²/8", () => {
    const bank = bankOf({ speed: 2.4, angle: 0.5, roll: 1, side: 0.2, swerve: 0 }, 0.3, DEFAULT_CONDITIONS);
    const { run, arrival, chordAngle, bend } = bank.path!;
    expect(arrival.phase).toBe("slip");
    const square = run.ax * Math.cos(chordAngle) + run.ay * Math.sin(chordAngle);
    expect(Math.abs(bend)).toBeCloseTo((Math.abs(square) * arrival.time ** 2) / 8, 14);
  });

  it("odex agrees on random states, over slip and roll", () => {
    const random = uniform(1);
    const { slipFriction, rollFriction } = DEFAULT_CONDITIONS;
    let worst = 0;
    for (let i = 0; i < 200; i++) {
      const start: BallState = {
        vx: random(-3, 3),
        vy: random(-3, 3),
        vz: 0,
        wx: random(-100, 100),
        wy: random(-100, 100),
        wz: 0,
      };
      const run = runOnCloth(start, DEFAULT_CONDITIONS);
      // The equations of motion as vectors: force −μ M g û at the contact −R ẑ, inertia 2/5 M R².
      const slipping = (_: number, [, , vx, vy, wx, wy]: number[]) => {
        const ux = vx - radius * wy;
        const uy = vy + radius * wx;
        const size = Math.hypot(ux, uy);
        const fx = (-slipFriction * GRAVITY * ux) / size;
        const fy = (-slipFriction * GRAVITY * uy) / size;
        return [vx, vy, fx, fy, (2.5 / radius) * fy, (-2.5 / radius) * fx];
      };
      const rolling = (_: number, [, , vx, vy]: number[]) => {
        const size = Math.hypot(vx, vy);
        const fx = (-rollFriction * GRAVITY * vx) / size;
        const fy = (-rollFriction * GRAVITY * vy) / size;
        return [vx, vy, fx, fy, -fy / radius, fx / radius];
      };
      // Slip is followed to just before its end, where û is a quotient of zeros; the last 10⁻⁶ of it changes v by 10⁻⁶
      // a t.
      const nearEnd = run.slipEnd * (1 - 1e-6);
      const late = integrate(slipping, [0, 0, start.vx, start.vy, start.wx, start.wy], nearEnd, 1e-12);
      const compare = (y: number[], t: number) => {
        const place = positionAt(run, t);
        const state = stateAt(run, t);
        worst = Math.max(
          worst,
          ...[
            place.x - y[0],
            place.y - y[1],
            state.vx - y[2],
            state.vy - y[3],
            radius * (state.wx - y[4]),
            radius * (state.wy - y[5]),
          ].map(Math.abs),
        );
      };
      compare(late, nearEnd);
      const place = positionAt(run, run.slipEnd);
      const state = stateAt(run, run.slipEnd);
      const until = run.slipEnd + 0.9 * (run.rest - run.slipEnd);
      compare(
        integrate(rolling, [place.x, place.y, state.vx, state.vy, state.wx, state.wy], until - run.slipEnd, 1e-12),
        until,
      );
    }
    console.log(`cloth, largest difference from odex: ${worst.toExponential(1)} m or m/s`);
    // odex was asked for 1e-12 over paths of some metres.
    expect(worst).toBeLessThan(1e-9);
  });
});

/** Cross product. */
const cross = (a: number[], b: number[]) => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const dot = (a: number[], b: number[]) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/**
 * The impact's equations written down independently, as vectors: a ball of radius 1 and mass 1 that is pushed along −m
 * at the point m and borne along ẑ at −ẑ, with friction −μ N û at both. State: v, w, work, work while compressing.
 * @returns rates, and the smallest slip met
 */
function vectorImpact({ sine, noseFriction, bedFriction }: NoseImpulseInput) {
  const m = [0, Math.sqrt(1 - sine * sine), sine];
  const down = [0, 0, -1];
  const met = { slip: Infinity };
  const surface = (v: number[], w: number[], at: number[]) => cross(w, at).map((one, i) => one + v[i]);
  const across = (vector: number[], normal: number[]) => vector.map((one, i) => one - dot(vector, normal) * normal[i]);
  const rates = (_: number, y: number[]) => {
    const v = y.slice(0, 3);
    const w = y.slice(3, 6);
    const atNose = across(surface(v, w, m), m);
    const atBed = across(surface(v, w, down), down);
    const noseSlip = Math.hypot(...atNose);
    const bedSlip = Math.hypot(...atBed);
    met.slip = Math.min(met.slip, noseSlip, bedSlip);
    const push = atNose.map((one, i) => (-noseFriction * one) / noseSlip - m[i]);
    const borne = -push[2];
    const bed = atBed.map((one) => (-bedFriction * borne * one) / bedSlip);
    bed[2] = borne;
    const turn = cross(m, push).map((one, i) => 2.5 * (one + cross(down, bed)[i]));
    const approach = dot(m, v);
    return [...push.map((one, i) => one + bed[i]), ...turn, approach, Math.max(approach, 0)];
  };
  return { rates, met };
}

/**
 * Largest difference of an impact from plain small steps, of the normal speed, which is 1. Independent of events:
 * friction grows with slip up to its limit over a width.
 */
function offSmallSteps(given: NoseImpulseInput, width: number, h: number): number {
  const found = { vx: 0, vy: 0, vz: 0, wx: 0, wy: 0, wz: 0, impulse: 0, steps: 0 };
  noseImpulse(given, found);
  const c = Math.sqrt(1 - given.sine ** 2);
  const s = given.sine;
  let { vx: x, vy: y, wx, wy, wz } = given;
  let z = 0;
  for (let p = 0; p < found.impulse; p += h) {
    const a = x + s * wy - c * wz;
    const b = wx - s * y + c * z;
    const nose = given.noseFriction / Math.max(Math.sqrt(a * a + b * b), width);
    const f1 = -nose * a;
    const f2 = -nose * b;
    const ux = x - wy;
    const uy = y + wx;
    const load = z > 0 ? 0 : Math.max(0, s - c * f2);
    const bed = (given.bedFriction * load) / Math.max(Math.sqrt(ux * ux + uy * uy), width);
    z = Math.max(0, z + h * (c * f2 - s + load));
    x += h * (f1 - bed * ux);
    y += h * (-c - s * f2 - bed * uy);
    wx += 2.5 * h * (f2 - bed * uy);
    wy += 2.5 * h * (s * f1 + bed * ux);
    wz -= 2.5 * h * c * f1;
  }
  return Math.max(
    ...[found.vx - x, found.vy - y, found.vz - z, found.wx - wx, found.wy - wy, found.wz - wz].map(Math.abs),
  );
}

describe("at the cushion (equations of Mathavan, Jackson & Parkin 2010, written down twice)", () => {
  it("odex agrees on random balls and tables whose slips do not stop", () => {
    const random = uniform(2);
    let worst = 0;
    let worstWork = 0;
    let compared = 0;
    for (let i = 0; i < 150; i++) {
      const given: NoseImpulseInput = {
        vx: random(-4, 4),
        vy: random(0.3, 2.5),
        wx: random(-4, 4),
        wy: random(-4, 4),
        wz: random(-4, 4),
        sine: random(0.15, 0.45),
        noseFriction: random(0.02, 0.15),
        bedFriction: random(0.1, 0.3),
        restitution: random(0.5, 1),
      };
      const found = { vx: 0, vy: 0, vz: 0, wx: 0, wy: 0, wz: 0, impulse: 0, steps: 0 };
      noseImpulse(given, found);
      const { rates, met } = vectorImpact(given);
      const y = integrate(rates, [given.vx, given.vy, 0, given.wx, given.wy, given.wz, 0, 0], found.impulse, 1e-11);
      // Where slip comes near zero the direction turns within a fraction of it, which this form of the equations cannot
      // follow.
      if (met.slip < 0.05 * given.vy) continue;
      compared++;
      worst = Math.max(
        worst,
        ...[found.vx - y[0], found.vy - y[1], found.vz - y[2], found.wx - y[3], found.wy - y[4], found.wz - y[5]].map(
          (one) => Math.abs(one) / given.vy,
        ),
      );
      // Stronge: what comes back is e² of what was stored; the total is stored (1 − e²).
      worstWork = Math.max(worstWork, Math.abs(y[6] - y[7] * (1 - given.restitution ** 2)) / y[7]);
    }
    console.log(
      `cushion, ${compared} compared: largest difference ${worst.toExponential(1)} of the normal speed, work ${worstWork.toExponential(1)}`,
    );
    expect(compared).toBeGreaterThan(100);
    expect(worst).toBeLessThan(1e-9);
    // The corner of max(approach, 0) costs odex digits.
    expect(worstWork).toBeLessThan(1e-6);
  });

  it("plain small steps agree where slips stop, stick and turn, and where the ball leaves the bed and lands", () => {
    const random = uniform(3);
    const width = 2e-4;
    let worst = 0;
    for (let i = 0; i < 40; i++) {
      const rolls = i % 2 === 0;
      const vy = 1;
      const vx = random(-1, 1);
      const given: NoseImpulseInput = {
        vx,
        vy,
        wx: rolls ? -vy : random(-1.5, 1.5),
        wy: rolls ? vx : random(-1.5, 1.5),
        wz: random(-1.5, 1.5),
        sine: random(0.15, 0.4),
        noseFriction: random(0.1, 0.3),
        bedFriction: random(0.1, 0.3),
        restitution: random(0.6, 1),
      };
      worst = Math.max(worst, offSmallSteps(given, width, 1e-5));
    }
    console.log(
      `cushion with sticking, largest difference from small steps: ${worst.toExponential(1)} of the normal speed`,
    );
    // The width lets slips of 0.0002 live on where they should be none; spins change by 7/2 and more of that.
    expect(worst).toBeLessThan(1e-3);
  }, 60_000);

  // High noses and rough cloth, where friction at the nose nearly holds and slip creeps: found among random balls as
  // those that a creep in a wrong direction changes most. Speed, angle, roll, side, swerve; slip and nose friction,
  // restitution, height of the nose over the diameter.
  it.each([
    [1.7, -0.3, 1, -0.6336, 0, 0.4445, 0.4228, 0.3982, 0.7266],
    [1.7602, -0.18588, 1, -0.29602, 0, 0.48824, 0.46621, 0.30671, 0.73382],
    [0.5957, -0.00684, 1.4175, 0, 0.24488, 0.45353, 0.36492, 0.86637, 0.69684],
    [1.6106, -0.166, 1.34144, 0.07604, 0, 0.47351, 0.40306, 0.65049, 0.69218],
    [
      3.414586271631804, -0.017581771974257032, 1, 0.8366089625454549, 0, 0.4841411327869357, 0.47662075817427635,
      0.9212356609856875, 0.7416478600314109,
    ],
  ])("small steps agree where slip creeps: %f m/s, angle %f, roll %f, side %f, swerve %f", (...numbers) => {
    const [
      speed = 0,
      angle = 0,
      roll = 0,
      side = 0,
      swerve = 0,
      bedFriction = 0,
      noseFriction = 0,
      restitution = 0,
      height = 0,
    ] = numbers;
    const { vx, vy, wx, wy, wz } = stateOf({ speed, angle, roll, side, swerve }, "in", radius);
    const sine = 2 * height - 1;
    const share = (value: number) => value / vy;
    const given = {
      ...{ vx: share(vx), vy: 1, sine, bedFriction, noseFriction, restitution },
      ...{ wx: share(radius * wx), wy: share(radius * wy), wz: share(radius * wz) },
    };
    // A tenth of the width above leaves a tenth of its error.
    expect(offSmallSteps(given, 2e-5, 2e-6)).toBeLessThan(1e-4);
  });

  it("without friction v_y′ = −e v_y and spin is unchanged", () => {
    const state = stateOf({ speed: 2, angle: 0.4, roll: 0.7, side: 0.5, swerve: 0.2 }, "in", radius);
    const off = impact(state, { ...DEFAULT_CONDITIONS, noseFriction: 0, slipFriction: 0, restitution: 0.8 });
    expect(off.vy).toBeCloseTo(-0.8 * state.vy, 14);
    expect(off).toEqual({ ...state, vy: off.vy });
  });

  it("published constants are the defaults where a source gives them", () => {
    // Mathavan et al. (2010), values as this project was given them: e = 0.98, nose friction 0.14, rigid up to 2.5 m/s.
    expect(DEFAULT_CONDITIONS.restitution).toBe(0.98);
    expect(DEFAULT_CONDITIONS.noseFriction).toBe(0.14);
    expect(RIGID_NOSE_LIMIT).toBe(2.5);
    // Ranges given for Marlow (1995), Wallace & Schroeder (1988), Cross (2008).
    expect(DEFAULT_CONDITIONS.slipFriction).toBeGreaterThanOrEqual(0.15);
    expect(DEFAULT_CONDITIONS.slipFriction).toBeLessThanOrEqual(0.25);
    expect(DEFAULT_CONDITIONS.rollFriction).toBeGreaterThanOrEqual(0.005);
    expect(DEFAULT_CONDITIONS.rollFriction).toBeLessThanOrEqual(0.015);
    // World Pool-Billiard Association, from memory: nose 63.5 % ± 1 % of the diameter, 5.5 to 6 oz.
    expect(DEFAULT_CONDITIONS.noseHeight).toBe(0.635);
    expect(DEFAULT_CONDITIONS.ballMass / 0.028349523125).toBeGreaterThan(5.5);
    expect(DEFAULT_CONDITIONS.ballMass / 0.028349523125).toBeLessThan(6);
  });
});

describe("the whole bank, properties of exact mathematics", () => {
  it("mirrored shots have the same bend, and energy only falls", () => {
    const random = uniform(4);
    const seen = { arrived: 0, short: 0 };
    for (let i = 0; i < 2000; i++) {
      const motion = {
        speed: random(0.8, 3),
        angle: random(0, 1.2),
        roll: random(-1, 1),
        side: random(-1, 1),
        swerve: 0,
      };
      const bank = bankOf(motion, 0.6, DEFAULT_CONDITIONS);
      const mirror = bankOf({ ...motion, angle: -motion.angle, side: -motion.side }, 0.6, DEFAULT_CONDITIONS);
      seen[bank.path ? "arrived" : "short"]++;
      if (!bank.path) {
        expect(mirror.path).toBeUndefined();
        continue;
      }
      expect(mirror.path!.bend).toBeCloseTo(bank.path.bend, 9);
      const arrives = stateAt(bank.path.run, bank.path.arrival.time);
      expect(energyPerMass(arrives, radius)).toBeLessThan(energyPerMass(bank.atCushion, radius));
      expect(motionOf(arrives, radius).speed).toBeCloseTo(bank.path.arrival.speed, 12);
    }
    expect(Math.min(seen.arrived, seen.short)).toBeGreaterThan(0);
  });

  it("the bend is the largest of many distances from the chord", () => {
    const random = uniform(5);
    let arrived = 0;
    for (let i = 0; i < 300; i++) {
      const { path } = bankOf(
        { speed: random(0.8, 2.5), angle: random(0.1, 1.1), roll: random(-1, 1.2), side: random(-1, 1), swerve: 0 },
        1,
        DEFAULT_CONDITIONS,
      );
      if (!path) continue;
      arrived++;
      const { run, arrival, bend } = path;
      let most = 0;
      for (let j = 0; j <= 4000; j++) {
        const { x, y } = positionAt(run, (arrival.time * j) / 4000);
        most = Math.max(most, Math.abs(x * -1 - y * arrival.x) / Math.hypot(arrival.x, 1));
      }
      // 4000 samples miss the top of a parabola by at most a (T/8000)²/2, under 1e-6 m here.
      expect(Math.abs(Math.abs(bend) - most)).toBeLessThan(1e-6);
    }
    expect(arrived).toBeGreaterThan(100);
  });
});

describe("moist air (WMO-No. 8, annex 4.B, Magnus form over water)", () => {
  it("its own constants", () => {
    expect(saturationPressure(0)).toBe(6.112);
    // By the formula: 6.112 exp(352.4/263.12) hPa.
    expect(saturationPressure(20)).toBeCloseTo(6.112 * Math.exp(352.4 / 263.12), 12);
  });
  it("20 °C and 50 % have a dew point of 9.3 °C", () => {
    // The check value given with the formula.
    expect(dewPoint(20, 0.5)).toBeCloseTo(9.3, 1);
    expect(relativeHumidity(20, dewPoint(20, 0.5))).toBeCloseTo(0.5, 12);
  });
  it("saturated air of 20 °C holds 17.3 g/m³", () => {
    // Common tables of absolute humidity, from memory.
    expect(Math.abs(absoluteHumidity(20, 1) - 17.3)).toBeLessThan(0.1); // as the tables differ
  });
});

describe("the approach of a whole shot", () => {
  it("passes a gate as odex has it, from random spots with random spin", () => {
    const random = uniform(13);
    const { slipFriction, rollFriction } = DEFAULT_CONDITIONS;
    let worst = 0;
    for (let n = 0; n < 40; n++) {
      const spot = random(0.3, 0.9);
      const motion = { speed: random(1.5, 4), angle: random(-0.7, 0.7), roll: random(-0.2, 0.2), side: 0, swerve: 0 };
      const start = stateOf({ ...motion, swerve: random(-0.2, 0.2) }, "in", radius);
      const approach = approachToRail(start, spot, DEFAULT_CONDITIONS);
      if (!approach) continue;
      // Velocity and the slip u = v + ω × (−R ẑ), which turns nowhere and falls by 7/2 μ g; then rolling friction.
      const ux = start.vx - radius * start.wy;
      const uy = start.vy + radius * start.wx;
      const slips = (2 * Math.hypot(ux, uy)) / (7 * slipFriction * GRAVITY);
      const rates = (t: number, [, , vx, vy]: number[]) => {
        const by = t < slips ? Math.hypot(ux, uy) : Math.hypot(vx!, vy!);
        const mu = t < slips ? slipFriction : rollFriction;
        const [ax, ay] = t < slips ? [ux, uy] : [vx!, vy!];
        return [vx!, vy!, (-mu * GRAVITY * ax!) / by, (-mu * GRAVITY * ay!) / by];
      };
      const whole = (to: number) => {
        const first = integrate(rates, [0, -spot, start.vx, start.vy], Math.min(to, slips * (1 - 1e-12)), 1e-12);
        return to <= slips ? first : integrate((t, y) => rates(t + slips, y), first, to - slips, 1e-12);
      };
      const gate = { x: approach.touchX - random(1, 1.5) * 2 * radius, y: 0, radius };
      const near = (point: number[]) => Math.hypot(point[0]! - gate.x, point[1]! - gate.y) - 2 * radius;
      const times = Array.from({ length: 65 }, (_, i) => (approach.time * i) / 64);
      const least = Math.min(...times.map((time) => near(whole(time))));
      const points = times.map((time) => positionAt(approach.run, time));
      const found = Math.min(...points.map(({ x, y }) => near([x, y])));
      worst = Math.max(worst, Math.abs(found - least));
      // Straight pieces between those points cut no more off than their sagitta, 1/8 a Δt².
      const passed = closestPassing(points, [gate], radius)!.clearance;
      expect(found - passed).toBeGreaterThan(-1e-12);
      const [x, y] = whole(approach.time);
      expect(Math.abs(x! - approach.touchX) + Math.abs(y!)).toBeLessThan(1e-9);
    }
    // odex was asked for 1e-12 over paths of a metre.
    expect(worst).toBeLessThan(1e-9);
  });
});
