import { describe, expect, it } from "vitest";
import { regress } from "../../../src/statistics/fit/regression";
import { lackOfFit } from "../../../src/statistics/checks/lackOfFit";
import { leaveOneOut, unequalSpread } from "../../../src/statistics/checks/residualChecks";
import { bootstrap, permutation } from "../../../src/statistics/checks/resampling";

const x = Array.from({ length: 60 }, (_, i) => (i * 7) % 23);
const z = Array.from({ length: 60 }, (_, i) => (i * 5) % 11);
// A fixed scatter without any pattern in x or z.
const y = x.map((v, i) => 2 + 0.3 * v + Math.sin(i * i) * 2);
const number = (name: string, values: number[]) => ({ kind: "number" as const, name, values, degree: 1 });
const fit = regress({ response: y, drivers: [number("x", x), number("z", z)] });
const session = {
  name: "Session",
  groups: x.map((_, i) => i % 12),
  levels: Array.from({ length: 12 }, (_, g) => `s${g}`),
};

describe("bootstrap", () => {
  const run = (seed: number, piece: number) => {
    const task = bootstrap(fit, { draws: 2000, seed });
    while (task.done < task.total) task.advance(piece);
    return task.result();
  };
  it("is the same for the same seed, in pieces or at once, and another for another", () => {
    expect(run(5, 7)).toEqual(run(5, 2000));
    expect(run(6, 2000).terms[1].low).not.toBe(run(5, 2000).terms[1].low);
  });
  it("comes near the interval of the plain fit where that one is right", () => {
    const { terms } = run(1, 2000);
    [1, 2].forEach((i) => {
      expect(terms[i].estimate).toBe(fit.terms[i].estimate);
      // 2000 draws give a standard error to 1.6 %, the end of an interval to some 3 % of it; the rest is the scatter,
      // which is not normal.
      expect(Math.abs((terms[i].standardError ?? NaN) / (fit.terms[i].standardError ?? NaN) - 1)).toBeLessThan(0.15);
      expect(Math.abs((terms[i].low ?? NaN) - (fit.terms[i].low ?? NaN))).toBeLessThan(
        0.5 * (fit.terms[i].standardError ?? NaN),
      );
    });
  });
  it("stops where it is told, and says how far it came", () => {
    const task = bootstrap(fit, { draws: 1e6, seed: 1 });
    task.advance(50);
    expect([task.done, task.total, task.result().draws]).toEqual([50, 1e6, 50]);
    expect(bootstrap(fit, { draws: 10, seed: 1 }).result().terms[1].low).toBeNull();
  });
  it("draws whole groups: with as many copies of each row, the spread is that of the rows", () => {
    const thrice = <T>(list: readonly T[]) => list.flatMap((one) => [one, one, one]);
    const copies = regress({ response: thrice(y), drivers: [number("x", thrice(x))] });
    const single = bootstrap(regress({ response: y, drivers: [number("x", x)] }), { draws: 500, seed: 3 });
    const grouped = bootstrap(copies, {
      draws: 500,
      seed: 3,
      by: { name: "row", groups: thrice(x.map((_, i) => i)), levels: x.map((_, i) => String(i)) },
    });
    single.advance(500);
    grouped.advance(500);
    expect(grouped.result().terms[1].standardError).toBeCloseTo(single.result().terms[1].standardError ?? NaN, 10);
  });
  it("counts draws that cannot determine every coefficient", () => {
    const task = bootstrap(
      regress({
        response: [1, 2, 3, 5],
        drivers: [{ kind: "category", name: "c", values: [0, 0, 0, 1], levels: ["a", "b"] }],
      }),
      { draws: 400, seed: 2 },
    );
    task.advance(400);
    const { draws, failed } = task.result();
    expect(draws + failed).toBe(400);
    // The one row of level b is missed by (3/4)⁴ = 32 % of the draws, and drawn alone by 0.4 %; three standard
    // deviations are 7 %.
    expect(Math.abs(failed / 400 - 0.32)).toBeLessThan(0.07);
  });
});

describe("permutation", () => {
  const p = (name: number, options: Partial<Parameters<typeof permutation>[2]> = {}) => {
    const task = permutation(fit, (column) => column.drivers.includes(name), { draws: 2000, seed: 9, ...options });
    while (task.done < task.total) task.advance(300);
    return task.result();
  };
  it("agrees with the F test, and is never 0", () => {
    expect(p(0)).toMatchObject({ draws: 2000, p: 1 / 2001 });
    expect(p(1).value).toBeCloseTo((fit.terms[2].t ?? NaN) ** 2, 9);
    // 2000 draws give p to 1.1 % at most; three standard deviations.
    expect(Math.abs(p(1).p - (fit.terms[2].p ?? NaN))).toBeLessThan(0.035);
    expect(Math.abs(p(1, { within: session }).p - (fit.terms[2].p ?? NaN))).toBeLessThan(0.1);
    expect(p(1)).toEqual(p(1));
  });
  it("finds the exact share where all orders can be counted", () => {
    // Of the 24 orders of 1, 2, 3, 4 along x two are as straight: p is 2/24.
    const task = permutation(
      regress({ response: [1, 2, 3, 4.0001], drivers: [number("x", [0, 1, 2, 3])] }),
      (column) => column.drivers.length > 0,
      { draws: 20000, seed: 4 },
    );
    task.advance(20000);
    expect(task.result().p).toBeCloseTo(2 / 24, 2);
  });
  it("refuses what exchanging within sessions cannot tell", () => {
    const still = regress({
      response: y,
      drivers: [
        number(
          "humidity",
          session.groups.map((v) => 40 + v),
        ),
      ],
    });
    expect(() =>
      permutation(still, (column) => column.drivers.length > 0, { draws: 10, seed: 1, within: session }),
    ).toThrow(/never changes within Session/);
    expect(() => permutation(fit, () => false, { draws: 10, seed: 1 })).toThrow(/no estimated coefficient/);
  });
});

describe("checks that have nothing to judge", () => {
  it("are undefined", () => {
    const exact = regress({ response: [1, 2, 3], drivers: [number("x", [1, 2, 4]), number("z", [1, 0, 1])] });
    expect(unequalSpread(exact)).toBeUndefined();
    expect(unequalSpread(regress({ response: y, drivers: [] }))).toBeUndefined();
    expect(lackOfFit(regress({ response: [1, 2, 4, 3], drivers: [number("x", [1, 2, 3, 4])] }))).toBeUndefined();
    expect(leaveOneOut(regress({ response: [1, 2, 4, 3], drivers: [number("x", [0, 0, 0, 1])] }))).toBeUndefined();
    // Rows alike there are, but with weights their scatter is not one.
    const alike = { response: [1, 2, 4, 3, 5, 7], drivers: [number("x", [1, 1, 2, 2, 3, 3])] };
    expect(lackOfFit(regress(alike))).toBeDefined();
    expect(lackOfFit(regress({ ...alike, weights: [1, 2, 1, 2, 1, 2] }))).toBeUndefined();
  });
});
