/**
 * Predictions of a bank per second, against a plain fixed-step integrator that is made as accurate in the same run.
 *
 * The reference follows the same equations by the classical Runge–Kutta method with fixed steps in impulse and in time,
 * halved until its bend agrees with ours to a relative 10⁻⁸ (or until it is clear that it cannot). It has no events, so
 * it is shown balls only whose slips do not stop in the impact nor on the way to the line: with those it converges
 * slowly.
 */
import { GRAVITY, stateOf, type Motion } from "../../src/bank/ball";
import { DEFAULT_CONDITIONS } from "../../src/bank/conditions";
import { bankOf } from "../../src/bank/shot";
import { createEngine } from "../../src/workbook/embedded/engine";
import { makeBook } from "../samples/book";
import { allocationOf } from "./allocation";
import { best, ratioAtMost, type Measurement } from "./measure";

const { slipFriction, noseFriction, restitution, noseHeight, ballDiameter } = DEFAULT_CONDITIONS;
const radius = ballDiameter / 2;
const ACROSS = 0.3;
const AGREEMENT = 1e-8;

/** y ← one Runge–Kutta step; `rates` fills its second argument. */
function stepper(size: number, rates: (y: Float64Array, out: Float64Array) => void) {
  const [a, b, c, d, trial] = Array.from({ length: 5 }, () => new Float64Array(size));
  return (y: Float64Array, h: number) => {
    rates(y, a);
    for (let i = 0; i < size; i++) trial[i] = y[i] + 0.5 * h * a[i];
    rates(trial, b);
    for (let i = 0; i < size; i++) trial[i] = y[i] + 0.5 * h * b[i];
    rates(trial, c);
    for (let i = 0; i < size; i++) trial[i] = y[i] + h * c[i];
    rates(trial, d);
    for (let i = 0; i < size; i++) y[i] += (h / 6) * (a[i] + 2 * b[i] + 2 * c[i] + d[i]);
  };
}

const sine = 2 * noseHeight - 1;
const cosine = Math.sqrt(1 - sine * sine);
/** vx, vy, R ω (3), work. */
const impulseStep = stepper(6, (y, out) => {
  const s1 = y[0] + sine * y[3] - cosine * y[4];
  const s2 = y[2] - sine * y[1];
  const nose = noseFriction / Math.sqrt(s1 * s1 + s2 * s2);
  const f1 = -nose * s1;
  const f2 = -nose * s2;
  const u1 = y[0] - y[3];
  const u2 = y[1] + y[2];
  const bed = (slipFriction * (sine - cosine * f2)) / Math.sqrt(u1 * u1 + u2 * u2);
  out[0] = f1 - bed * u1;
  out[1] = -cosine - sine * f2 - bed * u2;
  out[2] = 2.5 * (f2 - bed * u2);
  out[3] = 2.5 * (sine * f1 + bed * u1);
  out[4] = -2.5 * cosine * f1;
  out[5] = cosine * y[1];
});
/** x, y, vx, vy, R ω (2). */
const clothStep = stepper(6, (y, out) => {
  const u1 = y[2] - y[5];
  const u2 = y[3] + y[4];
  const slip = Math.sqrt(u1 * u1 + u2 * u2) || 1;
  out[0] = y[2];
  out[1] = y[3];
  out[2] = (-slipFriction * GRAVITY * u1) / slip;
  out[3] = (-slipFriction * GRAVITY * u2) / slip;
  out[4] = 2.5 * out[3];
  out[5] = -2.5 * out[2];
});

/** Shortens the last step from `before` until `value` is zero there, by secants. */
function cut(
  step: (y: Float64Array, h: number) => void,
  before: Float64Array,
  y: Float64Array,
  h: number,
  value: (y: Float64Array) => number,
): void {
  let low = 0;
  let atLow = value(before);
  let part = h;
  let atPart = value(y);
  for (let i = 0; i < 4 && atPart !== atLow; i++) {
    const next = part - (atPart * (part - low)) / (atPart - atLow);
    [low, atLow, part] = [part, atPart, next];
    y.set(before);
    step(y, part);
    atPart = value(y);
  }
}

