import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { adjustedMeans } from "../../../src/statistics/fit/adjustedMeans";
import { effectLine } from "../../../src/statistics/fit/effectLine";
import { influence } from "../../../src/statistics/checks/influence";
import { regress, type RegressionProblem } from "../../../src/statistics/fit/regression";
import { curveTest, termTests } from "../../../src/statistics/fit/wholeTerms";

const number = (name: string, values: number[], degree = 1) => ({ kind: "number" as const, name, values, degree });
const category = (name: string, values: number[], levels: string[]) => ({
  kind: "category" as const,
  name,
  values,
  levels,
});

/** Rows with two numbers and a category that vary freely; enough of them to determine every coefficient. */
const rows = fc
  .array(
    fc.record({
      a: fc.integer({ min: -50, max: 50 }),
      b: fc.integer({ min: -50, max: 50 }),
      c: fc.integer({ min: 0, max: 2 }),
      noise: fc.integer({ min: -20, max: 20 }),
    }),
    { minLength: 12, maxLength: 40 },
  )
  .filter(
    (list) =>
      new Set(list.map((row) => row.a)).size > 4 &&
      new Set(list.map((row) => row.b)).size > 4 &&
      new Set(list.map((row) => row.c)).size === 3,
  )
  .map((list) => ({
    a: list.map((row) => row.a),
    b: list.map((row) => row.b),
    c: list.map((row) => row.c),
    y: list.map((row) => 3 + 0.5 * row.a - 2 * row.b + 7 * row.c + row.noise),
  }));

const ask = ({ a, b, c, y }: { a: number[]; b: number[]; c: number[]; y: number[] }): RegressionProblem => ({
  response: y,
  drivers: [number("a", a), number("b", b), category("c", c, ["x", "y", "z"])],
});
const estimates = (question: RegressionProblem) => regress(question).terms.map(({ estimate }) => estimate);
const close = (found: number | null, expected: number | null, size = 1) => {
  if (found === null || expected === null) return expect(found).toBe(expected);
  // Doubles at the ends, 32 digits between: 1e-9 of the numbers' own size is rounding of the inputs made visible.
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(1e-9 * Math.max(size, Math.abs(expected)));
};

describe("regress", () => {
  it("finds the coefficients of noiseless rows", () => {
    fc.assert(
      fc.property(rows, ({ a, b, c }) => {
        const y = a.map((v, i) => 3 + 0.5 * v - 2 * b[i] + [0, 4, -1][c[i]]);
        const { terms, unestimated } = regress(ask({ a, b, c, y }));
        if (unestimated.length === 0) terms.forEach(({ estimate }, i) => close(estimate, [3, 0.5, -2, 4, -1][i]));
      }),
    );
  });

  it("does not mind the order of rows", () => {
    fc.assert(
      fc.property(rows, (data) =>
        estimates(
          ask({
            a: [...data.a].reverse(),
            b: [...data.b].reverse(),
            c: [...data.c].reverse(),
            y: [...data.y].reverse(),
          }),
        ).forEach((value, i) => close(value, estimates(ask(data))[i])),
      ),
    );
  });

  it("scales with the units, and a shift moves the constant alone", () => {
    fc.assert(
      fc.property(rows, (data) => {
        const before = regress(ask(data));
        const after = regress(ask({ ...data, a: data.a.map((v) => 25.4 * v + 100) }));
        close(after.terms[1].estimate, before.terms[1].estimate === null ? null : before.terms[1].estimate / 25.4);
        close(after.terms[2].estimate, before.terms[2].estimate);
        close(after.terms[1].t, before.terms[1].t);
        close(after.residual.sd, before.residual.sd);
        close(after.F.value, before.F.value);
      }),
    );
  });

  it("leaves residuals square to every column", () => {
    fc.assert(
      fc.property(rows, (data) => {
        const { residuals } = regress(ask(data));
        for (const column of [data.a, data.b, data.a.map(() => 1)])
          expect(Math.abs(column.reduce((total, v, i) => total + v * residuals[i], 0))).toBeLessThan(1e-8);
      }),
    );
  });

  it("one driver's F is its t squared, and testing all drivers is the overall F", () => {
    fc.assert(
      fc.property(rows, (data) => {
        const fit = regress(ask(data));
        const [a] = termTests(fit);
        if (fit.terms[1].t !== null) close(a.test.value, fit.terms[1].t! ** 2);
        const alone = regress({ response: data.y, drivers: [number("a", data.a)] });
        close(alone.F.value, termTests(alone)[0].test.value);
      }),
    );
  });

  it("dropping a driver raises the residual squares by what its test says", () => {
    let compared = 0;
    fc.assert(
      fc.property(rows, (data) => {
        const full = regress(ask(data));
        if (full.unestimated.length > 0) return;
        compared++;
        const without = regress({ response: data.y, drivers: ask(data).drivers.slice(0, 2) });
        const expected = (without.fit.residualSquares - full.fit.residualSquares) / 2 / full.residual.sd! ** 2;
        // The difference of two sums of squares loses the digits that they share.
        expect(Math.abs(termTests(full)[2].test.value! - expected)).toBeLessThan(1e-7 * Math.max(1, expected));
      }),
    );
    expect(compared).toBeGreaterThan(10);
  });
});

