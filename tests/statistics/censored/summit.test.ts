/** The likelihood of censored rows, written out again: its slopes, its summit, and where intervals end. */
import { describe, expect, it } from "vitest";
import { fallOf } from "../../../src/statistics/censored/calibration";
import {
  censoredFit,
  type CensoredQuestion,
  type Estimated,
  type Known,
} from "../../../src/statistics/censored/censoredFit";
import { heightAt, rowsOf } from "../../../src/statistics/censored/likelihood";
import { normalQuantile } from "../../../src/statistics/distributions/distributions";
import { normalLower } from "../../../src/statistics/distributions/normal";
import { boxSearch } from "../../../src/statistics/numeric/boxSearch";
import { randomOf } from "../../../src/statistics/numeric/drawer";
import { gaussHermite } from "../../../src/statistics/numeric/gaussHermite";

/** Invented rows: 1 + 0.5 x and a normal scatter, a share of them measured, in sessions of five by turns. */
function invented(seed: number, { count = 40, scatter = 0.3, measured = 0.3, shift = 0.2 } = {}) {
  const random = randomOf(seed);
  const levels = ["a", "b", "c", "d", "e"];
  const shifts = levels.map(() => shift * random.normal());
  const groups = Array.from({ length: count }, (_, i) => i % 5);
  const x = groups.map(() => random.normal());
  const bounds: number[] = [];
  const known = groups.map((group, i): Known => {
    const value = 1 + 0.5 * x[i]! + shifts[group]! + scatter * random.normal();
    const bound = 1 + 0.5 * x[i]! * random.uniform() + scatter * random.normal();
    const isMeasured = random.uniform() < measured;
    bounds.push(isMeasured ? value : bound);
    return isMeasured ? "value" : value >= bound ? "at least" : "less than";
  });
  return { bounds, known, x, sessions: { name: "session", groups, levels } };
}

/** log of the sum over rows, or of the integral over each session's shift by small even steps. */
function writtenOut(
  { bounds, known, x, sessions }: ReturnType<typeof invented>,
  {
    at,
    slope,
    scatter,
    between = 0,
    misjudged = 0,
  }: { at: number; slope: number; scatter: number; between?: number; misjudged?: number },
  STEP = 0.06,
): number {
  const row = (i: number, shift: number) => {
    const deviate = (at + slope * x[i]! + shift - bounds[i]!) / scatter;
    if (known[i] === "value") return -0.5 * deviate ** 2 - Math.log(scatter * Math.sqrt(2 * Math.PI));
    const chance = misjudged + (1 - 2 * misjudged) * normalLower(deviate);
    return Math.log(known[i] === "at least" ? chance : misjudged + (1 - 2 * misjudged) * normalLower(-deviate));
  };
  if (between === 0) return bounds.reduce((sum, _, i) => sum + row(i, 0), 0);
  return sessions.levels.reduce((sum, _, group) => {
    const members = bounds.flatMap((__, i) => (sessions.groups[i] === group ? [i] : []));
    let integral = 0;
    for (let z = -9; z <= 9; z += STEP)
      integral += STEP * Math.exp(members.reduce((log, i) => log + row(i, between * z), -0.5 * z * z));
    return sum + Math.log(integral / Math.sqrt(2 * Math.PI));
  }, 0);
}

