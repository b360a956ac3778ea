/** Where the obstacle goes in a session, by what the one before told. Invented attempts, with their seeds. */
import { describe, expect, it } from "vitest";
import { nextSetting, type AttemptsSoFar } from "../../../src/experiment/attempts/nextSetting";
import type { Known } from "../../../src/statistics/censored/censoredFit";
import { randomOf, type Random } from "../../../src/statistics/numeric/drawer";

const SCATTER = 0.08;

/** Attempts at the gaps of the rule, by a shooter who bends so much. */
function session(random: Random, bend: number, count: number, before?: AttemptsSoFar) {
  const bounds: number[] = [];
  const known: Known[] = [];
  for (let i = 0; i < count; i++) {
    const { required } = nextSetting({ bounds, known, ...(before && { before }) }, { unit: "in" });
    bounds.push(required);
    known.push(bend + SCATTER * random.normal() >= required ? "at least" : "less than");
  }
  return { bounds, known };
}

describe("the session before", () => {
  const before = session(randomOf(1), 0.9, 25);

  it("is where a session begins", () => {
    const anew = nextSetting({ bounds: [], known: [] }, { unit: "in" });
    const after = nextSetting({ bounds: [], known: [], before }, { unit: "in" });
    expect(Math.abs(anew.required - 0.9)).toBeGreaterThan(0.2);
    expect(Math.abs(after.required - 0.9)).toBeLessThan(2 * SCATTER);
    expect(after.spread).toBeLessThan(anew.spread);
  });

  it("is left where attempts say otherwise", () => {
    for (const seed of [2, 3, 4]) {
      const now = session(randomOf(seed), 0.3, 25, before);
      const { bend } = nextSetting({ ...now, before }, { unit: "in" });
      // Four of the standard errors that 25 attempts at the bend itself would have.
      expect(Math.abs(bend - 0.3)).toBeLessThan(4 * SCATTER * Math.sqrt(Math.PI / 2 / 25));
    }
  });

  it("makes the first attempts tell more", () => {
    const errorsOf = (some: AttemptsSoFar | undefined) =>
      Array.from({ length: 12 }, (_, i) => {
        const now = session(randomOf(20 + i), 0.84, 6, some);
        return Math.abs(nextSetting({ ...now, ...(some && { before: some }) }, { unit: "in" }).bend - 0.84);
      }).reduce((sum, one) => sum + one, 0);
    expect(errorsOf(before)).toBeLessThan(errorsOf(undefined));
  });

  it("of no attempts changes nothing", () => {
    const attempts = session(randomOf(5), 0.6, 5);
    const none = { bounds: [], known: [] };
    expect(nextSetting({ ...attempts, before: none }, { unit: "in" })).toEqual(nextSetting(attempts, { unit: "in" }));
  });
});
