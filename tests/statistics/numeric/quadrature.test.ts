/** Rules of quadrature, means over an estimated scale, quantiles and random numbers, against exact results. */
import gammaln from "@stdlib/math-base-special-gammaln";
import fc from "fast-check";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import { boxSearch, spreadPlaces } from "../../../src/statistics/numeric/boxSearch";
import { drawer, randomOf, shuffled } from "../../../src/statistics/numeric/drawer";
import { gaussHermite } from "../../../src/statistics/numeric/gaussHermite";
import { gaussLegendre } from "../../../src/statistics/numeric/gaussLegendre";
import { memo } from "../../../src/statistics/numeric/memo";
import { overLogScale, overScale } from "../../../src/statistics/numeric/overScale";
import { upperQuantile } from "../../../src/statistics/numeric/upperQuantile";

const over = ({ nodes, weights }: ReturnType<typeof gaussHermite>, f: (x: number) => number) =>
  nodes.reduce((sum, x, i) => sum + weights[i]! * f(x), 0);

describe("rules of quadrature", () => {
  it("of Gauss and Legendre are exact up to their degree: ∫ x²ᵏ = 2/(2k + 1)", () => {
    for (let count = 1; count <= 24; count++)
      for (let degree = 0; degree < 2 * count; degree++) {
        const wanted = degree % 2 ? 0 : 2 / (degree + 1);
        expect(
          over(gaussLegendre(count), (x) => x ** degree),
          `${count} nodes, x^${degree}`,
        ).toBeCloseTo(wanted, 13);
      }
  });
  it("of Gauss and Hermite are exact up to theirs: ∫ exp(−t²) t²ᵏ = Γ(k + 1/2)", () => {
    for (const count of [1, 2, 3, 4, 5, 8, 13, 20, 33, 64])
      for (let degree = 0; degree < Math.min(2 * count, 60); degree++) {
        const size = Math.exp(gammaln((degree + 1) / 2));
        const found = over(gaussHermite(count), (x) => x ** degree);
        // Odd powers cancel to the size of the even ones beside them.
        expect(Math.abs(found - (degree % 2 ? 0 : size)) / size, `${count} nodes, t^${degree}`).toBeLessThan(1e-11);
      }
    const { nodes } = gaussHermite(64);
    expect([...nodes].sort((a, b) => a - b)).toEqual([...nodes]);
    for (const count of [0, 65, 1.5]) expect(() => gaussHermite(count)).toThrow(RangeError);
  });
});

describe("a mean over the estimated scale", () => {
  // s² is chi-square over its degrees of freedom, so the mean of exp(−a s²) is (1 + 2a/df)^(−df/2).
  const wanted = (df: number, a: number) => Math.exp((-df / 2) * Math.log1p((2 * a) / df));
  it("of exp(−a s²) is what chi-square says, for few and many degrees of freedom and far out", () => {
    for (const df of [0.5, 1, 2, 3.5, 10, 39, 41, 200, 1e4, 1e6])
      for (const a of [1e-8, 0.01, 0.5, 1, 4, 50, 600]) {
        const found = overScale(df, (s) => Math.exp(-a * s * s), Math.sqrt(2 * a));
        expect(Math.abs(found / wanted(df, a) - 1), `df ${df}, a ${a}`).toBeLessThan(2e-11);
        const q = Math.sqrt(a);
        const shifted = overLogScale(df, Math.log(q), (u) => Math.exp(-Math.exp(2 * u)), 1);
        expect(Math.abs(shifted / wanted(df, a) - 1), `df ${df}, q ${q}`).toBeLessThan(2e-11);
      }
  });
  it("is 0 of nothing", () => expect(overScale(5, () => 0)).toBe(0));
});

describe("a quantile from its upper tail", () => {
  it.each<[string, (q: number) => number, (tail: number) => number]>([
    ["exponential", (q) => Math.exp(-q), (tail) => -Math.log(tail)],
    ["heavy", (q) => 1 / (1 + q) ** 2, (tail) => 1 / Math.sqrt(tail) - 1],
    ["heavier", (q) => 1 / Math.sqrt(1 + q), (tail) => 1 / tail ** 2 - 1],
    // It runs out at 3.
    ["bounded", (q) => Math.max(0, 1 - q / 3), (tail) => 3 * (1 - tail)],
    ["steep", (q) => Math.exp(-((q / 5) ** 40)), (tail) => 5 * (-Math.log(tail)) ** (1 / 40)],
  ])("%s: undoes the tail", (_, upper, quantile) => {
    for (const tail of [0.999, 0.9, 0.5, 0.1, 0.05, 1e-3, 1e-10, 1e-40, 1e-120]) {
      const wanted = quantile(tail);
      if (wanted > 1e150) continue;
      // A tail near 1 says little of a place near 0.
      expect(Math.abs(upperQuantile(tail, upper) / wanted - 1), `tail ${tail}`).toBeLessThan(
        1e-10 / Math.min(1, 1 - tail),
      );
    }
  });
});

