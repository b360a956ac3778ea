/**
 * One-way analysis of variance, the measured sets of NIST StRD (https://www.itl.nist.gov/div898/strd/anova/anova.html),
 * from the published files. What a program can reach from doubles is found by exact arithmetic on those same doubles.
 * The sets of Simon & Lesage stand in leastSquares.test.ts.
 */
import { describe, expect, it } from "vitest";
import { regress } from "../../src/statistics/fit/regression";
import { nistFile } from "./nistFile";
import { digits, startR, vector } from "./r";

/** The values of each group, in order. */
type Groups = readonly (readonly number[])[];

function groupsOf(rows: readonly (readonly number[])[]): Groups {
  return [...new Set(rows.map(([group]) => group))].map((group) =>
    rows.filter(([of]) => of === group).map(([, value]) => value!),
  );
}

/** Digits of the certified values that the doubles hold, and the data's last decimal. */
const SETS = { SiRstv: { held: 12, scale: 1e4 }, AtmWtAg: { held: 9, scale: 1e7 } } as const;

/** F, the share and the standard deviation of the doubles themselves, squares summed in whole numbers. */
function exact(groups: Groups): [number, number, number] {
  const whole = groups.map((group) => group.map((value) => BigInt(value * 2 ** 52)));
  const n = BigInt(groups[0].length);
  const all = n * BigInt(groups.length);
  const sum = (list: readonly bigint[]) => list.reduce((total, value) => total + value, 0n);
  const sums = whole.map(sum);
  const total = sum(sums);
  // Both times n · number of groups, to stay whole.
  const between = sum(sums.map((one) => one * one)) * BigInt(groups.length) - total * total;
  const within =
    (n * sum(whole.flat().map((value) => value * value)) - sum(sums.map((one) => one * one))) * BigInt(groups.length);
  const ratio = (a: bigint, b: bigint) => Number((a * 10n ** 40n) / b) / 1e40;
  const [df1, df2] = [BigInt(groups.length - 1), all - BigInt(groups.length)];
  return [
    ratio(between * df2, within * df1),
    ratio(between, between + within),
    Math.sqrt(ratio(within, all * df2 * 2n ** 104n)),
  ];
}

describe("one-way analysis of variance", () => {
  it.each(Object.entries(SETS))("%s", (name, { held }) => {
    const { rows, F, rSquared, sd } = nistFile(name);
    const groups = groupsOf(rows);
    const fit = regress({
      response: groups.flat(),
      drivers: [
        {
          kind: "category",
          name: "group",
          values: groups.flatMap((group, g) => group.map(() => g)),
          levels: groups.map((__, g) => String(g)),
        },
      ],
    });
    const found = [fit.F.value, fit.rSquared, fit.residual.sd].map((value) => value ?? NaN);
    const reached = exact(groups);
    found.forEach((value, i) => {
      expect(digits(value, reached[i])).toBeGreaterThan(13);
      expect(digits(value, [F, rSquared, sd][i])).toBeGreaterThan(held);
    });
  });

  it.each(Object.entries(SETS))(
    "%s in decimal arithmetic: the certified values to all their digits",
    (name, { scale }) => {
      const { rows, F, rSquared } = nistFile(name);
      // Whole numbers of the last decimal, divided by 2^52 so that exact multiplies them back.
      const [foundF, foundShare] = exact(
        groupsOf(rows).map((group) => group.map((value) => Math.round(value * scale) / 2 ** 52)),
      );
      expect(digits(foundF, F)).toBeGreaterThan(14);
      expect(digits(foundShare, rSquared)).toBeGreaterThan(14);
    },
  );
});

/**
 * NIST/SEMATECH e-Handbook of Statistical Methods, section 7.4.3, one-way analysis of variance of three levels with
 * five readings each: sums of squares 27.897 and 17.452 on 2 and 12 degrees of freedom, mean squares 13.949 and 1.454,
 * F = 9.59. Data and results quoted from memory; R computes the printed digits from the data.
 */
describe("NIST handbook, three levels", () => {
  const levels = [
    [6.9, 5.4, 5.8, 4.6, 4.0],
    [8.3, 6.8, 7.8, 9.2, 6.5],
    [8.0, 10.5, 8.1, 6.9, 9.3],
  ];
  const fit = regress({
    response: levels.flat(),
    drivers: [
      {
        kind: "category",
        name: "level",
        values: levels.flatMap((values, level) => values.map(() => level)),
        levels: ["1", "2", "3"],
      },
    ],
  });
  it("R finds the printed values in the data", async () => {
    const R = await startR();
    const found = await R.numbers(`{
      made <- anova(lm(${vector(levels.flat())} ~ gl(3, 5)))
      c(made$"Sum Sq", made$"Mean Sq", made$"F value"[1])
    }`);
    expect(found.map((value, i) => Number(value.toFixed(i < 4 ? 3 : 2)))).toEqual([
      27.897, 17.452, 13.949, 1.454, 9.59,
    ]);
    await R.close();
  });
  it("F is 9.59 on 2 and 12 degrees of freedom", () => {
    expect([fit.F.df1, fit.F.df2]).toEqual([2, 12]);
    expect(fit.F.value).toBeCloseTo(9.59, 2);
    expect(fit.residual.sd! ** 2).toBeCloseTo(1.454, 3);
    expect(fit.fit.residualSquares).toBeCloseTo(17.452, 3);
  });
});
