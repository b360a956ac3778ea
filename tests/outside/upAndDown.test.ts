/**
 * Attempts against what is published of up-and-down and adaptive methods. The formulas are from memory; so are Levitt's
 * chances, which the documentation of software for such rules gives as 70.7 and 79.4 %. Dixon and Mood's own example
 * was not at hand: one published series is read below, the others are drawn here, with the seeds that stand beside
 * them.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { nextSetting } from "../../src/experiment/attempts/nextSetting";
import { censoredFit, type Known } from "../../src/statistics/censored/censoredFit";
import { randomOf, type Random } from "../../src/statistics/numeric/drawer";
import { digits, startR, vector, type R } from "./r";

const MEAN = 0.8;
const SCATTER = 0.1;

/** A staircase: up after so many got by in a row, down after each hit. */
function staircase(random: Random, count: number, step: number, inARow: number) {
  const bounds: number[] = [];
  const known: Known[] = [];
  let at = 0.8 + step / 4;
  let row = 0;
  for (let i = 0; i < count; i++) {
    const by = MEAN + SCATTER * random.normal() >= at;
    bounds.push(at);
    known.push(by ? "at least" : "less than");
    row = by ? row + 1 : 0;
    if (!by) at -= step;
    else if (row === inARow) {
      at += step;
      row = 0;
    }
  }
  return { bounds, known };
}

/**
 * Dixon & Mood, J. Am. Stat. Assoc. 43 (1948) 109–126: with the less frequent outcome counted n₀, n₁ … from its lowest
 * level y′, N = Σn, A = Σi·n, B = Σi²·n, the mean is y′ + d(A/N ± ½) and the scatter 1.620 d((NB − A²)/N² + 0.029),
 * where (NB − A²)/N² is above 0.3. Both approximate the place where the likelihood is highest.
 */
function dixonMood({ bounds, known }: { bounds: readonly number[]; known: readonly Known[] }, step: number) {
  const hits = known.filter((one) => one === "less than").length;
  const counted: Known = hits * 2 <= known.length ? "less than" : "at least";
  const levels = bounds.filter((_, i) => known[i] === counted);
  const lowest = Math.min(...levels);
  const places = levels.map((level) => Math.round((level - lowest) / step));
  const n = places.length;
  const a = places.reduce((sum, i) => sum + i, 0);
  const b = places.reduce((sum, i) => sum + i * i, 0);
  const spread = (n * b - a * a) / (n * n);
  // Not reaching a level counts as the response that grows with it: half a step down for it, up for its opposite.
  return {
    mean: lowest + step * (a / n + (counted === "less than" ? -0.5 : 0.5)),
    scatter: 1.62 * step * (spread + 0.029),
    spread,
  };
}

describe("up and down", () => {
  it("has its highest likelihood where Dixon and Mood's formulas say, to within what they leave out", () => {
    for (const seed of [1, 2, 3, 4]) {
      const rows = staircase(randomOf(seed), 200, 0.1, 1);
      const { mean, scatter, spread } = dixonMood(rows, 0.1);
      expect(spread).toBeGreaterThan(0.3);
      const fit = censoredFit({ ...rows, drivers: [] });
      // The formulas take the numbers of both outcomes at neighbouring levels for equal, which they are but for the
      // ends: a twentieth of a step for the mean of 200, a tenth of the scatter.
      expect(Math.abs(fit.terms[0]!.estimate! - mean)).toBeLessThan(0.1 / 20);
      expect(Math.abs(fit.scatter.estimate! / scatter - 1)).toBeLessThan(0.1);
    }
  });

  it.each([
    [1, 0.5],
    [2, Math.SQRT1_2],
    [3, Math.cbrt(0.5)],
  ])(
    "stands where attempts get by with the chance that Levitt gives for %d in a row",
    // Levitt, J. Acoust. Soc. Am. 49 (1971) 467–477: up after n in a row settles where pⁿ = 1/2.
    (inARow, chance) => {
      const rows = staircase(randomOf(10 + inARow), 4000, 0.02, inARow);
      const stood = rows.bounds.reduce((sum, bound) => sum + bound, 0) / rows.bounds.length;
      const found = censoredFit({ ...rows, drivers: [] }).surpassed([], chance, false, "standard error")!.estimate!;
      // Small steps, so that the mean place is the place that it settles at to a step.
      expect(Math.abs(found - stood)).toBeLessThan(0.02);
    },
  );
});