describe("random numbers", () => {
  it("are the bits of two draws, between 0 and 1", () => {
    const raw = xoroshiro128plus(7);
    const { uniform } = randomOf(7);
    for (let i = 0; i < 1000; i++) {
      const upper = BigInt(raw.next() >>> 0) >> 5n;
      const lower = BigInt(raw.next() >>> 0) >> 6n;
      // 53 bits, in the middle between two of them.
      expect(uniform()).toBe((Number((upper << 26n) | lower) + 0.5) / 2 ** 53);
    }
  });
  it("are normal in pairs on a circle: what is drawn has variance 1, kurtosis 3 and no correlation", () => {
    const { normal } = randomOf(8);
    const drawn = Array.from({ length: 40_000 }, normal);
    const mean = (f: (x: number, i: number) => number) => drawn.reduce((sum, x, i) => sum + f(x, i), 0) / drawn.length;
    // Five standard errors each: 1, 2, 96 and 1 over 40,000.
    const bound = (variance: number) => 5 * Math.sqrt(variance / drawn.length);
    expect(Math.abs(mean((x) => x))).toBeLessThan(bound(1));
    expect(Math.abs(mean((x) => x * x) - 1)).toBeLessThan(bound(2));
    expect(Math.abs(mean((x) => x ** 4) - 3)).toBeLessThan(bound(96));
    expect(Math.abs(mean((x, i) => x * (drawn[i + 1] ?? 0)))).toBeLessThan(bound(1));
  });
  it("of a limit are even over all numbers below it, and orders over all orders", () => {
    const draw = drawer(9);
    const counts = new Map<number, number>();
    for (let i = 0; i < 7000; i++) {
      const drawn = draw(7);
      counts.set(drawn, (counts.get(drawn) ?? 0) + 1);
    }
    expect([...counts.keys()].sort()).toEqual([0, 1, 2, 3, 4, 5, 6]);
    // 6 degrees of freedom: beyond 40 once in two million.
    expect([...counts.values()].reduce((sum, n) => sum + (n - 1000) ** 2 / 1000, 0)).toBeLessThan(40);
    const orders = new Map<string, number>();
    for (let i = 0; i < 6000; i++) {
      const order = shuffled(["a", "b", "c"], draw).join("");
      orders.set(order, (orders.get(order) ?? 0) + 1);
    }
    expect(orders.size).toBe(6);
    expect([...orders.values()].reduce((sum, n) => sum + (n - 1000) ** 2 / 1000, 0)).toBeLessThan(40);
    expect(drawer(9)(1e6)).toBe(drawer(9)(1e6));
  });
});

describe("the least of a box", () => {
  it("is found inside and at its sides, and said with its place", () => {
    const side = fc.double({ min: -1.5, max: 1.5, noNaN: true });
    fc.assert(
      fc.property(side, side, (x, y) => {
        const box = [
          { low: -1, high: 1 },
          { low: -10, high: 0 },
        ];
        const cost = ([a, b]: readonly number[]) => (a! - x) ** 2 + 3 * (b! / 5 - y) ** 2 + 2;
        const { place, value, tried } = boxSearch(box, cost, { places: 16, climbs: 2, lastStep: 1e-9 });
        expect(place[0]).toBeCloseTo(Math.min(1, Math.max(-1, x)), 7);
        expect(place[1]! / 5).toBeCloseTo(Math.min(0, Math.max(-2, y)), 7);
        expect(value).toBe(cost(place));
        expect(tried).toBeGreaterThan(16);
      }),
      { seed: 13, numRuns: 100 },
    );
  });
  it("is not climbed to from where nothing is worth it, and is one place of no sides", () => {
    const order = { places: 5, climbs: 1, lastStep: 1e-6 };
    const flat = boxSearch([{ low: 0, high: 1 }], ([x]) => x!, { ...order, worth: (value) => value < 0.1 });
    expect(flat.tried).toBe(5);
    // The first five of Halton's sequence are 1/2, 1/4, 3/4, 1/8, 5/8.
    expect(flat.place).toEqual([0.125]);
    expect(boxSearch([], () => 3, order)).toEqual({ place: [], value: 3, tried: 1 });
    expect(
      spreadPlaces(
        [
          { low: 0, high: 1 },
          { low: -3, high: 6 },
        ],
        3,
      ).map(([a, b]) => [a, Math.round(b!)]),
    ).toEqual([
      [0.5, 0],
      [0.25, 3],
      [0.75, -2],
    ]);
  });
});

describe("what is remembered", () => {
  it("is by the object and all keys, the last few of them", () => {
    const store = memo<number>(2);
    const [one, other] = [{}, {}];
    let made = 0;
    const ask = (of: object, ...keys: unknown[]) => store(of, keys, () => ++made);
    expect([ask(one, "a"), ask(one, "a"), ask(one, "a", "b"), ask(other, "a"), ask(one, "a")]).toEqual([1, 1, 2, 3, 1]);
    expect([ask(one, "c"), ask(one, "a", "b"), ask(one, "a")]).toEqual([4, 2, 5]);
  });
});
