/**
 * Robust, cluster-robust and random-intercept fits, comparisons, tests of terms and of spread against R packages made
 * for them; values stored by `npm run reference`.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { compare, compareSlopes } from "../../src/statistics/compare/comparison";
import type { ErrorModel } from "../../src/statistics/errors/errorModel";
import { regress } from "../../src/statistics/fit/regression";
import { spreadByLevel } from "../../src/statistics/checks/residualChecks";
import { termTests } from "../../src/statistics/fit/wholeTerms";
import { thirds } from "../../src/statistics/checks/thirds";
import { digits } from "./r";

const folder = join(import.meta.dirname, "reference");
const reference = JSON.parse(readFileSync(join(folder, "statistics.json"), "utf8"));
/** Of intervals that hold for few sessions, see scripts/reference/sessions.R. */
const few = JSON.parse(readFileSync(join(folder, "sessionErrors.json"), "utf8"));
const shots = readFileSync(join(folder, "sessions.csv"), "utf8")
  .trim()
  .split("\n")
  .slice(1)
  .map((line) => line.split(","));
const numbers = (column: number) => shots.map((row) => Number(row[column]));
function levels(column: number): { values: number[]; levels: string[] } {
  const found = [...new Set(shots.map((row) => row[column]))];
  return { values: shots.map((row) => found.indexOf(row[column])), levels: found };
}
const session = levels(0);
const by = { name: "Session", groups: session.values, levels: session.levels };
const humidity = { kind: "number", name: "Humidity", values: numbers(1), degree: 1 } as const;
const speed = { kind: "number", name: "Speed", values: numbers(2), degree: 1 } as const;
const cloth = { kind: "category", name: "Cloth", ...levels(3) } as const;
const fit = (errors?: ErrorModel) =>
  regress({ response: numbers(4), drivers: [humidity, speed, cloth], ...(errors && { errors }) });

function agree(found: readonly (number | null | undefined)[], expected: readonly number[], least: number): void {
  expect(found).toHaveLength(expected.length);
  found.forEach((value, i) => expect(digits(value ?? NaN, expected[i])).toBeGreaterThan(least));
}
const errorsOf = (terms: ReturnType<typeof fit>["terms"]) => terms.map(({ standardError }) => standardError);

describe("standard errors", () => {
  // Closed forms on both sides, in doubles: 11 digits leave room for the order of summation.
  it("unequal scatter: sandwich's vcovHC, HC3", () =>
    agree(errorsOf(fit({ kind: "robust" }).terms), reference.robust.standardError, 11));

  it("rows that go together: clubSandwich's CR2, its degrees of freedom and its test of several coefficients", () => {
    const found = fit({ kind: "cluster", by });
    agree(errorsOf(found.terms), reference.cluster.standardError, 11);
    agree(
      found.terms.map(({ df }) => df),
      reference.cluster.df,
      10,
    );
    agree(
      found.terms.map(({ p }) => p),
      reference.cluster.p,
      10,
    );
    const together = termTests(found)[2].test;
    agree(
      [together.value, together.df2, found.F.value, found.F.df2],
      [
        reference.cluster.cloth.value,
        reference.cluster.cloth.df2,
        reference.cluster.every.value,
        reference.cluster.every.df2,
      ],
      10,
    );
  });

  // lme4 climbs by numbers to about 1e-8 of the top, and lmerTest differentiates numerically.
  it("a random shift per session: lme4's estimates and spreads", () => {
    const found = fit({ kind: "random", by });
    agree(
      found.terms.map(({ estimate }) => estimate),
      reference.random.estimate,
      8,
    );
    agree([found.spread?.between, found.spread?.within], [reference.random.between, reference.random.within], 7);
  });

  // Standard errors and degrees of freedom were lmerTest's until they were found to cover too seldom with few sessions.
  it("a random shift per session: pbkrtest's Kenward and Roger, and the sessions' own means", () => {
    const { terms } = fit({ kind: "random", by });
    agree(errorsOf(terms), few.full.standardError, 7);
    agree(
      terms.map(({ df }) => df),
      few.full.df,
      7,
    );
  });
});

