import { describe, expect, it } from "vitest";
import { COMPARE, POWER, REGRESS, SHOTS } from "../../src/functions/functions";
import { compare } from "../../src/statistics/compare/comparison";
import { power, sessionPower, shotsNeeded } from "../../src/statistics/design/power";
import { regress } from "../../src/statistics/fit/regression";
import { at, failure } from "./calls";

const column = (...cells: unknown[]) => cells.map((cell) => [cell]);
const bend = [0.5, 0.62, 0.48, 0.7, 0.81, 0.69, 0.4, 0.55, 0.47, 0.66];
const speed = [4, 6, 5, 8, 9, 7, 4, 6, 5, 8];
const session = ["a", "a", "a", "b", "b", "b", "c", "c", "c", "c"];
const cloth = ["new", "worn", "new", "worn", "old", "old", "new", "worn", "old", "new"];
const levels = (texts: string[]) => ({
  values: texts.map((text) => [...new Set(texts)].indexOf(text)),
  levels: [...new Set(texts)],
});
const by = { name: "groups", groups: levels(session).values, levels: levels(session).levels };
const number = { kind: "number", name: "speed", values: speed, degree: 1 } as const;

describe("REGRESS with groups or scatter", () => {
  it.each([
    ["cluster", "cluster"],
    [null, "cluster"],
    ["Random", "random"],
  ] as const)("scatter %s is %s, with df as the last column", (said, kind) => {
    const table = REGRESS(column(...bend), column(...speed), at("speed"), at(null), column(...session), at(said));
    const fit = regress({ response: bend, drivers: [number], errors: { kind, by } });
    expect(table[0]).toEqual(["term", "estimate", "standard error", "low", "high", "p", "df"]);
    expect(table[2]).toEqual([
      "speed",
      ...(["estimate", "standardError", "low", "high", "p", "df"] as const).map((key) => fit.terms[1][key]),
    ]);
    if (kind === "random")
      expect(table[3].slice(0, 2)).toEqual(["standard deviation between groups", fit.spread?.between]);
    expect(new Set(table.map((row) => row.length))).toEqual(new Set([7]));
  });
  it("robust needs no groups, and the plain table stays as it was", () => {
    expect(REGRESS(column(...bend), column(...speed), undefined, undefined, undefined, at("robust"))[0]).toHaveLength(
      7,
    );
    expect(REGRESS(column(...bend), column(...speed))[0]).toEqual([
      "term",
      "estimate",
      "standard error",
      "low",
      "high",
      "p",
    ]);
  });
  it("leaves out a row without a group, and counts it", () => {
    const table = REGRESS(column(...bend), column(...speed), undefined, undefined, column(null, ...session.slice(1)));
    expect(table[table.length - 1][0]).toBe("9 of 10 rows used, 1 left out for a blank");
  });
  it.each([
    [
      () => REGRESS(column(...bend), column(...speed), undefined, undefined, column(...session), at("mixed")),
      /scatter is "mixed": give "cluster" or "random" with groups/,
    ],
    [
      () => REGRESS(column(...bend), column(...speed), undefined, undefined, undefined, at("random")),
      /groups is blank where scatter is "random"/,
    ],
    [
      () => REGRESS(column(...bend), column(...speed), undefined, undefined, column(...session), at("robust")),
      /leave groups out/,
    ],
    [
      () => REGRESS(column(...bend), column(...speed), undefined, undefined, column("a", "b")),
      /response has 10 rows and groups has 2/,
    ],
    [
      () => REGRESS(column(...bend), column(...speed), undefined, undefined, column(...bend.map(() => "a"))),
      /groups has one group only \(a\)/,
    ],
  ])("refuses %s", (call, message) => expect(failure(call)).toMatch(message));
});