describe("what rows cannot say", () => {
  const y = [1, 2, 4, 3, 5, 7];
  const x = [1, 2, 3, 4, 5, 6];

  it("names both of two drivers that always change together and guesses neither", () => {
    const { terms, unestimated, residual, rSquared } = regress({
      response: y,
      drivers: [
        number("speed", x),
        number(
          "draw",
          x.map((v) => 0.1 * v),
        ),
      ],
    });
    expect(terms.map(({ estimate }) => estimate === null)).toEqual([false, true, true]);
    expect(unestimated).toEqual([
      { term: "speed", reason: "speed always changes together with draw: their effects cannot be separated" },
      { term: "draw", reason: "draw always changes together with speed: their effects cannot be separated" },
    ]);
    expect(residual.df).toBe(4);
    expect(rSquared).toBeGreaterThan(0.8);
  });

  it("names a driver that never changes and answers without it", () => {
    const { terms, unestimated } = regress({
      response: y,
      drivers: [
        number(
          "humidity",
          y.map(() => 45),
        ),
        number("speed", x),
      ],
    });
    expect(unestimated).toEqual([{ term: "humidity", reason: "humidity is the same in every row (45)" }]);
    expect(terms[0].estimate).not.toBeNull();
    expect(terms[2].estimate).toBeCloseTo(
      regress({ response: y, drivers: [number("speed", x)] }).terms[1].estimate!,
      12,
    );
  });

  it("names a category with one level", () => {
    expect(
      regress({
        response: y,
        drivers: [
          category(
            "cloth",
            y.map(() => 0),
            ["new"],
          ),
        ],
      }).unestimated[0].reason,
    ).toContain("one level only (new)");
  });

  it("finds a dependence hidden in decimals", () => {
    const a = [0.1, 0.2, 0.3, 0.7, 0.4, 0.9];
    const b = [0.3, 0.1, 0.6, 0.2, 0.5, 0.4];
    const { unestimated } = regress({
      response: y,
      drivers: [
        number("a", a),
        number("b", b),
        number(
          "both",
          a.map((v, i) => v + b[i]),
        ),
      ],
    });
    expect(unestimated.map(({ term }) => term)).toEqual(["a", "b", "both"]);
  });

  it("does not call a hard polynomial dependent", () => {
    const t = Array.from({ length: 30 }, (_, i) => -9 + 0.2 * i);
    const { unestimated } = regress({ response: t.map((v) => Math.sin(v)), drivers: [number("t", t, 10)] });
    expect(unestimated).toEqual([]);
  });

  it("has no interval when there are as many coefficients as rows, and says too few beyond", () => {
    const exact = regress({ response: [1, 2], drivers: [number("x", [1, 2])] });
    expect(exact.terms.map(({ estimate, standardError, low, p }) => [estimate, standardError, low, p])).toEqual([
      [0, null, null, null],
      [1, null, null, null],
    ]);
    const few = regress({ response: [1, 2], drivers: [number("x", [1, 2], 2)] });
    expect(few.unestimated.some(({ reason }) => reason.startsWith("too few rows: 2 rows cannot determine 3"))).toBe(
      true,
    );
  });

  it("answers a response that never varies without inventing a share", () => {
    const { rSquared, F } = regress({ response: x.map(() => 3), drivers: [number("x", x)] });
    expect([rSquared, F.value, F.p]).toEqual([null, null, null]);
  });

  it("refuses values that are not numbers and columns of other lengths", () => {
    expect(() => regress({ response: [1, NaN], drivers: [] })).toThrow("response is NaN in row 2");
    expect(() => regress({ response: [1, 2], drivers: [number("x", [1])] })).toThrow(
      "x has 1 rows where the response has 2",
    );
    expect(() => regress({ response: [], drivers: [] })).toThrow("no rows");
  });
});

