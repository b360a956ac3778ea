/**
 * One-way analysis of variance, the measured sets of NIST StRD (https://www.itl.nist.gov/div898/strd/anova/anova.html).
 *
 * Data and certified values of SiRstv and AtmWtAg are quoted from memory; that exact arithmetic on the data gives all
 * 15 digits of the certified values shows that neither is misremembered. What a program can reach from doubles is found
 * by exact arithmetic on those same doubles. The sets of Simon & Lesage stand in leastSquares.test.ts.
 */
import { describe, expect, it } from "vitest";
import { regress } from "../../src/statistics/fit/regression";
import { digits } from "./r";

interface Set {
  readonly groups: readonly (readonly number[])[];
  readonly F: number;
  readonly rSquared: number;
  readonly sd: number;
  /** Digits of the certified values that the doubles hold. */
  readonly held: number;
}

const SETS: Readonly<Record<string, Set>> = {
  SiRstv: {
    groups: [
      [196.3052, 196.124, 196.189, 196.2569, 196.3403],
      [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
      [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
      [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
      [196.2119, 196.1051, 196.185, 196.0052, 196.209],
    ],
    F: 1.18046237440255,
    rSquared: 0.190999039051129,
    sd: 0.104076068334656,
    held: 12,
  },
  AtmWtAg: {
    groups: [
      [
        107.8681568, 107.8681465, 107.8681572, 107.8681785, 107.8681446, 107.8681903, 107.8681526, 107.8681494,
        107.8681616, 107.8681587, 107.8681519, 107.8681486, 107.8681419, 107.8681569, 107.8681508, 107.8681672,
        107.8681385, 107.8681518, 107.8681662, 107.8681424, 107.868136, 107.8681333, 107.868161, 107.8681477,
      ],
      [
        107.8681079, 107.8681344, 107.8681513, 107.8681197, 107.8681604, 107.8681385, 107.8681642, 107.8681365,
        107.8681151, 107.8681082, 107.8681517, 107.8681448, 107.8681198, 107.8681482, 107.8681334, 107.8681609,
        107.8681101, 107.8681512, 107.8681469, 107.868136, 107.8681254, 107.8681261, 107.868145, 107.8681368,
      ],
    ],
    F: 15.946733567793,
    rSquared: 0.257426544538321,
    sd: 0.000015104831444641,
    held: 9,
  },
};

/** F, the share and the standard deviation of the doubles themselves, squares summed in whole numbers. */
function exact(groups: Set["groups"]): [number, number, number] {
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
  it.each(Object.entries(SETS))("%s", (_, { groups, F, rSquared, sd, held }) => {
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

  it("the quoted data give the certified values in decimal arithmetic, to all their digits", () => {
    for (const [name, scale] of [
      ["SiRstv", 1e4],
      ["AtmWtAg", 1e7],
    ] as const) {
      const { groups, F, rSquared } = SETS[name];
      // Whole numbers of the last decimal, divided by 2^52 so that exact multiplies them back.
      const [foundF, foundShare] = exact(
        groups.map((group) => group.map((value) => Math.round(value * scale) / 2 ** 52)),
      );
      expect(digits(foundF, F)).toBeGreaterThan(14);
      expect(digits(foundShare, rSquared)).toBeGreaterThan(14);
    }
  });
});

/**
 * NIST/SEMATECH e-Handbook of Statistical Methods, section 7.4.3, one-way analysis of variance of three levels with
 * five readings each: sums of squares 27.897 and 17.452 on 2 and 12 degrees of freedom, mean squares 13.949 and 1.454,
 * F = 9.59. Data and results quoted from memory; the printed digits agree with the data.
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
  it("F is 9.59 on 2 and 12 degrees of freedom", () => {
    expect([fit.F.df1, fit.F.df2]).toEqual([2, 12]);
    expect(fit.F.value).toBeCloseTo(9.59, 2);
    expect(fit.residual.sd! ** 2).toBeCloseTo(1.454, 3);
    expect(fit.fit.residualSquares).toBeCloseTo(17.452, 3);
  });
});