describe("the height at a place", () => {
  it.each([
    [1, 0, false],
    [2, 0.05, false],
    [3, 0, true],
    [4, 0.05, true],
  ])(
    "is the likelihood written out, with its slopes and curvatures (seed %i, misjudged %f, sessions: %s)",
    (seed, misjudged, isGrouped) => {
      const made = invented(seed, { count: 25 });
      const members = made.sessions.levels.map((_, g) => made.bounds.flatMap((__, i) => (i % 5 === g ? [i] : [])));
      const data = rowsOf([made.bounds.map(() => 1), made.x], made.bounds, made.known, {
        misjudged,
        ...(isGrouped && { sessions: { members, rule: gaussHermite(25) } }),
      });
      // γ = β/σ, θ = 1/σ, λ = τ/σ.
      const [scatter, between] = [0.4, isGrouped ? 0.3 : 0];
      const place = [0.9 / scatter, 0.4 / scatter, 1 / scatter, ...(isGrouped ? [between / scatter] : [])];
      const height = heightAt(data, place);
      expect(height.value).toBeCloseTo(writtenOut(made, { at: 0.9, slope: 0.4, scatter, between, misjudged }), 8);
      const STEP = 1e-5;
      place.forEach((_, j) => {
        const beside = (by: number) =>
          heightAt(
            data,
            place.map((one, k) => (k === j ? one + by : one)),
          );
        const [less, more] = [beside(-STEP), beside(STEP)];
        // Central differences: rounding of 1e-16 times the height over the step.
        expect(height.slope[j]! / ((more.value - less.value) / (2 * STEP))).toBeCloseTo(1, 5);
        place.forEach((__, k) =>
          expect(height.curvature[j]![k]! - (more.slope[k]! - less.slope[k]!) / (2 * STEP)).toBeCloseTo(0, 4),
        );
      });
    },
  );
  it("is nowhere where values are known and θ is not above 0", () => {
    const data = rowsOf([[1, 1]], [0, 1], ["value", "less than"]);
    expect(heightAt(data, [0, 0]).value).toBe(-Infinity);
    expect(heightAt(rowsOf([[1, 1]], [0, 1], ["at least", "less than"]), [0, 0]).value).toBeCloseTo(
      2 * Math.log(0.5),
      12,
    );
  });
});

describe("the fit", () => {
  const driven = (
    { bounds, known, x, sessions }: ReturnType<typeof invented>,
    isGrouped: boolean,
  ): CensoredQuestion => ({
    bounds,
    known,
    drivers: [{ kind: "number", name: "x", values: x, degree: 1 }],
    ...(isGrouped && { sessions }),
  });

  // The last ones overshoot at a whole step of Newton's, and come to the summit by halves.
  it.each([
    [11, 40, 0.3, 0.3, false],
    [12, 60, 0.2, 0, false],
    [13, 60, 1, 0.05, false],
    [14, 60, 1, 0.02, false],
    [15, 40, 0.3, 0.5, true],
    [16, 60, 0.2, 0.1, true],
    [17, 60, 1, 0.05, true],
    [18, 60, 0.9, 0.1, true],
  ])(
    "is at the summit, and equally far below it at both ends (seed %i, %i rows, scatter %f, measured %f, sessions: %s)",
    (seed, count, scatter, measured, isGrouped) => {
      const made = invented(seed, { count, scatter, measured });
      const question = driven(made, isGrouped);
      const fit = censoredFit(question);
      expect(fit.untold).toEqual([]);
      const [constant, term] = fit.terms;
      const found = {
        at: constant!.estimate!,
        slope: term!.estimate!,
        scatter: fit.scatter.estimate!,
        between: fit.session?.estimate ?? 0,
      };
      expect(fit.logLikelihood).toBeCloseTo(writtenOut(made, found), 6);
      for (const [key, by] of [
        ["at", 0.02],
        ["at", -0.02],
        ["slope", 0.02],
        ["slope", -0.02],
        ["scatter", 0.02 * scatter],
        ["scatter", -0.02 * scatter],
        ...(isGrouped && found.between > 0.02
          ? ([
              ["between", 0.02],
              ["between", -0.02],
            ] as const)
          : []),
      ] as const)
        expect(writtenOut(made, { ...found, [key]: found[key] + by })).toBeLessThan(fit.logLikelihood + 1e-7);

      // With the slope held at an end, the rest at its best for it: what is left of the rows is a fit of its own.
      const held = (slope: number) =>
        censoredFit({ ...question, bounds: made.bounds.map((bound, i) => bound - slope * made.x[i]!), drivers: [] })
          .logLikelihood;
      const falls = [term!.low!, term!.high!].map((end) => 2 * (fit.logLikelihood - held(end)));
      expect(term!.low!).toBeLessThan(found.slope);
      expect(term!.high!).toBeGreaterThan(found.slope);
      expect(falls[0]! / falls[1]!).toBeCloseTo(1, 4);
      // Never less than what chi-square would cut, and no more than a t of few degrees of freedom.
      expect(falls[0]!).toBeGreaterThan(fallOf(0.95, 1e6, 0, undefined) - 1e-3);
      expect(falls[0]!).toBeLessThan(fallOf(0.95, 2, 2, isGrouped ? 5 : undefined));
      expect(fit.difference([2], [1])).toMatchObject({
        estimate: expect.closeTo(found.slope, 9),
        low: expect.closeTo(term!.low!, 6),
        high: expect.closeTo(term!.high!, 6),
      });
    },
  );
});

