/**
 * Standard errors for rows in groups, where one group alone decides a coefficient: its rows are fitted without an
 * error.
 */
import fc from "fast-check";
import { expect, it } from "vitest";
import { regress, type RegressionProblem } from "../../../src/statistics/fit/regression";

const SESSIONS = [0, 0, 0, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4];

/** Speeds and bends of the sessions; with `lone`, one more session of a single shot on a cloth of its own. */
function question(speeds: readonly number[], bends: readonly number[], lone: boolean): RegressionProblem {
  const rows = lone ? SESSIONS.length + 1 : SESSIONS.length;
  const groups = [...SESSIONS, 5].slice(0, rows);
  const cloth = {
    kind: "category" as const,
    name: "Cloth",
    levels: ["new", "worn"],
    values: groups.map((group) => (group === 5 ? 1 : 0)),
  };
  return {
    response: bends.slice(0, rows),
    drivers: [{ kind: "number", name: "Speed", values: speeds.slice(0, rows), degree: 1 }, ...(lone ? [cloth] : [])],
    errors: {
      kind: "cluster",
      by: { name: "Session", groups, levels: [...new Set(groups)].map((group) => `s${group}`) },
    },
  };
}

it("are those of the other groups, and never without a number", () => {
  const size = SESSIONS.length + 1;
  const numbers = fc.array(fc.integer({ min: 1, max: 1000 }), { minLength: size, maxLength: size });
  fc.assert(
    fc.property(numbers, numbers, (speeds, bends) => {
      fc.pre(new Set(speeds.slice(0, -1)).size > 4);
      const all = regress(question(speeds, bends, true)).terms[1];
      const others = regress(question(speeds, bends, false)).terms[1];
      // The same numbers but for rounding: sums of 14 products of doubles, taken apart in another order.
      for (const key of ["estimate", "standardError", "df"] as const) {
        const [one, other] = [all[key] ?? NaN, others[key] ?? NaN];
        expect(Math.abs(one - other)).toBeLessThanOrEqual(1e-7 * (Math.abs(other) + 1e-3));
      }
    }),
    { seed: 11, numRuns: 200 },
  );
});
