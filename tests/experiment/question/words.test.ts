/** Words that are no surer than the rows: near-collinear drivers, separation, no constant, ends near 0, tiny p. */
import { describe, expect, it } from "vitest";
import { analyse } from "../../../src/experiment/question/analysis";
import { answerSentences } from "../../../src/experiment/question/answer";
import { compareLevels, comparisonSentences } from "../../../src/experiment/question/comparison";
import { analyseMade, madeSentences } from "../../../src/experiment/question/madeAnalysis";
import { collinearity, widenings } from "../../../src/statistics/checks/collinearity";
import { completed } from "../../../src/experiment/language/completed";
import { allOf, confidenceText, decimalsShowing, fixed, pText, roughP } from "../../../src/experiment/language/wording";
import { randomOf } from "../../../src/statistics/numeric/drawer";
import { logOf } from "../logs";
import { toText } from "../../../src/experiment/language/said";

const random = randomOf(12);
const number = (heading: string) => ({ heading, as: "number" as const, degree: 1 });
const category = (heading: string) => ({ heading, as: "category" as const, degree: 1 });
const ask = (
  response: string,
  drivers: ReturnType<typeof number | typeof category>[],
  constant = true,
  confidence = 0.95,
) => ({
  response,
  drivers,
  joint: [],
  constant,
  confidence,
});
/** Two numbers that go together but for the share given, and a bend that goes with the first. */
function pair(apart: number) {
  const rows = Array.from({ length: 40 }, () => {
    const x = 50 + 10 * random.normal();
    return [x, 2 * x + 20 * apart * random.normal(), 0.2 * x + random.normal()];
  });
  return logOf([["Humidity (%)", "Cloth age", "Bend (mm)"], ...rows]);
}
const drivers = [number("Humidity (%)"), number("Cloth age")];

describe("drivers that go together", () => {
  it("are not compared with the other alike, which no rows show; how much wider it makes the interval is said", () => {
    const analysis = analyse(pair(0.01), ask("Bend (mm)", drivers));
    const said = answerSentences(analysis).map(({ text }) => toText(text));
    expect(said.join(" ")).not.toContain("alike, ten points more");
    const [widening] = widenings(analysis.regression);
    const own = said.find((text) => text.startsWith("Humidity and cloth age go together"));
    expect(own).toContain(`the interval of its coefficient would be 1/${Number(widening!.toPrecision(2))} as wide`);
    expect(own).toContain("more than 99.9 % of the variation of humidity goes with cloth age");
  });
  it("are compared as ever where rows show it", () => {
    const said = answerSentences(analyse(pair(1), ask("Bend (mm)", drivers))).map(({ text }) => toText(text));
    expect(said.some((text) => text.startsWith("With cloth age alike, ten points more humidity"))).toBe(true);
  });
  it("widen intervals as the fit of one on the others says", () => {
    const { regression } = analyse(pair(0.3), ask("Bend (mm)", drivers));
    const slow = completed(collinearity(regression)).map(({ widening }) => widening);
    widenings(regression).forEach((widening, i) => expect(widening! / slow[i]).toBeCloseTo(1, 8));
  });
});

describe("made or missed without exception", () => {
  const made = (rows: [string, number, string][], asked = [category("Cloth"), number("Speed (mph)")]) =>
    madeSentences(analyseMade(logOf([["Cloth", "Speed (mph)", "Made"], ...rows]), ask("Made", asked)))
      .map(({ text }) => toText(text))
      .join("\n");
  const rows = Array.from({ length: 20 }, (_, i): [string, number, string] => [
    i % 2 ? "new" : "worn",
    4 + (i % 5),
    i % 2 || i % 3 === 0 ? "made" : "missed",
  ]);
  it("names the level", () =>
    expect(made(rows)).toContain('These tell made from missed without exception: cloth "new" (all of 10 shots made).'));
  it("names the place along a number", () =>
    expect(made(rows.map(([cloth, speed]) => [cloth, speed, speed > 6 ? "missed" : "made"]))).toContain(
      "speed (all shots at 7 mph or more missed, all at 6 mph or less made)",
    ));
});

describe("figures and words", () => {
  it("say of a fit without a constant that its share is about 0", () => {
    const text = (constant: boolean) =>
      answerSentences(analyse(pair(1), ask("Bend (mm)", [number("Humidity (%)")], constant)))[1].text;
    expect(toText(text(false))).toContain("% of the variation of bend about 0 in these rows (without a constant");
    expect(toText(text(true))).not.toContain("about 0");
  });
  it("speak of one pair as of one, and of no certain interval", () => {
    const log = logOf([
      ["Table", "Bend (mm)"],
      ...Array.from({ length: 12 }, (_, i) => [i % 2 ? "North" : "South", 20 + ((5 * i) % 7)]),
    ]);
    const said = comparisonSentences(
      compareLevels(log, { response: "Bend (mm)", among: "Table", drivers: [], confidence: 0.9999999 }),
    )
      .map(({ text }) => toText(text))
      .join("\n");
    expect(said).toContain("hold for the one pair (studentised range");
    expect(said).toContain("99.99999 % interval");
    expect(said).not.toMatch(/\b100 % interval/);
    expect([toText(confidenceText(0.95)), toText(confidenceText(0.99999)), toText(confidenceText(0.999))]).toEqual([
      "95",
      "99.999",
      "99.9",
    ]);
    expect([allOf(1, "comparison"), allOf(3, "pair")]).toEqual(["the one comparison", "all 3 pairs at once"]);
  });
  it("show an end that is not 0 as not 0", () => {
    for (const [error, low, high] of [
      [0.08, -0.3, 0.0004],
      [2, -4, 0.01],
      [0.1, 0.001, 0.4],
    ] as const) {
      const decimals = decimalsShowing(error, low, high);
      for (const end of [low, high]) expect(Number(toText(fixed(Math.abs(end), decimals)))).toBeGreaterThan(0);
    }
    expect(decimalsShowing(0.08, -0.3, 0)).toBe(decimalsShowing(0.08, -0.3, 0.2));
  });
  it("do not lead with a p that few degrees of freedom cannot know", () => {
    expect(toText(pText(1e-12, 2))).toMatch(/^p < 0.001 on 2 degrees of freedom/);
    expect([toText(pText(1e-12, 40)), toText(pText(0.02, 2)), toText(roughP(1e-12)), toText(roughP(0.02))]).toEqual([
      "p = 1e−12",
      "p = 0.02",
      "p < 0.001",
      "p = 0.02",
    ]);
  });
});