describe("all pairs", () => {
  it("means adjusted to equal weight over the sessions: emmeans", () => {
    const { means, pairs } = compare(
      regress({
        response: numbers(4),
        drivers: [cloth, speed, { kind: "category", name: "Session", values: by.groups, levels: by.levels }],
      }),
      0,
    );
    agree(
      means.map(({ estimate }) => estimate?.value),
      reference.compare.mean,
      11,
    );
    agree(
      means.map(({ estimate }) => estimate?.standardError),
      reference.compare.meanError,
      11,
    );
    // R's qtukey stops at about 1e-8 in the quantile, ptukey at about 1e-11 in the probability.
    agree(
      pairs.map(({ low }) => low),
      reference.compare.low,
      6,
    );
    agree(
      pairs.map(({ high }) => high),
      reference.compare.high,
      6,
    );
    agree(
      pairs.map(({ p }) => p),
      reference.compare.p,
      9,
    );
  });

  it("with sessions as random: pbkrtest, and the sessions' own means", () => {
    const { means, pairs } = compare(
      regress({ response: numbers(4), drivers: [cloth, speed], errors: { kind: "random", by } }),
      0,
    );
    agree(
      means.map(({ estimate }) => estimate?.value),
      reference.compareRandom.mean,
      8,
    );
    agree(
      means.map(({ estimate }) => estimate?.standardError),
      few.means.standardError,
      7,
    );
    agree(
      means.map(({ estimate }) => estimate?.df),
      few.means.df,
      7,
    );
    agree(
      pairs.map(({ difference }) => difference),
      reference.compareRandom.difference,
      6,
    );
    agree(
      pairs.map(({ df }) => df),
      few.pairs.df,
      7,
    );
    agree(
      pairs.map(({ low }) => low),
      few.pairs.low,
      6,
    );
    agree(
      pairs.map(({ p }) => p),
      few.pairs.p,
      6,
    );
  });
});

describe("effects of a number by level", () => {
  it("slopes and their differences, all pairs at once: emmeans", () => {
    const { slopes, pairs } = compareSlopes(
      regress({ response: numbers(4), drivers: [cloth, speed, humidity], joint: [[0, 1]] }),
      0,
      1,
    );
    agree(
      slopes.map(({ estimate }) => estimate?.value),
      reference.slopes.slope,
      10,
    );
    agree(
      slopes.map(({ estimate }) => estimate?.standardError),
      reference.slopes.standardError,
      10,
    );
    agree(
      pairs.map(({ difference }) => difference),
      reference.slopes.difference,
      10,
    );
    // R's qtukey stops at about 1e-8 in the quantile, ptukey at about 1e-11 in the probability.
    agree(
      pairs.map(({ low }) => low),
      reference.slopes.low,
      6,
    );
    agree(
      pairs.map(({ high }) => high),
      reference.slopes.high,
      6,
    );
    agree(
      pairs.map(({ p }) => p),
      reference.slopes.p,
      9,
    );
  });
});

// Doubles on both sides: a sum of squares is a difference of two, which costs car a digit or two.
describe("tests of terms", () => {
  const values = (tests: ReturnType<typeof termTests>) => tests.map(({ test }) => test.value);
  const chances = (tests: ReturnType<typeof termTests>) => tests.map(({ test }) => test.p);
  it("each driver given the others: car's Anova, each term after all others that do not hold it", () => {
    const tests = termTests(fit());
    agree(values(tests), reference.terms.given, 10);
    agree(chances(tests), reference.terms.givenP, 10);
  });
  it("with a joint effect: car's Anova with contrasts that sum to nothing, and a driver at all by its linearHypothesis", () => {
    const [, speedAtAll, ofHumidity, together] = termTests(
      regress({ response: numbers(4), drivers: [cloth, speed, humidity], joint: [[0, 1]] }),
    );
    agree(values([ofHumidity, together]), reference.terms.joint, 10);
    agree(chances([ofHumidity, together]), reference.terms.jointP, 10);
    agree(
      [speedAtAll.test.value, speedAtAll.test.p, speedAtAll.test.df1],
      [reference.terms.atAll, reference.terms.atAllP, reference.terms.atAllDf],
      10,
    );
  });
});

describe("consistency", () => {
  const { residuals } = fit().fit;
  it("by levels: car's leveneTest about medians", () => {
    const { test } = spreadByLevel(residuals, { name: "Cloth", groups: cloth.values, levels: cloth.levels });
    agree([test.value, test.p], [reference.consistency.cloth, reference.consistency.clothP], 10);
  });
  it("by thirds of a number, cut in R by counting", () => {
    const parts = thirds(speed.values);
    if ("why" in parts) throw new Error(parts.why);
    const { test, levels: told } = spreadByLevel(residuals, {
      name: "Speed",
      groups: parts.groups,
      levels: parts.ends.map(String),
    });
    expect(told.map(({ rows }) => rows)).toEqual(reference.consistency.rows);
    agree([test.value, test.p], [reference.consistency.speed, reference.consistency.speedP], 10);
  });
});