/** Bend by fixed steps. */
function plainBend(motion: Motion, steps: number): number {
  const start = stateOf(motion, "in", radius);
  const y = Float64Array.of(start.vx, start.vy, radius * start.wx, radius * start.wy, radius * start.wz, 0);
  const before = new Float64Array(6);
  const h = (2 * start.vy) / steps;
  do {
    before.set(y);
    impulseStep(y, h);
  } while (y[1] > 0);
  cut(impulseStep, before, y, h, (at) => at[1]);
  const target = y[5] * (1 - (restitution as number) ** 2);
  do {
    before.set(y);
    impulseStep(y, h);
  } while (y[5] > target);
  cut(impulseStep, before, y, h, (at) => at[5] - target);

  const z = Float64Array.of(0, 0, y[0], y[1], y[2], y[3]);
  const dt = ACROSS / Math.abs(y[1]) / steps;
  const xs = [0];
  const ys = [0];
  do {
    before.set(z);
    clothStep(z, dt);
    xs.push(z[0]);
    ys.push(z[1]);
  } while (z[1] > -ACROSS);
  cut(clothStep, before, z, dt, (at) => at[1] + ACROSS);
  const length = Math.hypot(z[0], ACROSS);
  let bend = 0;
  for (let i = 0; i < xs.length - 1; i++) bend = Math.max(bend, Math.abs(xs[i] * -ACROSS - ys[i] * z[0]) / length);
  return bend;
}

/** Balls that slip all the way and whose slips do not stop at the cushion. */
const motions: Motion[] = Array.from({ length: 200 }, (_, i) => ({
  speed: 2.4 + 0.002 * i,
  angle: 0.7 + 0.001 * i,
  roll: 0.5 + 0.001 * i,
  side: -0.3,
  swerve: 0,
}));

function secondsEach(run: () => void, count: number): number {
  const start = performance.now();
  run();
  return (performance.now() - start) / 1000 / count;
}

const CELLS = 10_000;

/** Recalculation of a sheet of speeds, each with a formula beside it, in ms. */
async function cells(formula: (row: number) => string): Promise<number> {
  const engine = await createEngine(
    makeBook([
      { name: "Log", widths: [], rows: Array.from({ length: CELLS }, (_, i) => [4 + i / CELLS, formula(i + 1)]) },
    ]),
  );
  try {
    return await best(2, () => engine.live.recalculate());
  } finally {
    engine.dispose();
  }
}

export async function predictBench(): Promise<Measurement[]> {
  const options = { tolerance: AGREEMENT };
  const all = (rounds: number) => {
    for (let round = 0; round < rounds; round++)
      for (const motion of motions) bankOf(motion, ACROSS, DEFAULT_CONDITIONS, options);
  };
  all(20);
  const ours = secondsEach(() => all(50), 50 * motions.length);

  const allocated = await allocationOf(() => all(20));
  const inLoop = allocated.places
    .filter(({ name }) => name.includes(" impact/"))
    .reduce((sum, { bytes }) => sum + bytes, 0);
  const each = 20 * motions.length;

  const probe = motions.filter((_, i) => i % 40 === 0);
  const exact = probe.map((motion) =>
    Math.abs(bankOf(motion, ACROSS, DEFAULT_CONDITIONS, { tolerance: 1e-12 }).path!.bend),
  );
  let steps = 64;
  let error = Infinity;
  while (error > AGREEMENT && steps < 1 << 20) {
    steps *= 2;
    error = Math.max(...probe.map((motion, i) => Math.abs(plainBend(motion, steps) / exact[i] - 1)));
  }
  const referenceTime = secondsEach(() => probe.forEach((motion) => plainBend(motion, steps)), probe.length);
  return [
    {
      name: "predictions of a bank",
      ours: ours * 1000,
      reference: `Runge–Kutta with ${steps} fixed steps in impulse and in time, relative error ${error.toExponential(1)}`,
      referenceTime: referenceTime * 1000,
      goal: ratioAtMost(0.02),
    },
    {
      name: "memory that the impact's inner loop takes for a prediction",
      ours: inLoop / each,
      reference:
        "all that a prediction takes, which is its answer; by V8's sampling heap profiler, what is collected at once included",
      referenceTime: allocated.bytes / each,
      unit: "bytes",
      goal: ratioAtMost(0.1),
    },
    {
      name: "recalculate 10,000 BANK.PREDICT cells in the embedded engine",
      ours: await cells((row) => `=BANK.PREDICT(A${row},20,1,0,45)`),
      reference: "10,000 BANK.BEND cells",
      referenceTime: await cells((row) => `=BANK.BEND(A${row})`),
      goal: ratioAtMost(10),
    },
  ];
}