describe("REGRESS with weights, curves and joint effects", () => {
  const rows = (fit: ReturnType<typeof regress>) =>
    fit.terms.map(({ label, estimate, standardError, low, high, p }) => [label, estimate, standardError, low, high, p]);
  it("weighs rows, and leaves out those without a weight", () => {
    const weights = [1, 2, 4, null, 1, 1, 2, 2, 1, 1];
    const kept = weights.flatMap((weight, i) => (weight === null ? [] : [i]));
    const table = REGRESS(
      column(...bend),
      column(...speed),
      at("speed"),
      undefined,
      undefined,
      undefined,
      column(...weights),
    );
    const fit = regress({
      response: kept.map((i) => bend[i]),
      drivers: [{ ...number, values: kept.map((i) => speed[i]) }],
      weights: kept.map((i) => weights[i] as number),
    });
    expect(table.slice(1, 3)).toEqual(rows(fit));
    expect(table[3][0]).toBe("9 of 10 rows used, 1 left out for a blank");
  });
  it("lets drivers curve and act together, named or counted", () => {
    const drivers = bend.map((_, i) => [speed[i], cloth[i]]);
    const table = REGRESS(column(...bend), drivers, [["speed", "cloth"]], undefined, undefined, undefined, undefined, [
      [2, 1],
    ]);
    expect(table.slice(1, 6)).toEqual(
      rows(
        regress({
          response: bend,
          drivers: [
            { ...number, degree: 2 },
            { kind: "category", name: "cloth", ...levels(cloth) },
          ],
        }),
      ),
    );
    const joint = rows(
      regress({
        response: bend,
        drivers: [number, { kind: "category", name: "cloth", ...levels(cloth) }],
        joint: [[0, 1]],
      }),
    );
    for (const pair of [
      ["speed", "cloth"],
      [1, 2],
      ["Speed ", 2],
    ])
      expect(
        REGRESS(column(...bend), drivers, [["speed", "cloth"]], undefined, undefined, undefined, undefined, undefined, [
          pair,
        ]).slice(1, joint.length + 1),
      ).toEqual(joint.map((row) => row.map((cell) => cell ?? "")));
  });
  const call = (weights?: unknown, degrees?: unknown, joint?: unknown) => () =>
    REGRESS(
      column(...bend),
      bend.map((_, i) => [speed[i], cloth[i]]),
      [["speed", "cloth"]],
      undefined,
      undefined,
      undefined,
      weights as never,
      degrees as never,
      joint as never,
    );
  it.each([
    [call(column(...bend.map((_, i) => (i === 2 ? 0 : 1)))), /weights, row 3, is 0: give a number above 0/],
    [call(column("x", ...bend.slice(1))), /weights, row 1, is "x"/],
    [call(column(1, 2)), /response has 10 rows and weights has 2/],
    [call(undefined, at(2)), /degrees has 1 entries and drivers has 2 columns/],
    [call(undefined, [[11, 1]]), /degrees is 11: give a whole number from 1 to 10/],
    [call(undefined, [[1, 2]]), /degrees is 2 for cloth, which is a category/],
    [call(undefined, undefined, at("speed")), /joint is 1 × 1.*two columns/],
    [
      call(undefined, undefined, [["speed", "spin"]]),
      /joint is "spin": give a driver by name or by its number from 1 to 2/,
    ],
    [call(undefined, undefined, [["speed", 1]]), /give two different drivers/],
  ])("refuses %s", (bad, message) => expect(failure(bad)).toMatch(message));
});

