/** Rows that may be taken for the opposite of what they are. */
import { describe, expect, it } from "vitest";
import { censoredFit, type Known } from "../../../src/statistics/censored/censoredFit";
import { normalLower } from "../../../src/statistics/distributions/normal";
import { randomOf } from "../../../src/statistics/numeric/drawer";

/** Bends about 1 with a scatter of 0.1, on a grid of bounds; a share is seen wrongly. */
function rows(count: number, share: number, seed: number) {
  const random = randomOf(seed);
  const bounds = Array.from({ length: count }, (_, i) => 0.6 + (0.8 * (i % 9)) / 8);
  const known = bounds.map((bound): Known => {
    const reached = 1 + 0.1 * random.normal() >= bound;
    return (random.uniform() < share ? !reached : reached) ? "at least" : "less than";
  });
  return { bounds, known, drivers: [] };
}

describe("misjudged rows", () => {
  const misjudged = 0.03;
  const question = { ...rows(300, misjudged, 41), misjudged };

  it("are fitted where the likelihood, written out, is highest", () => {
    const fit = censoredFit(question);
    const height = (location: number, scatter: number) =>
      question.bounds.reduce((sum, bound, i) => {
        const reached = misjudged + (1 - 2 * misjudged) * normalLower((location - bound) / scatter);
        return sum + Math.log(question.known[i] === "at least" ? reached : 1 - reached);
      }, 0);
    const [location, scatter] = [fit.terms[0]!.estimate!, fit.scatter.estimate!];
    expect(fit.logLikelihood).toBeCloseTo(height(location, scatter), 9);
    for (const [a, b] of [
      [0.001, 0],
      [-0.001, 0],
      [0, 0.001],
      [0, -0.001],
      [0.1, 0.1],
      [-0.2, 0.3],
    ])
      expect(height(location + a!, scatter + b!)).toBeLessThan(fit.logLikelihood);
  });

  it("no longer widen the scatter once they are allowed for", () => {
    const plain = censoredFit({ ...question, misjudged: 0 });
    const aware = censoredFit(question);
    expect(plain.scatter.estimate!).toBeGreaterThan(1.3 * aware.scatter.estimate!);
    expect(aware.scatter.low!).toBeLessThan(0.1);
    expect(aware.scatter.high!).toBeGreaterThan(0.1);
  });

  it("change nothing where their share is 0, and a little where it is little", () => {
    const none = rows(120, 0, 43);
    const plain = censoredFit(none);
    expect(censoredFit({ ...none, misjudged: 0 }).scatter).toEqual(plain.scatter);
    expect(censoredFit({ ...none, misjudged: 1e-9 }).terms[0]!.estimate!).toBeCloseTo(plain.terms[0]!.estimate!, 6);
  });

  it("are allowed for beside sessions, too", () => {
    const random = randomOf(47);
    const groups = Array.from({ length: 240 }, (_, i) => Math.floor(i / 40));
    const shifts = groups.map(() => 0);
    for (let s = 0; s < 6; s++) shifts[s] = 0.1 * random.normal();
    const bounds = groups.map((_, i) => 0.6 + (0.8 * (i % 9)) / 8);
    const known = bounds.map((bound, i): Known => {
      const reached = 1 + shifts[groups[i]!]! + 0.1 * random.normal() >= bound;
      return (random.uniform() < misjudged ? !reached : reached) ? "at least" : "less than";
    });
    const sessions = { name: "session", groups, levels: ["a", "b", "c", "d", "e", "f"] };
    const of = (share: number) => censoredFit({ bounds, known, drivers: [], sessions, misjudged: share });
    expect(of(misjudged).scatter.estimate!).toBeLessThan(of(0).scatter.estimate!);
    expect(of(misjudged).logLikelihood).toBeGreaterThan(of(0).logLikelihood);
    expect(of(misjudged).surpassed([], 0.9)!.low!).toBeLessThan(1 - 0.128);
  });

  it("leave the scatter untold where all others are told apart without exception", () => {
    const bounds = [0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.3, 0.5];
    const known = bounds.map((bound, i): Known => (bound < 0.95 && i < 9 ? "at least" : "less than"));
    const { untold, scatter } = censoredFit({ bounds, known, drivers: [], misjudged: 0.1 });
    expect(untold[0]?.kind).toBe("clean but for misjudged");
    expect(scatter.estimate).toBeNull();
  });

  it("make a run of successes say less", () => {
    const all = { bounds: [1, 1, 1, 1, 1, 1], known: Array<Known>(6).fill("at least"), drivers: [] };
    const low = (share: number) => censoredFit({ ...all, misjudged: share }).surpassed([], 0.6)?.low;
    expect(low(0)).toBe(1);
    expect(low(0.1)).toBe(1);
    expect(low(0.25)).toBe(1);
    expect(low(0.45)).toBe(1);
    expect(censoredFit({ ...all, bounds: [1, 1, 1, 1, 1, 0.5] }).surpassed([], 0.6)?.low).toBe(0.5);
  });

  it("refuses a share that leaves nothing to learn", () => {
    expect(() => censoredFit({ ...question, misjudged: 0.5 })).toThrow("the share of misjudged rows is 0.5");
  });
});