describe("around a fit", () => {
  const x = [1, 2, 3, 4, 5, 6, 7, 8];
  const c = [0, 1, 0, 1, 0, 1, 0, 1];
  const y = [1.2, 3.1, 1.9, 4.2, 3.2, 5.1, 3.8, 6.3];
  const fit = regress({ response: y, drivers: [number("x", x), category("c", c, ["new", "worn"])] });

  it("adjusted means differ by the category's coefficient and stand at the mean of the number", () => {
    const [first, second] = adjustedMeans(fit, 1);
    expect(second.estimate!.value - first.estimate!.value).toBeCloseTo(fit.terms[2].estimate!, 12);
    expect(first.estimate!.value).toBeCloseTo(fit.terms[0].estimate! + 4.5 * fit.terms[1].estimate!, 12);
    expect([first.rows, second.rows]).toEqual([4, 4]);
    expect(() => adjustedMeans(fit, 0)).toThrow("x is a number");
  });

  it("the effect line runs over the rows' range and carries the residuals", () => {
    const line = effectLine(fit, 0, 5);
    expect(line.x).toEqual([1, 2.75, 4.5, 6.25, 8]);
    const half = line.estimates[2]!;
    expect(line.points[3].y - fit.residuals[3]).toBeCloseTo(half.value + (4 - 4.5) * fit.terms[1].estimate!, 12);
    expect(half.low!).toBeLessThan(half.value);
  });

  it("leaving a row out really moves it by the residual over one less leverage", () => {
    const row = 7;
    const keep = x.map((_, i) => i).filter((i) => i !== row);
    const without = regress({
      response: keep.map((i) => y[i]),
      drivers: [
        number(
          "x",
          keep.map((i) => x[i]),
        ),
        category(
          "c",
          keep.map((i) => c[i]),
          ["new", "worn"],
        ),
      ],
    });
    const predicted = without.estimate([x[row], c[row]])!.value;
    const { leverage, studentised } = influence(fit)[row];
    expect(y[row] - predicted).toBeCloseTo(fit.residuals[row] / (1 - leverage), 12);
    expect(studentised).toBeCloseTo(fit.residuals[row] / (without.residual.sd! * Math.sqrt(1 - leverage)), 12);
    expect(influence(fit).reduce((total, one) => total + one.leverage, 0)).toBeCloseTo(3, 12);
  });

  it("tests a curve by its higher powers", () => {
    const curved = regress({ response: x.map((v) => v * v + (v % 2 ? 0.1 : -0.1)), drivers: [number("x", x, 2)] });
    expect(curveTest(curved, 0).value).toBeCloseTo(curved.terms[2].t! ** 2, 6);
    expect(curveTest(fit, 0).value).toBeNull();
  });

  it("a joint effect lets slopes differ by level", () => {
    const joint = regress({
      response: x.map((v, i) => (c[i] ? 2 * v : 5 * v + 1)),
      drivers: [number("x", x), category("c", c, ["new", "worn"])],
      joint: [[0, 1]],
    });
    expect(joint.terms.map(({ label }) => label)).toEqual(["constant", "x", "c: worn", "x × c: worn"]);
    [1, 5, -1, -3].forEach((value, i) => expect(joint.terms[i].estimate).toBeCloseTo(value, 12));
  });
});

describe("intervals by simulation", () => {
  it("95 % intervals cover the truth 95 % of the time", () => {
    // Seeded Lehmer generator; 2000 fits give a Monte-Carlo standard error of 0.5 %, and 4 of those are allowed.
    let state = 20261125;
    const uniform = () => (state = (state * 48271) % 2147483647) / 2147483647;
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const x = [1, 2, 3, 4, 5, 6, 7, 8, 9];
    let covered = 0;
    for (let run = 0; run < 2000; run++) {
      const { low, high } = regress({ response: x.map((v) => 1 + 0.3 * v + normal()), drivers: [number("x", x)] })
        .terms[1];
      if (low! <= 0.3 && 0.3 <= high!) covered++;
    }
    expect(Math.abs(covered / 2000 - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / 2000));
  });
});