describe("COMPARE", () => {
  it("spills pairs, then means", () => {
    const table = COMPARE(column(...bend), column(...cloth), column(...speed), at(0.9), at(0.2));
    const { pairs, means } = compare(
      regress({
        response: bend,
        drivers: [{ kind: "category", name: "cloth", ...levels(cloth) }, number],
        confidence: 0.9,
      }),
      0,
      0.2,
    );
    expect(table[0]).toEqual([
      "first",
      "second",
      "difference",
      "standard error",
      "low",
      "high",
      "p",
      "same to the margin",
    ]);
    expect(table.slice(1, 4)).toEqual(
      pairs.map(({ a, b, difference, standardError, low, high, p, equivalent }) => [
        a,
        b,
        difference,
        standardError,
        low,
        high,
        p,
        equivalent,
      ]),
    );
    expect(table[4].slice(0, 6)).toEqual(["level", "rows", "mean", "standard error", "low", "high"]);
    expect(table[5].slice(0, 3)).toEqual(["new", 4, means[0].estimate?.value]);
    expect(COMPARE([bend], [cloth])[0]).toHaveLength(7);
  });
  it("compares with a reference only", () => {
    const table = COMPARE(column(...bend), column(...cloth), undefined, undefined, undefined, at("worn "));
    const { pairs } = compare(
      regress({ response: bend, drivers: [{ kind: "category", name: "cloth", ...levels(cloth) }] }),
      0,
      undefined,
      1,
    );
    expect(table.slice(1, 3)).toEqual(
      pairs.map(({ a, b, difference, standardError, low, high, p }) => [a, b, difference, standardError, low, high, p]),
    );
    expect(table[1].slice(0, 2)).toEqual(["new", "worn"]);
    expect(COMPARE(column(...bend), column(...speed), undefined, undefined, undefined, at(4))[1].slice(0, 2)).toEqual([
      "6",
      "4",
    ]);
  });
  it.each([
    [() => COMPARE(column(...bend), column(...bend.map(() => "new"))), /among has one level only \(new\)/],
    [() => COMPARE(column(...bend), at(null)), /^#N\/A among is blank/],
    [
      () => COMPARE(column(...bend), column(...cloth), undefined, undefined, at(-1)),
      /margin is -1: give a number above 0/,
    ],
    [
      () => COMPARE(column(...bend), column(...cloth), undefined, undefined, undefined, at("wool")),
      /reference is "wool": give one of the levels "new", "worn", "old"/,
    ],
    [() => COMPARE(column("x", ...bend.slice(1)), column(...cloth)), /response, row 1, is "x"/],
    [
      () => COMPARE(column(...bend), column("new", { error: "#REF!" }, ...cloth.slice(2))),
      /among holds the error #REF! in row 2/,
    ],
  ])("refuses %s", (call, message) => expect(failure(call)).toMatch(message));
});

describe("POWER and SHOTS", () => {
  it("go over ranges", () => {
    expect(POWER([[0.1], [0.2]], at(0.2), [[10, 20]])).toEqual(
      [0.1, 0.2].map((difference) => [10, 20].map((shots) => power({ difference, spread: 0.2 }, shots))),
    );
    expect(SHOTS(at(0.1), at(0.2), [[0.8, 0.9]], at(0.01))).toEqual([
      [0.8, 0.9].map((wanted) => shotsNeeded({ difference: 0.1, spread: 0.2, level: 0.01 }, wanted)),
    ]);
  });
  it("take several tables", () => {
    expect(POWER(at(0.5), at(1), at(20), at(null), [[2, 3]])).toEqual([
      [2, 3].map((tables) => power({ difference: 0.5, spread: 1, tables }, 20)),
    ]);
    expect(POWER(at(1), at(1), at(8), at(null), at(null), at(0.5), [[5, 6]])).toEqual([
      [5, 6].map((sessions) => sessionPower({ difference: 1, spread: 1, sessionSpread: 0.5 }, sessions, 8)),
    ]);
    expect(SHOTS(at(1), at(1), at(0.8), at(null), at(null), at(0.4), at(6))).toEqual([[7]]);
    expect(SHOTS(at(0.5), at(1), at(0.8), at(null), at(4))).toEqual([
      [shotsNeeded({ difference: 0.5, spread: 1, tables: 4 }, 0.8)],
    ]);
  });
  it.each([
    [() => POWER(at(0.1), at(1), at(10), at(null), at(1)), /tables is 1: give a whole number from 2/],
    [() => POWER(at(1), at(1), at(8), at(null), at(null), at(0.5)), /sessions is blank/],
    [() => POWER(at(1), at(1), at(8), at(null), at(null), at(null), at(5)), /sessionSpread is blank/],
    [() => POWER(at(1), at(1), at(8), at(null), at(null), at(-1), at(5)), /sessionSpread is -1: give the standard/],
    [() => POWER(at(0.1), at(0), at(10)), /spread is 0: give the standard deviation/],
    [() => POWER(at(0.1), at(1), at(1)), /shots is 1: give a whole number from 2 up/],
    [() => POWER(at(0.1), at(1), at(10), at(5)), /level is 5/],
    [() => SHOTS(at(0), at(1), at(0.8)), /difference is 0: no number of shots/],
    [() => SHOTS(at(0.1), at(1), at("80")), /power is "80"/],
    [() => SHOTS(at(null), at(1), at(0.8)), /^#N\/A difference is blank/],
  ])("refuses %s", (call, message) => expect(failure(call)).toMatch(message));
});
