/** Weighted fits: what a weight means, and what it must not change. */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../scripts/samples/random";
import type { Driver } from "../../../src/statistics/fit/designMatrix";
import type { ErrorModel } from "../../../src/statistics/errors/errorModel";
import { regress, type RegressionProblem } from "../../../src/statistics/fit/regression";
import { leaveOneOut } from "../../../src/statistics/checks/residualChecks";
import { permutation } from "../../../src/statistics/checks/resampling";
import { digits } from "../../outside/r";

const random = seededRandom(4);
const rows = 40;
const x = Float64Array.from({ length: rows }, () => 5 + random.normal());
const z = Float64Array.from({ length: rows }, () => random.normal());
const weights = Float64Array.from({ length: rows }, () => 0.2 + 3 * random.uniform());
const response = x.map((value, i) => 1 + 0.5 * value - z[i] + random.normal() / Math.sqrt(weights[i]));
const number = (name: string, values: ArrayLike<number>): Driver => ({ kind: "number", name, values, degree: 1 });
const question: RegressionProblem = { response, drivers: [number("x", x), number("z", z)] };
const groups = Array.from({ length: rows }, (_, i) => i % 7);
const by = { name: "session", groups, levels: ["a", "b", "c", "d", "e", "f", "g"] };

/** The same fit by hand: every row, the constant included, times the root of its weight. */
function byHand(errors?: ErrorModel) {
  const times = (values: ArrayLike<number>) => Float64Array.from(values, (value, i) => value * Math.sqrt(weights[i]));
  return regress({
    response: times(response),
    drivers: [number("one", times(new Float64Array(rows).fill(1))), number("x", times(x)), number("z", times(z))],
    constant: false,
    ...(errors && { errors }),
  });
}

describe("weights", () => {
  it.each<[string, ErrorModel | undefined]>([
    ["rows apart", undefined],
    ["unequal spread", { kind: "robust" }],
    ["rows of a session together", { kind: "cluster", by }],
  ])("are rows times the roots of the weights: %s", (_, errors) => {
    const fit = regress({ ...question, weights, ...(errors && { errors }) });
    byHand(errors).terms.forEach(({ estimate, standardError, df }, j) => {
      // By hand the products are rounded to doubles, which costs a digit or two.
      expect(digits(fit.terms[j].estimate!, estimate!)).toBeGreaterThan(13);
      expect(digits(fit.terms[j].standardError!, standardError!)).toBeGreaterThan(12);
      expect(digits(fit.terms[j].df!, df!)).toBeGreaterThan(11);
    });
  });

  it("count for nothing when all are alike", () => {
    const plain = regress(question);
    const alike = regress({ ...question, weights: new Float64Array(rows).fill(0.3) });
    plain.terms.forEach(({ estimate, standardError }, j) => {
      expect(digits(alike.terms[j].estimate!, estimate!)).toBeGreaterThan(14);
      expect(digits(alike.terms[j].standardError!, standardError!)).toBeGreaterThan(14);
    });
    expect(digits(alike.residual.sd! ** 2, 0.3 * plain.residual.sd! ** 2)).toBeGreaterThan(14);
    expect(digits(alike.rSquared!, plain.rSquared!)).toBeGreaterThan(13);
    alike.residuals.forEach((value, i) => expect(Math.abs(value - plain.residuals[i])).toBeLessThan(1e-14));
  });

  it("make the mean of several shots count like the shots", () => {
    const counts = [1, 2, 3, 4, 2, 5];
    const setting = [1, 2, 4, 5, 7, 9];
    const shots = counts.map((count, i) => Array.from({ length: count }, () => setting[i] + random.normal()));
    const single = regress({
      response: shots.flat(),
      drivers: [
        number(
          "x",
          counts.flatMap((count, i) => new Array<number>(count).fill(setting[i])),
        ),
      ],
    });
    const means = regress({
      response: shots.map((ys) => ys.reduce((a, b) => a + b, 0) / ys.length),
      drivers: [number("x", setting)],
      weights: counts,
    });
    single.terms.forEach(({ estimate }, j) => expect(digits(means.terms[j].estimate!, estimate!)).toBeGreaterThan(13));
    // Standard errors differ in the spread that each judges by, and in nothing else.
    single.terms.forEach(({ standardError }, j) =>
      expect(
        digits(means.terms[j].standardError! / means.residual.sd!, standardError! / single.residual.sd!),
      ).toBeGreaterThan(13),
    );
  });

  it("weigh errors of prediction as fitting anew without the row does", () => {
    const fit = regress({ ...question, weights });
    const without = (values: ArrayLike<number>, row: number) => Array.from(values).filter((_, i) => i !== row);
    let squares = 0;
    let plain = 0;
    for (let row = 0; row < rows; row++) {
      const w = without(weights, row);
      const y = without(response, row);
      const anew = regress({
        response: y,
        drivers: [number("x", without(x, row)), number("z", without(z, row))],
        weights: w,
      });
      squares += weights[row] * (response[row] - anew.estimate([x[row], z[row]])!.value) ** 2;
      const mean = y.reduce((total, value, i) => total + value * w[i], 0) / w.reduce((a, b) => a + b, 0);
      plain += weights[row] * (response[row] - mean) ** 2;
    }
    const found = leaveOneOut(fit)!;
    expect(digits(found.error, Math.sqrt(squares / rows))).toBeGreaterThan(11);
    expect(digits(found.share!, 1 - squares / plain)).toBeGreaterThan(11);
  });

  it("go into the permutation test: its value is the weighted F", () => {
    const fit = regress({ ...question, weights });
    const task = permutation(fit, ({ label }) => label === "z", { draws: 1, seed: 1 });
    task.advance(1);
    expect(digits(task.result().value, fit.test(({ label }) => label === "z").value!)).toBeGreaterThan(10);
  });

  it.each([
    [0, "weight is 0 in row 3"],
    [-1, "weight is -1 in row 3"],
    [NaN, "weight is NaN in row 3"],
  ])("of %d are refused", (bad, message) => {
    const some = weights.slice();
    some[2] = bad;
    expect(() => regress({ ...question, weights: some })).toThrow(message);
  });

  it("of another number of rows, or beside a random shift, are refused", () => {
    expect(() => regress({ ...question, weights: [1, 2] })).toThrow("weight has 2 rows where the response has 40");
    expect(() => regress({ ...question, weights, errors: { kind: "random", by } })).toThrow(
      "weights and a random shift of each session cannot be asked together",
    );
  });
});
