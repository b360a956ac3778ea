/** Checks that take sessions out of a fit, against the same fit with a column for each session. */
import { describe, expect, it } from "vitest";
import { lackOfFit } from "../../../src/statistics/checks/lackOfFit";
import { neighbours } from "../../../src/statistics/checks/neighbours";
import { plainFit, withinGroups } from "../../../src/statistics/checks/withinGroups";
import { regress } from "../../../src/statistics/fit/regression";
import { randomOf } from "../../../src/statistics/numeric/drawer";

/** Sessions of unequal length at a few speeds, some of which only one session has. */
function rows(seed: number) {
  const random = randomOf(seed);
  const sessions = Array.from({ length: 5 }, () => 4 + Math.floor(6 * random.uniform()));
  const groups = sessions.flatMap((shots, s) => new Array<number>(shots).fill(s));
  const speed = groups.map((s) => 5 + Math.floor(3 * random.uniform()) + (s === 4 ? 10 : 0));
  const response = groups.map((s, row) => s + (speed[row] ?? 0) ** 2 / 10 + random.normal());
  const by = { name: "session", groups, levels: ["1", "2", "3", "4", "5"] };
  const driver = { kind: "number" as const, name: "speed", values: speed, degree: 1 };
  const category = { kind: "category" as const, name: "session", values: groups, levels: by.levels };
  return { by, driver, category, response, order: groups.map(() => random.uniform()) };
}

describe.each([1, 2, 3])("rows of seed %i", (seed) => {
  const { by, driver, category, response, order } = rows(seed);
  const plain = regress({ response, drivers: [driver] });
  const columns = regress({ response, drivers: [driver, category] });
  const within = withinGroups(plain, by);

  it("leave the same residuals on the same degrees of freedom", () => {
    expect(within.df).toBe(columns.residual.df);
    within.residuals.forEach((one, row) => expect(one).toBeCloseTo(columns.fit.residuals[row]!, 10));
  });

  it("leave the same lack of fit as settings and sessions in one fit", () => {
    const settings = [...new Set(driver.values)];
    const full = regress({
      response,
      drivers: [
        category,
        {
          kind: "category",
          name: "setting",
          values: driver.values.map((value) => settings.indexOf(value)),
          levels: settings.map(String),
        },
      ],
    });
    const found = lackOfFit(plain, within)!;
    const df1 = columns.residual.df - full.residual.df;
    expect([found.df1, found.df2]).toEqual([df1, full.residual.df]);
    const left = full.fit.residualSquares;
    expect(found.value).toBeCloseTo((columns.fit.residualSquares - left) / df1 / (left / full.residual.df), 8);
  });

  it("have the same moments of neighbours", () => {
    // With a column for each session, shots of two sessions are kept apart by an order that nothing lies between.
    const apart = order.map((place, row) => place + 10 * by.groups[row]!);
    const withColumns = { ...plainFit(columns), by };
    const found = neighbours(within, apart)!;
    const { directions } = withColumns;
    const dense = moments(directions, apart, by.groups, withColumns.df);
    expect(found.expected).toBeCloseTo(dense.expected, 10);
    expect(found.standardError).toBeCloseTo(dense.standardError, 10);
  });
});

/** Mean and standard deviation of Σ of neighbours' products over Σ of squares, from the whole matrices. */
function moments(directions: readonly Float64Array[], order: number[], groups: number[], df: number) {
  const rows = order.length;
  const sorted = order.map((_, row) => row).sort((a, b) => order[a]! - order[b]!);
  const beside = order.map(() => new Array<number>(rows).fill(0));
  sorted.slice(1).forEach((row, place) => {
    const before = sorted[place]!;
    if (groups[row] === groups[before]) beside[row]![before] = beside[before]![row] = 0.5;
  });
  const left = order.map((_, a) =>
    order.map((__, b) => (a === b ? 1 : 0) - directions.reduce((sum, one) => sum + one[a]! * one[b]!, 0)),
  );
  const product = left.map((row) => order.map((_, b) => row.reduce((sum, one, k) => sum + one * beside[k]![b]!, 0)));
  const first = product.reduce((sum, row, a) => sum + row[a]!, 0);
  const second = product.reduce(
    (sum, row, a) => sum + row.reduce((part, one, b) => part + one * product[b]![a]!, 0),
    0,
  );
  return { expected: first / df, standardError: Math.sqrt((2 * (second - first ** 2 / df)) / (df * (df + 2))) };
}
