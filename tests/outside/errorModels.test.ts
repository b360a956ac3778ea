/** Robust, cluster-robust and random-intercept fits and comparisons against R packages made for them; values stored by `npm run reference`. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { compare } from "../../src/statistics/comparison";
import type { ErrorModel } from "../../src/statistics/errorModel";
import { regress } from "../../src/statistics/regression";
import { termTests } from "../../src/statistics/termTests";
import { digits } from "./r";

const folder = join(import.meta.dirname, "reference");
const reference = JSON.parse(readFileSync(join(folder, "statistics.json"), "utf8"));
const shots = readFileSync(join(folder, "sessions.csv"), "utf8").trim().split("\n").slice(1).map((line) => line.split(","));
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
const fit = (errors?: ErrorModel) => regress({ response: numbers(4), drivers: [humidity, speed, cloth], ...(errors && { errors }) });

function agree(found: readonly (number | null | undefined)[], expected: readonly number[], least: number): void {
  expect(found).toHaveLength(expected.length);
  found.forEach((value, i) => expect(digits(value ?? NaN, expected[i])).toBeGreaterThan(least));
}
const errorsOf = (terms: ReturnType<typeof fit>["terms"]) => terms.map(({ standardError }) => standardError);

describe("standard errors", () => {
  // Closed forms on both sides, in doubles: 11 digits leave room for the order of summation.
  it("unequal scatter: sandwich's vcovHC, HC3", () => agree(errorsOf(fit({ kind: "robust" }).terms), reference.robust.standardError, 11));

  it("rows that go together: clubSandwich's CR2, its degrees of freedom and its test of several coefficients", () => {
    const found = fit({ kind: "cluster", by });
    agree(errorsOf(found.terms), reference.cluster.standardError, 11);
    agree(found.terms.map(({ df }) => df), reference.cluster.df, 10);
    agree(found.terms.map(({ p }) => p), reference.cluster.p, 10);
    const together = termTests(found)[2].test;
    agree([together.value, together.df2, found.F.value, found.F.df2], [reference.cluster.cloth.value, reference.cluster.cloth.df2, reference.cluster.every.value, reference.cluster.every.df2], 10);
  });

  // lme4 climbs by numbers to about 1e-8 of the top, and lmerTest differentiates numerically.
  it("a random shift per session: lme4 and lmerTest", () => {
    const found = fit({ kind: "random", by });
    agree(found.terms.map(({ estimate }) => estimate), reference.random.estimate, 8);
    agree(errorsOf(found.terms), reference.random.standardError, 8);
    agree(found.terms.map(({ df }) => df), reference.random.df, 7);
    agree([found.spread?.between, found.spread?.within], [reference.random.between, reference.random.within], 7);
    const together = termTests(found)[2].test;
    agree([together.value, together.df2], [reference.random.cloth.value, reference.random.cloth.df2], 7);
  });
});

describe("all pairs", () => {
  it("means adjusted to equal weight over the sessions: emmeans", () => {
    const { means, pairs } = compare(regress({ response: numbers(4), drivers: [cloth, speed, { kind: "category", name: "Session", values: by.groups, levels: by.levels }] }), 0);
    agree(means.map(({ estimate }) => estimate?.value), reference.compare.mean, 11);
    agree(means.map(({ estimate }) => estimate?.standardError), reference.compare.meanError, 11);
    // R's qtukey stops at about 1e-8 in the quantile, ptukey at about 1e-11 in the probability.
    agree(pairs.map(({ low }) => low), reference.compare.low, 6);
    agree(pairs.map(({ high }) => high), reference.compare.high, 6);
    agree(pairs.map(({ p }) => p), reference.compare.p, 9);
  });

  it("with sessions as random: emmeans on lmerTest", () => {
    const { means, pairs } = compare(regress({ response: numbers(4), drivers: [cloth, speed], errors: { kind: "random", by } }), 0);
    agree(means.map(({ estimate }) => estimate?.value), reference.compareRandom.mean, 8);
    agree(means.map(({ estimate }) => estimate?.df), reference.compareRandom.df, 7);
    agree(pairs.map(({ difference }) => difference), reference.compareRandom.difference, 6);
    agree(pairs.map(({ df }) => df), reference.compareRandom.pairDf, 7);
    agree(pairs.map(({ low }) => low), reference.compareRandom.low, 6);
    agree(pairs.map(({ p }) => p), reference.compareRandom.p, 6);
  });
});
