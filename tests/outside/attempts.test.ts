/**
 * Censored fits against survival's survreg and lme4's glmer: stored values, made by scripts/reference/attempts.R with R
 * and packages of the versions that stand in the file.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { censoredFit, type CensoredQuestion, type Known } from "../../src/statistics/censored/censoredFit";
import { logistic } from "../../src/statistics/fit/logistic";
import { digits } from "./r";

interface Reference {
  readonly estimate: number[];
  readonly standardError: number[];
  readonly scatter: number;
  readonly between: number;
  readonly logLikelihood: number;
}

const folder = join(import.meta.dirname, "reference");
const reference = JSON.parse(readFileSync(join(folder, "attempts.json"), "utf8")) as Record<
  "mixed" | "told" | "probit" | "random",
  Reference
>;
const rows = readFileSync(join(folder, "attempts.csv"), "utf8")
  .trim()
  .split("\n")
  .slice(1)
  .map((line) => line.split(","));

const column = (index: number) => rows.map((row) => Number(row[index]));
const required = column(3);
const told: Known[] = rows.map((row) => (row[4] === "cleared" ? "at least" : "less than"));
const drivers: CensoredQuestion["drivers"] = [
  { kind: "number", name: "humidity", values: column(1), degree: 1 },
  { kind: "category", name: "cloth", values: rows.map((row) => (row[2] === "worn" ? 1 : 0)), levels: ["new", "worn"] },
];
const sessions = {
  name: "session",
  groups: column(0).map((one) => one - 1),
  levels: ["1", "2", "3", "4", "5", "6", "7", "8"],
};
const measured = rows.map((row) => row[5] ?? "");

describe('against survival::survreg(Surv(low, high, type = "interval2"), dist = "gaussian")', () => {
  it("agrees where some bends are measured and the others told by the obstacle", () => {
    const fit = censoredFit({
      bounds: required.map((bound, i) => (measured[i] === "" ? bound : Number(measured[i]))),
      known: told.map((known, i) => (measured[i] === "" ? known : "value")),
      drivers,
    });
    expectSame(fit, reference.mixed);
  });

  it("agrees where the obstacle alone tells", () => {
    expectSame(censoredFit({ bounds: required, known: told, drivers }), reference.told);
  });

  // survreg stops at a relative change of 1e-13 of the likelihood, which leaves about half as many digits of the
  // estimates.
  function expectSame(
    fit: ReturnType<typeof censoredFit>,
    { estimate, standardError, scatter, logLikelihood }: Reference,
  ) {
    fit.terms.forEach((term, i) => {
      expect(digits(term.estimate!, estimate[i]!)).toBeGreaterThan(6);
      expect(digits(term.standardError!, standardError[i]!)).toBeGreaterThan(5);
    });
    expect(digits(fit.scatter.estimate!, scatter)).toBeGreaterThan(6);
    expect(digits(fit.logLikelihood, logLikelihood)).toBeGreaterThan(10);
  }
});

describe('against glm and lme4::glmer of binomial("probit"), the required bend a driver with slope −1/scatter', () => {
  it("is the probit where rows stand on their own", () => {
    const fit = censoredFit({ bounds: required, known: told, drivers });
    const [constant, slope, ...others] = reference.probit.estimate;
    const scatter = -1 / slope!;
    expect(digits(fit.scatter.estimate!, scatter)).toBeGreaterThan(8);
    [constant!, ...others].forEach((value, i) =>
      expect(digits(fit.terms[i]!.estimate!, value * scatter)).toBeGreaterThan(8),
    );
    expect(digits(fit.logLikelihood, reference.probit.logLikelihood)).toBeGreaterThan(10);
  });

  it("agrees with 25 nodes over the sessions", () => {
    const fit = censoredFit({ bounds: required, known: told, drivers, sessions });
    const { estimate, scatter, between, logLikelihood } = reference.random;
    // glmer's optimiser works without derivatives; its likelihood is the sharper figure.
    expect(digits(fit.logLikelihood, logLikelihood)).toBeGreaterThan(8);
    expect(fit.logLikelihood).toBeGreaterThanOrEqual(logLikelihood - 1e-9);
    expect(digits(fit.scatter.estimate!, scatter)).toBeGreaterThan(3);
    expect(digits(fit.session!.estimate!, between)).toBeGreaterThan(3);
    fit.terms.forEach((term, i) => expect(digits(term.estimate!, estimate[i]!)).toBeGreaterThan(3));
  });
});

describe("against least squares, where every bend is measured", () => {
  it("gives its intervals", () => {
    const values = [0.61, 0.58, 0.66, 0.63, 0.72, 0.55];
    const fit = censoredFit({ bounds: values, known: values.map(() => "value"), drivers: [] });
    // Student's t on 5 degrees of freedom, 2.570582 (any table).
    const mean = values.reduce((a, b) => a + b) / 6;
    const sd = Math.sqrt(values.reduce((total, value) => total + (value - mean) ** 2, 0) / 5);
    expect(fit.terms[0]!.estimate).toBeCloseTo(mean, 10);
    expect(fit.terms[0]!.low).toBeCloseTo(mean - (2.570582 * sd) / Math.sqrt(6), 6);
    expect(fit.terms[0]!.high).toBeCloseTo(mean + (2.570582 * sd) / Math.sqrt(6), 6);
  });

  it("is symmetric with the chance of the logistic fit in which outcome is which", () => {
    // The direction of the bound turned round turns the estimate round.
    const turned = censoredFit({
      bounds: required.map((bound) => -bound),
      known: told.map((one) => (one === "at least" ? "less than" : "at least")),
      drivers: [],
    });
    const fit = censoredFit({ bounds: required, known: told, drivers: [] });
    expect(turned.terms[0]!.estimate).toBeCloseTo(-fit.terms[0]!.estimate!, 9);
    expect(turned.terms[0]!.low).toBeCloseTo(-fit.terms[0]!.high!, 6);
    // A logistic curve through the same rows has its middle near the bend at one half; the two shapes differ a little.
    const curve = logistic({
      made: told.map((one) => (one === "at least" ? 1 : 0)),
      drivers: [{ kind: "number", name: "required", values: required, degree: 1 }],
    });
    const middle = -curve.terms[0]!.estimate! / curve.terms[1]!.estimate!;
    expect(Math.abs(middle - fit.terms[0]!.estimate!)).toBeLessThan(0.1 * fit.scatter.estimate!);
  });
});
