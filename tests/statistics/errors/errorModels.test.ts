import { describe, expect, it } from "vitest";
import { compare } from "../../../src/statistics/compare/comparison";
import type { ErrorModel } from "../../../src/statistics/errors/errorModel";
import { groupsDiffer } from "../../../src/statistics/errors/groupParts";
import { logistic } from "../../../src/statistics/fit/logistic";
import { power, shotsNeeded } from "../../../src/statistics/design/power";
import { regress, type RegressionProblem } from "../../../src/statistics/fit/regression";
import { studentisedRangeQuantile } from "../../../src/statistics/distributions/studentisedRange";

/** Seeded, so that a failure repeats: mulberry32 and a sum of uniforms made normal by Box and Muller. */
function randomNormals(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
const number = (name: string, values: number[]) => ({ kind: "number" as const, name, values, degree: 1 });
const grouping = (groups: number[]) => ({ name: "Session", groups, levels: [...new Set(groups)].map((g) => `s${g}`) });
const groups = [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2, 2, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5];
const kinds: Record<string, ErrorModel> = {
  robust: { kind: "robust" },
  cluster: { kind: "cluster", by: grouping(groups) },
  random: { kind: "random", by: grouping(groups) },
};

function example(): { x: number[]; z: number[]; y: number[] } {
  const normal = randomNormals(3);
  const shift = Array.from({ length: 6 }, () => normal());
  const x = groups.map(() => 50 + 10 * normal());
  const z = groups.map((g) => 40 + 5 * g);
  return { x, z, y: groups.map((g, i) => 1 + 0.1 * x[i] + shift[g] + 0.5 * normal()) };
}

describe.each(Object.entries(kinds))("%s", (_, errors) => {
  const { x, z, y } = example();
  const ask = (change: Partial<RegressionProblem> = {}): RegressionProblem => ({
    response: y,
    drivers: [number("x", x), number("z", z)],
    errors,
    ...change,
  });
  const before = regress(ask()).terms;

  // REML's ratio is found to about 1e-9 of itself, as the slope at the bottom is a difference of like numbers.
  const close = (a: number | null, b: number | null) =>
    expect(Math.abs((a ?? NaN) / (b ?? NaN) - 1)).toBeLessThan(1e-7);

  it("keeps t, degrees of freedom and p when units change, and the slopes when a zero moves", () => {
    const after = regress(
      ask({
        response: y.map((v) => 25.4 * v - 300),
        drivers: [
          number(
            "x",
            x.map((v) => v / 7 + 1000),
          ),
          number("z", z),
        ],
      }),
    ).terms;
    for (const i of [1, 2]) for (const key of ["t", "df", "p"] as const) close(after[i][key], before[i][key]);
    close(after[1].estimate, (before[1].estimate ?? NaN) * 25.4 * 7);
  });

  it("finds noiseless coefficients, without scatter and without complaint", () => {
    const exact = regress(ask({ response: x.map((v, i) => 1 + 2 * v - z[i]) })).terms;
    // The doubles of the response are rounded, so the estimates are off by their last digits.
    [1, 2, -1].forEach((value, i) => expect(exact[i].estimate).toBeCloseTo(value, 10));
    exact.forEach(({ standardError, p }) => {
      expect(standardError).toBeLessThan(1e-10);
      expect(p).toBeLessThan(1e-6);
    });
    const same = regress(ask({ response: y.map(() => 3) })).terms;
    expect(same[0].estimate).toBeCloseTo(3, 12);
    expect(Math.abs(same[1].estimate ?? NaN)).toBeLessThan(1e-12);
  });

  it("does not mind the order of rows", () => {
    const back = <T>(list: readonly T[]) => [...list].reverse();
    const turned: ErrorModel = errors.kind === "robust" ? errors : { kind: errors.kind, by: grouping(back(groups)) };
    const after = regress({
      response: back(y),
      drivers: [number("x", back(x)), number("z", back(z))],
      errors: turned,
    }).terms;
    after.forEach((term, i) => {
      close(term.standardError, before[i].standardError);
      close(term.df, before[i].df);
    });
  });
});

describe("random intercept", () => {
  it("is the analysis of variance where every session has as many shots, worked by hand", () => {
    const sessions = [
      [11, 13, 12],
      [15, 14, 19],
      [9, 12, 9],
      [20, 17, 17],
    ];
    // Means 12, 16, 10, 18, grand mean 14; between: 3·(4 + 4 + 16 + 16) = 120 on 3; within: 2 + 14 + 6 + 6 = 28 on 8.
    const fit = regress({
      response: sessions.flat(),
      drivers: [],
      errors: { kind: "random", by: grouping(sessions.flatMap((list, g) => list.map(() => g))) },
    });
    const [constant] = fit.terms;
    expect(constant.estimate).toBeCloseTo(14, 12);
    expect(constant.standardError).toBeCloseTo(Math.sqrt(40 / 12), 9);
    expect(constant.df).toBeCloseTo(3, 7);
    expect(fit.spread?.within).toBeCloseTo(Math.sqrt(3.5), 9);
    expect(fit.spread?.between).toBeCloseTo(Math.sqrt((40 - 3.5) / 3), 9);
  });

  it("says 0 where sessions differ by less than single shots make, and is no surer than the shots within them", () => {
    const response = [1, 5, 3, 2, 4, 3, 5, 1, 3];
    const plain = regress({ response, drivers: [] });
    const fit = regress({
      response,
      drivers: [],
      errors: { kind: "random", by: grouping([0, 0, 0, 1, 1, 1, 2, 2, 2]) },
    });
    expect(fit.spread).toEqual({ between: 0, within: plain.residual.sd });
    // Worked by hand: every session's mean is 3; within sessions 8 + 2 + 8 = 18 squares on 6, so 3 a shot, 9 shots.
    // Three sessions and their mean leave 2; the interval is as wide as Student's on 6 for nine shots on their own.
    expect(fit.terms[0].df).toBe(2);
    expect(fit.terms[0].high).toBeCloseTo(3 + 2.446911851 * Math.sqrt(3 / 9), 8);
  });

  it("is exact to many digits when sessions differ a million times more than shots", () => {
    const normal = randomNormals(9);
    const by = Array.from({ length: 40 }, (_, i) => i % 8);
    const shift = Array.from({ length: 8 }, () => 1e6 * normal());
    const y = by.map((g) => shift[g] + normal());
    const mean = (list: number[]) => list.reduce((a, b) => a + b, 0) / list.length;
    const means = shift.map((_, g) => mean(y.filter((__, i) => by[i] === g)));
    const between = means.reduce((total, m) => total + (m - mean(means)) ** 2, 0) / 7;
    const fit = regress({ response: y, drivers: [], errors: { kind: "random", by: grouping(by) } });
    expect((fit.terms[0].standardError ?? NaN) / Math.sqrt(between / 8)).toBeCloseTo(1, 8);
    expect(fit.terms[0].df).toBeCloseTo(7, 4);
  });

  it("refuses what the sessions cannot tell", () => {
    const by = grouping([0, 0, 0, 1, 1, 1]);
    const [, humidity, speed] = regress({
      response: [1, 2, 3, 4, 5, 7],
      drivers: [number("humidity", [40, 40, 40, 50, 50, 50]), number("speed", [1, 2, 3, 1, 2, 3])],
      errors: { kind: "random", by },
    }).terms;
    // Two sessions cannot tell how sessions differ by themselves; what changes within them is told all the same:
    // slopes 1 and 1.5 of three shots each, mean 1.25, residuals ±1/12, ∓1/6 a session, 2·(1/6 + …) on 3 worked by
    // hand.
    expect(humidity).toMatchObject({ standardError: null, df: null, low: null, high: null, p: null });
    expect(humidity.estimate).toBeCloseTo(1 / 3, 12);
    expect(speed.estimate).toBeCloseTo(1.25, 12);
    expect(speed.df).toBe(3);
    expect(() =>
      regress({ response: [1, 2, 3], drivers: [], errors: { kind: "random", by: grouping([0, 0, 0]) } }),
    ).toThrow(/one group only/);
    for (const unit of [1, 1e-3, 1e3])
      expect(() =>
        regress({
          response: [1, 1, 2, 2, 5, 5].map((value) => value * unit),
          drivers: [],
          errors: { kind: "random", by: grouping([0, 0, 1, 1, 2, 2]) },
        }),
      ).toThrow(/do not scatter at all/);
    expect(() =>
      regress({ response: [1, 2, 4, 3], drivers: [], errors: { kind: "random", by: grouping([0, 1, 2, 3]) } }),
    ).toThrow(/4 rows in 4 groups of Session: too few rows share a group/);
    expect(() =>
      regress({ response: [1, 2, 3], drivers: [], errors: { kind: "cluster", by: grouping([0, 1]) } }),
    ).toThrow(/2 rows where the response has 3/);
  });
});

describe("standard errors that the rows cannot give", () => {
  it("are null, and the reason is told", () => {
    const clustered = regress({
      response: [1, 2, 3, 4, 5, 7],
      drivers: [number("humidity", [40, 40, 40, 50, 50, 50])],
      errors: { kind: "cluster", by: grouping([0, 0, 0, 1, 1, 1]) },
    });
    expect(clustered.terms[1]).toMatchObject({ standardError: null, p: null });
    expect(clustered.terms[1].estimate).toBeCloseTo(1 / 3, 12);
    expect(clustered.unestimated.map(({ reason }) => reason)).toContain(
      "the standard error of humidity, because too few groups of Session determine it",
    );
    const robust = regress({
      response: [1, 2, 3, 4],
      drivers: [number("x", [0, 0, 0, 1])],
      errors: { kind: "robust" },
    });
    expect(robust.terms[1]).toMatchObject({ standardError: null });
    expect(robust.terms[0].standardError).toBeGreaterThan(0);
  });
});

describe("whether groups differ", () => {
  it("is the F test of the groups as further categories", () => {
    const { x, z, y } = example();
    const plain = regress({ response: y, drivers: [number("x", x), number("z", z)] });
    const wide = regress({
      response: y,
      drivers: [
        number("x", x),
        number("z", z),
        { kind: "category", name: "s", values: groups, levels: grouping(groups).levels },
      ],
    });
    const found = groupsDiffer(
      { directions: plain.fit.directions(), residuals: plain.fit.residuals, df: plain.residual.df },
      grouping(groups),
    );
    expect([found.df1, found.df2]).toEqual([plain.residual.df - wide.residual.df, wide.residual.df]);
    expect(found.value).toBeCloseTo(
      (plain.fit.residualSquares / wide.fit.residualSquares - 1) * (wide.residual.df / found.df1),
      9,
    );
  });
});

describe("coverage of 95 % intervals, by simulation", () => {
  // 1000 seeded samples: a true 95 % shows as 95 ± 2.1 % (three standard deviations of the count).
  const runs = 1000;
  const rate = (hit: (normal: () => number) => boolean) => {
    const normal = randomNormals(2024);
    let hits = 0;
    for (let i = 0; i < runs; i++) if (hit(normal)) hits++;
    return hits / runs;
  };
  const holds = (low: number | null | undefined, high: number | null | undefined, value = 0) =>
    low !== null && low !== undefined && low <= value && value <= (high ?? -Infinity);
  const by = Array.from({ length: 40 }, (_, i) => i % 10);
  const humidity = by.map((g) => 30 + 3 * g);
  const sample = (normal: () => number) => {
    const shift = Array.from({ length: 10 }, () => 2 * normal());
    return by.map((g) => shift[g] + normal());
  };

  it("humidity that never changes within a session: the random shift holds, the plain fit does not", () => {
    const covered = (errors?: ErrorModel) =>
      rate((normal) => {
        const { low, high } = regress({
          response: sample(normal),
          drivers: [number("humidity", humidity)],
          ...(errors && { errors }),
        }).terms[1];
        return holds(low, high);
      });
    expect(Math.abs(covered({ kind: "random", by: grouping(by) }) - 0.95)).toBeLessThan(0.021);
    // Ten groups are few for CR2; with its own degrees of freedom it still holds.
    expect(Math.abs(covered({ kind: "cluster", by: grouping(by) }) - 0.95)).toBeLessThan(0.021);
    expect(covered()).toBeLessThan(0.8);
  });

  it("all pairs of four cloths at once", () => {
    const cloth = Array.from({ length: 24 }, (_, i) => i % 4);
    const wide = studentisedRangeQuantile(0.95, 4, 20) / Math.SQRT2;
    const covered = rate((normal) => {
      const fit = regress({
        response: cloth.map(() => normal()),
        drivers: [{ kind: "category", name: "cloth", values: cloth, levels: ["a", "b", "c", "d"] }],
      });
      return [
        [0, 1],
        [0, 2],
        [0, 3],
        [1, 2],
        [1, 3],
        [2, 3],
      ].every(([a, b]) => {
        const { value, standardError } = fit.difference([a], [b]) ?? { value: NaN, standardError: NaN };
        return Math.abs(value) <= wide * (standardError ?? NaN);
      });
    });
    expect(Math.abs(covered - 0.95)).toBeLessThan(0.021);
  });
});

describe("compare", () => {
  const regression = regress({
    response: [1, 2, 3, 11, 12, 13, 1.5, 2.5, 3.5],
    drivers: [{ kind: "category", name: "cloth", values: [0, 0, 0, 1, 1, 1, 2, 2, 2], levels: ["a", "b", "c"] }],
  });
  it("gives the first less the second, and calls levels alike only within the margin", () => {
    const { pairs } = compare(regression, 0, 4);
    expect(pairs.map(({ a, b }) => a + b)).toEqual(["ab", "ac", "bc"]);
    [-10, -0.5, 9.5].forEach((difference, i) => expect(pairs[i].difference).toBeCloseTo(difference, 12));
    expect(pairs.map(({ equivalent }) => equivalent)).toEqual([false, true, false]);
    expect(compare(regression, 0).pairs[1].equivalent).toBeNull();
    expect(compare(regression, 0, 0.6).pairs[1].equivalent).toBe(false);
    expect(() => compare(regression, 0, -1)).toThrow(/margin is -1/);
  });
});

describe("power", () => {
  it("is the level where there is no difference, rises with shots, and shots answer power", () => {
    expect(power({ difference: 0, spread: 1, level: 0.01 }, 9)).toBeCloseTo(0.01, 12);
    const plan = { difference: 0.3, spread: 0.5 };
    const needed = shotsNeeded(plan, 0.9);
    expect(power(plan, needed)).toBeGreaterThanOrEqual(0.9);
    expect(power(plan, needed - 1)).toBeLessThan(0.9);
    expect(shotsNeeded({ difference: -0.3, spread: 0.5 }, 0.9)).toBe(needed);
  });
  it.each([
    [() => power({ difference: 1, spread: 0 }, 5), /spread is 0/],
    [() => power({ difference: 1, spread: 1 }, 1), /shots is 1/],
    [() => shotsNeeded({ difference: 0, spread: 1 }, 0.8), /difference is 0/],
    [() => shotsNeeded({ difference: 1, spread: 1 }, 1), /power is 1/],
    [() => shotsNeeded({ difference: 1e-6, spread: 1 }, 0.8), /more than 1000000000 shots/],
  ])("refuses %s", (call, message) => expect(call).toThrow(message));
});

describe("logistic", () => {
  const x = [1, 2, 3, 4, 5, 6, 7, 8];
  it("finds quasi-separation, one far row aside", () => {
    expect(
      logistic({ made: [0, 0, 0, 1, 0, 1, 1, 1], drivers: [number("x", [1, 2, 3, 4, 4, 6, 7, 8000])] }).method,
    ).toBe("penalised likelihood");
    expect(logistic({ made: [0, 0, 0, 1, 0, 1, 1, 1], drivers: [number("x", [1, 2, 3, 4, 5, 6, 7, 80])] }).method).toBe(
      "maximum likelihood",
    );
  });
  it("does not mind units or which end is called made", () => {
    const made = [0, 0, 1, 0, 1, 1, 0, 1];
    const one = logistic({ made, drivers: [number("x", x)] });
    const other = logistic({
      made: made.map((v) => 1 - v),
      drivers: [
        number(
          "x",
          x.map((v) => 1e6 + v / 1000),
        ),
      ],
    });
    expect((other.terms[1].estimate ?? NaN) / -1000).toBeCloseTo(one.terms[1].estimate ?? NaN, 7);
    expect(other.terms[1].p).toBeCloseTo(one.terms[1].p ?? NaN, 7);
    expect(one.chance([3])?.chance).toBeCloseTo(1 - (other.chance([1e6 + 0.003])?.chance ?? NaN), 7);
  });
  it("names what cannot be separated, and refuses what is neither made nor missed", () => {
    expect(
      logistic({
        made: [0, 1, 1, 0, 1, 0, 0, 1],
        drivers: [
          number("x", x),
          number(
            "z",
            x.map((v) => 2 * v),
          ),
        ],
      }).unestimated.map(({ reason }) => reason)[0],
    ).toMatch(/always changes together with/);
    expect(() => logistic({ made: [0, 2], drivers: [] })).toThrow(/made is 2 in row 2/);
  });
});