describe("the ends of other figures", () => {
  const made = { ...invented(31, { count: 35, measured: 0.9, shift: 0.9 }), x: new Array<number>(35).fill(0) };
  const { bounds, known, sessions } = made;
  const fit = censoredFit({ bounds, known, drivers: [], sessions });
  const range = (low: number, high: number) => ({ low, high });

  /** How far below the top the likelihood is at its best where two numbers are free and make the third. */
  function fallWhere(
    box: readonly { readonly low: number; readonly high: number }[],
    place: (free: readonly number[]) => { at: number; scatter: number; between: number },
  ): number {
    const least = boxSearch(box, (free) => -writtenOut(made, { ...place(free), slope: 0 }, 0.15), {
      places: 20,
      climbs: 1,
      lastStep: 3e-4,
    });
    return 2 * (fit.logLikelihood + least.value);
  }

  const deviate = (probability: number) => normalQuantile(probability);
  const wide = range(0.02, 2.5);
  const cases: readonly (readonly [string, Estimated, (end: number) => number])[] = [
    [
      "the bend in nine of ten in an average session",
      fit.surpassed([], 0.9)!,
      (end) =>
        fallWhere([wide, wide], ([scatter, between]) => ({
          at: end + deviate(0.9) * scatter!,
          scatter: scatter!,
          between: between!,
        })),
    ],
    [
      "the bend in nine of ten in a session to come",
      fit.surpassed([], 0.9, true)!,
      (end) =>
        fallWhere([wide, wide], ([scatter, between]) => ({
          at: end + deviate(0.9) * Math.hypot(scatter!, between!),
          scatter: scatter!,
          between: between!,
        })),
    ],
    [
      "the chance at a bend in a session to come",
      fit.chance([], 0.8, true)!,
      (end) =>
        fallWhere([wide, wide], ([scatter, between]) => ({
          at: 0.8 + deviate(end) * Math.hypot(scatter!, between!),
          scatter: scatter!,
          between: between!,
        })),
    ],
    [
      "the scatter",
      fit.scatter,
      (end) => fallWhere([range(0, 2), wide], ([at, between]) => ({ at: at!, scatter: end, between: between! })),
    ],
    [
      "the sessions' own",
      fit.session!,
      (end) => fallWhere([range(0, 2), wide], ([at, scatter]) => ({ at: at!, scatter: scatter!, between: end })),
    ],
  ];
  it.each(cases)("%s are where the likelihood at its best has fallen alike", (_, figure, fallAt) => {
    const [low, high] = [figure.low!, figure.high!];
    expect(low).toBeLessThan(figure.estimate!);
    expect(high).toBeGreaterThan(figure.estimate!);
    // Steps of a few ten thousandths of the box leave less than a thousandth of the fall.
    const [below, above] = [fallAt(low), fallAt(high)];
    expect(below / above).toBeCloseTo(1, 2);
    expect(above).toBeGreaterThan(3.8);
  });

  it("are 0 for sessions that do not differ", () => {
    const alike = invented(32, { count: 40, shift: 0 });
    const { session } = censoredFit({
      bounds: alike.bounds,
      known: alike.known,
      drivers: [{ kind: "number", name: "x", values: alike.x, degree: 1 }],
      sessions: alike.sessions,
    });
    expect(session?.low).toBe(0);
    expect(session!.high!).toBeGreaterThan(0.05);
  });
});