/**
 * Doses of a published one-up one-down series, in mg/kg, one step apart: Van Elstraete and others, Anesth. Analg. 106
 * (2008) 305–308, as the examples of R's package upndown quote it. A patient's answer is the next dose: down when the
 * dose was enough. Their median effective dose was 21.7; Oron's examples hold that the series does not say so surely.
 */
const RUNS = [
  [4, 7],
  [6, 13],
  [12, 19],
  [18, 21],
  [20, 20],
  [19, 23],
  [22, 22],
  [21, 23],
  [22, 19],
  [20, 23],
  [22, 24],
  [23, 23],
  [22, 22],
  [23, 23],
  [22, 25],
  [24, 22],
  [23, 24],
  [23, 24],
  [23, 22],
] as const;
const DOSES = RUNS.flatMap(([from, to]) =>
  Array.from({ length: Math.abs(to - from) + 1 }, (_, i) => from + i * Math.sign(to - from)),
);

describe("a published series of doses", () => {
  let r: R;
  beforeAll(async () => {
    r = await startR();
  }, 60_000);
  afterAll(() => r.close());
  // What came after the last dose is not told, and the examples take it for too little.
  const enough = DOSES.map((dose, i) => (DOSES[i + 1] ?? Infinity) < dose);
  const fit = censoredFit({
    bounds: DOSES,
    known: enough.map((one): Known => (one ? "less than" : "at least")),
    drivers: [],
  });

  it("has the median and the scatter that R's probit has in the same run", async () => {
    const code = `coef(glm(${vector(enough.map(Number))} ~ ${vector(DOSES)}, binomial("probit"), epsilon = 1e-14))`;
    const [constant, slope] = await r.numbers(code);
    expect(digits(fit.terms[0]!.estimate!, -constant! / slope!)).toBeGreaterThan(7);
    expect(digits(fit.scatter.estimate!, 1 / slope!)).toBeGreaterThan(7);
  });

  it("holds the published median in its interval, which is wide: nearly all doses went up", () => {
    const { low, high } = fit.surpassed([], 0.5)!;
    expect(low).toBeLessThan(21.7);
    expect(high).toBeGreaterThan(21.7);
    expect(high! - low!).toBeGreaterThan(8);
  });
});

describe("the adaptive rule", () => {
  it("comes near the least error that attempts at the bend itself could have", () => {
    // Taylor, J. Acoust. Soc. Am. 49 (1971) 505–508: the variance of n trials at the best place is the ideal sweat
    // factor p(1 − p)/(dp/dx)² over n, which for a normal curve at one half is π/2 · σ²/n.
    // How wide the belief of one evening is hangs on how its attempts happened to scatter, so of four the mean.
    const count = 120;
    const ideal = SCATTER * Math.sqrt(Math.PI / 2 / count);
    const spreads = [7, 8, 9, 10].map((seed) => {
      const random = randomOf(seed);
      const bounds: number[] = [];
      const known: Known[] = [];
      for (let i = 0; i < count; i++) {
        const { required } = nextSetting({ bounds, known }, { unit: "in" });
        bounds.push(required);
        known.push(MEAN + SCATTER * random.normal() >= required ? "at least" : "less than");
      }
      const { spread, bend } = nextSetting({ bounds, known }, { unit: "in" });
      expect(Math.abs(bend - MEAN)).toBeLessThan(3 * ideal);
      return spread / ideal;
    });
    // Fewer than 120 tell, since the first ones look for the place and the scatter is estimated beside.
    const mean = spreads.reduce((sum, one) => sum + one, 0) / spreads.length;
    expect(mean).toBeGreaterThan(0.8);
    expect(mean).toBeLessThan(1.35);
  });

  it("asks at the place that tells most of the bend at one half once much is known: the bend itself", () => {
    const bounds = Array.from({ length: 400 }, (_, i) => 0.6 + (0.4 * (i % 11)) / 10);
    const random = randomOf(8);
    const known = bounds.map((bound): Known => (MEAN + SCATTER * random.normal() >= bound ? "at least" : "less than"));
    const { required, bend } = nextSetting({ bounds, known }, { unit: "in" });
    expect(Math.abs(required - bend)).toBeLessThan(1 / 32);
  });
});
