/** Non-linear least squares: known minima, bounds, and directions that nothing determines. */
import { describe, expect, it } from "vitest";
import { nonlinearFit } from "../../../src/statistics/fit/nonlinearFit";

const free = (start: number) => ({ start, low: -1e6, high: 1e6, scale: 1 });

describe("nonlinearFit", () => {
  it("finds the bottom of Rosenbrock's valley, known exactly", () => {
    const fit = nonlinearFit(([x, y]) => [10 * (y - x * x), 1 - x], [free(-1.2), free(1)]);
    // The residuals are zero there, so the fit ends by rounding; 1e-6 is the step at which it rests.
    fit.estimates.forEach((value) => expect(value).toBeCloseTo(1, 5));
    expect(fit.converged).toBe(true);
  });

  it("stops at a bound that the rows push against, and fits the rest", () => {
    const fit = nonlinearFit(
      ([a, b]) => [a + 3, b - 2, 0.1 * (a + b)],
      [{ start: 1, low: 0, high: 5, scale: 1 }, free(0)],
    );
    expect(fit.estimates[0]).toBe(0);
    // With a = 0 the least of (b − 2)² + 0.01 b² is at 2 / 1.01.
    expect(fit.estimates[1]).toBeCloseTo(2 / 1.01, 6);
  });

  it("stays at a bound by the rows' sum of pushes, however the single rows push", () => {
    // At a = 0 the first row pushes down by 10 and the second up by 0.1: the least within the bound is there.
    const fit = nonlinearFit(([a]) => [a + 10, a - 0.1], [{ start: 0, low: 0, high: 5, scale: 1 }]);
    expect(fit.estimates).toEqual([0]);
    // And a bound that it began at is left where they push away from it.
    const left = nonlinearFit(([a]) => [a - 10, a + 0.1], [{ start: 0, low: 0, high: 50, scale: 1 }]);
    expect(left.estimates[0]).toBeCloseTo(4.95, 6);
  });

  it("leaves what nothing determines where it began", () => {
    const fit = nonlinearFit(([a, b]) => [a + b - 4, 2 * (a + b) - 8], [free(1), free(0)]);
    expect(fit.estimates[0] + fit.estimates[1]).toBeCloseTo(4, 6);
    expect(fit.estimates[0] - fit.estimates[1]).toBeCloseTo(1, 6);
  });

  it("never ends worse than it began, and is the same in any unit", () => {
    // A valley with a wall: from a start beyond it the first steps go astray.
    const wall = ([a, b]: readonly number[]) => [Math.atan(3 * (a - 1)) + 0.1 * b, b - 0.5 * a * a, 0.01 * (a + b)];
    for (const start of [-4, -1, 0.5, 3, 6]) {
      const squares = (at: readonly number[]) => wall(at).reduce((sum, value) => sum + value * value, 0);
      const fit = nonlinearFit(wall, [{ start, low: -10, high: 10, scale: 1 }, free(0)]);
      expect(fit.squares).toBeLessThanOrEqual(squares([start, 0]));
      const millis = nonlinearFit(
        ([a, b]) => wall([a / 1000, b]).map((value) => 1e4 * value),
        [{ start: 1000 * start, low: -1e4, high: 1e4, scale: 1000 }, free(0)],
      );
      // The steps are the same but for rounding, which twenty rounds carry along.
      expect(millis.estimates[0] / 1000).toBeCloseTo(fit.estimates[0], 5);
    }
  });

  it("refuses a start without an answer", () => {
    expect(() => nonlinearFit(([a]) => [Math.sqrt(a)], [free(-1)])).toThrow("a residual at the start is not finite");
  });
});
