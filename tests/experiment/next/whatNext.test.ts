/** What to shoot next: the search, the trade, what is held, the prior, words and rows. */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../scripts/samples/random";
import type { Choice } from "../../../src/experiment/question/choice";
import { bendOfShot } from "../../../src/experiment/shot/computedShot";
import { basisSentences, nextSheet, parseNext, proposalSentence } from "../../../src/experiment/next/nextWords";
import { conditionsOfShot, DEFAULT_SHOT, motionOfShot } from "../../../src/experiment/shot/shotSettings";
import type { TrialLog } from "../../../src/experiment/log/trialLog";
import { firstNext, improvement, whatNext, type NextWish } from "../../../src/experiment/next/whatNext";
import { predictAt } from "../../../src/experiment/question/predictAt";
import { spreadPlaces } from "../../../src/statistics/numeric/boxSearch";
import { inner, invertDefinite, timesVector } from "../../../src/statistics/numeric/symmetric";
import { studentDensity } from "../../../src/statistics/distributions/distributions";
import type { CellValue } from "../../../src/workbook/book";
import { logOf } from "../logs";
import { toText, joinTexts } from "../../../src/experiment/language/said";

const choiceOf = (response: string, drivers: Choice["drivers"]): Choice => ({
  response,
  drivers,
  joint: [],
  constant: true,
  confidence: 0.95,
});
const number = (heading: string) => ({ heading, as: "number" as const, degree: 1 });

/** A hill over speed, its top at 8 mph, higher on worn cloth. */
function hill(scatter: number, seed = 4): TrialLog {
  const random = seededRandom(seed);
  const rows = Array.from({ length: 40 }, (_, i): CellValue[] => {
    const speed = 4 + (i % 5);
    const cloth = i % 2 ? "worn" : "new";
    return [
      cloth,
      speed,
      40 + (i % 3),
      1 - 0.02 * (speed - 8) ** 2 + (cloth === "worn" ? 0.2 : 0) + scatter * random.normal(),
    ];
  });
  return logOf([["Cloth", "Speed (mph)", "Humidity (%)", "Bend (in)"], ...rows]);
}
const asked = choiceOf("Bend (in)", [
  { heading: "Cloth", as: "category", degree: 1 },
  number("Speed (mph)"),
  number("Humidity (%)"),
]);

describe("first wish", () => {
  it("lets change what a shot can set, within what was shot; the rest is as in the last row", () => {
    expect(firstNext(hill(0), asked)).toEqual({
      aim: "most",
      limits: { "Speed (mph)": { low: 4, high: 8 } },
      held: { Cloth: "worn", "Humidity (%)": 40 },
      physics: undefined,
    });
  });
});

describe("whatNext", () => {
  it("finds the top of a hill beyond what was shot, and says that it is beyond", () => {
    const wish: NextWish = { ...firstNext(hill(0.001), asked), limits: { "Speed (mph)": { low: 4, high: 12 } } };
    const next = whatNext(hill(0.001), asked, wish);
    const [, speed] = next.highest.settings;
    // The hill's top is known to about the scatter over its curvature.
    expect(Math.abs((speed.value as number) - 8)).toBeLessThan(0.1);
    expect(next.highest.mean.value).toBeCloseTo(1.2, 2);
    expect(next.form.curved).toEqual(["Speed (mph)"]);
    expect(whatNext(hill(0.001), asked, { ...wish, aim: "least" }).highest.mean.value).toBeLessThan(0.9);
    // Far from the shots a curve is known least: there a shot teaches most.
    expect(next.teaching.settings[1].value).toBeCloseTo(12, 6);
    expect(next.teaching.beyond).toEqual(["Speed (mph)"]);
    expect(toText(proposalSentence("teaching", next.teaching, next))).toContain(
      "Speed (mph) lies beyond anything shot so far, where what is fitted may be far off.",
    );
  });

  it("keeps to what is set up now", () => {
    const wish = firstNext(hill(0.01), asked);
    const worn = whatNext(hill(0.01), asked, wish).highest.mean.value;
    const fresh = whatNext(hill(0.01), asked, { ...wish, held: { ...wish.held, Cloth: "new" } });
    expect(worn - fresh.highest.mean.value).toBeCloseTo(0.2, 1);
    expect(fresh.highest.beyond).toEqual([]);
    // What is set up now may lie beyond the rows as well as what is proposed.
    const damp = whatNext(hill(0.01), asked, {
      ...wish,
      limits: { "Speed (mph)": { low: 4, high: 12 } },
      held: { ...wish.held, "Humidity (%)": 85 },
    });
    expect(damp.teaching.beyond).toEqual(["Speed (mph)", "Humidity (%)"]);
    for (const name of ["highest", "teaching"] as const)
      expect(toText(proposalSentence(name, damp[name], damp))).toMatch(
        /Humidity \(%\) lies? beyond anything shot so far, where what is fitted may be far off\.|Humidity \(%\) lie beyond anything/,
      );
    expect(toText(basisSentences(fresh)[1])).toBe(
      "Everything else stays as it is set up now: cloth new and humidity 40 %. Nothing has to be moved or re-levelled for these shots.",
    );
  });

  it("goes straight where the rows allow no curve, and gives no interval without degrees of freedom", () => {
    const log = logOf([
      ["Speed (mph)", "Bend (in)"],
      [4, 0.5],
      [8, 1],
    ]);
    const choice = choiceOf("Bend (in)", [number("Speed (mph)")]);
    const next = whatNext(log, choice, firstNext(log, choice));
    expect(next.form.curved).toEqual([]);
    expect(next.trade).toBeUndefined();
    expect(toText(proposalSentence("highest", next.highest, next))).toContain("no interval can be given");
  });

  it("the gain is what drawing gives", () => {
    // E max(0, m) for m = 0.3 + 0.5 t on 6 degrees of freedom, by the trapezoidal rule over t.
    let [gain, chance] = [0, 0];
    const step = 1e-3;
    for (let t = -200; t < 200; t += step) {
      const m = 0.3 + 0.5 * (t + step / 2);
      if (m <= 0) continue;
      const weight = studentDensity(t + step / 2, 6) * step;
      gain += m * weight;
      chance += weight;
    }
    const found = improvement({ value: 1.3, standardError: 0.5, df: 6, low: null, high: null }, 1, 1)!;
    // The rule's error is of the order of step², the tails beyond 200 hold about 1e−12.
    expect(found.gain).toBeCloseTo(gain, 5);
    expect(found.chance).toBeCloseTo(chance, 3);
    expect(improvement({ value: 1, standardError: 0.1, df: 1, low: null, high: null }, 1, 1)).toBeUndefined();
    expect(improvement({ value: 2, standardError: 0, df: 5, low: null, high: null }, 1, -1)).toEqual({
      gain: 0,
      chance: 0,
    });
  });

  it.each([
    [{ limits: {} }, "nothing may change"],
    [{ limits: { "Speed (mph)": { low: 8, high: 4 } } }, "the limits of Speed (mph) are 8 and 4"],
    [{ held: { Cloth: "silk", "Humidity (%)": 40 } }, 'Cloth is "silk" now, which no row has; there are: new, worn'],
    [{ held: { Cloth: "worn", "Humidity (%)": "damp" } }, 'Humidity (%) is "damp" now: give a number'],
  ] as [Partial<NextWish>, string][])("refuses %j", (change, words) =>
    expect(() => whatNext(hill(0.01), asked, { ...firstNext(hill(0.01), asked), ...change })).toThrow(words),
  );
});

describe("sessions", () => {
  const random = seededRandom(12);
  const shifts = Array.from({ length: 4 }, () => 0.2 * random.normal());
  const rows = Array.from({ length: 40 }, (_, i): CellValue[] => {
    const session = Math.floor(i / 10);
    const speed = 4 + (i % 5);
    const bend = 1 - 0.02 * (speed - 8) ** 2 + shifts[session] + 0.03 * random.normal();
    return [`S${session}`, session % 2 ? "worn" : "new", speed, bend];
  });
  const log = logOf([["Session", "Cloth", "Speed (mph)", "Bend (in)"], ...rows]);
  const choice = choiceOf("Bend (in)", [{ heading: "Cloth", as: "category", degree: 1 }, number("Speed (mph)")]);
  const wish = firstNext(log, choice);

  it("are taken as the answer takes them, unless its reader asked for the plain fit", () => {
    const next = whatNext(log, choice, wish);
    expect(next.sessions?.column.heading.text).toBe("Session");
    const { settings, mean, single } = next.highest;
    const told = predictAt(next.analysis, {
      Cloth: String(settings[0].value),
      "Speed (mph)": String(settings[1].value),
    });
    expect([mean.low, mean.high]).toEqual([told.mean!.low, told.mean!.high]);
    expect(single).toEqual(told.newSession!.single);
    const plain = whatNext(log, choice, wish, true);
    expect(plain.sessions).toBeUndefined();
    expect(plain.highest.mean.high! - plain.highest.mean.low!).toBeLessThan(0.5 * (mean.high! - mean.low!));
    expect(toText(basisSentences(next)[1])).toBe(
      "As in the answer, each of the 4 sessions is taken as shifted by a random amount, and a next shot as one of a session to come.",
    );
    expect(toText(proposalSentence("highest", next.highest, next))).toMatch(
      /for the mean over many sessions, .* for a single shot of a session to come, 95 %\)/,
    );
  });

  it("teach by a shot of a session to come: what the whole matrix of rows says of one more", () => {
    const next = whatNext(log, choice, wish);
    const { spread, design, question } = next.analysis.regression;
    const ratio = (spread!.between / spread!.within) ** 2;
    // Information of the rows with V = 1 + ratio·ZZ′, and what one more row with variance 1 + ratio adds to it.
    const row = (settings: readonly (number | "even")[]) => design.weights(settings).map(([high]) => high);
    const X = rows.map((_, i) => row(question.drivers.map(({ values }) => values[i]!)));
    const size = X[0]!.length;
    const information = Array.from({ length: size }, (_, a) =>
      Array.from({ length: size }, (__, b) => {
        let total = 0;
        for (let g = 0; g < 4; g++) {
          const group = X.slice(10 * g, 10 * g + 10);
          const sum = (c: number) => group.reduce((all, one) => all + one[c]!, 0);
          total += group.reduce((all, one) => all + one[a]! * one[b]!, 0);
          total -= (ratio / (1 + 10 * ratio)) * sum(a) * sum(b);
        }
        return total;
      }),
    );
    const over = spreadPlaces([wish.limits["Speed (mph)"]!], 200).map(([speed]) => row([1, speed!]));
    const unsure = (matrix: number[][]) => {
      const { inverse } = invertDefinite(matrix)!;
      return over.reduce((all, target) => all + inner(target, timesVector(inverse, target)), 0);
    };
    const at = row([1, next.teaching.settings[1].value as number]);
    const more = information.map((line, a) => line.map((value, b) => value + (at[a]! * at[b]!) / (1 + ratio)));
    expect(next.teaching.teaches).toBeCloseTo(1 - unsure(more) / unsure(information), 8);
  });

  it("too few for an interval give none", () => {
    const two = logOf([["Session", "Cloth", "Speed (mph)", "Bend (in)"], ...rows.slice(0, 20)]);
    const next = whatNext(two, choice, wish);
    expect(next.highest.mean.low).toBeNull();
    expect(next.trade).toBeUndefined();
    expect(toText(joinTexts(basisSentences(next), " "))).toContain(
      "There are too few sessions to judge cloth: what rests on it is told without an interval.",
    );
    // Nor does asking for the plain fit bring one back.
    expect(whatNext(two, choice, wish, true).highest.mean.low).toBeNull();
  });
});

describe("physics as a prior", () => {
  const conditions = conditionsOfShot(DEFAULT_SHOT);
  const random = seededRandom(9);
  const rows = Array.from({ length: 24 }, (_, i): CellValue[] => {
    const speed = 3 + 0.25 * (i % 9);
    const bend =
      bendOfShot(
        { ...DEFAULT_SHOT, ...motionOfShot({ speed: speed * 0.44704, angle: DEFAULT_SHOT.angle, roll: 1, side: 0 }) },
        conditions,
      ) / 0.0254;
    return [speed, bend + 0.1 + 0.001 * random.normal()];
  });
  const log = logOf([["Speed (mph)", "Bend (in)"], ...rows]);
  const choice = choiceOf("Bend (in)", [number("Speed (mph)")]);

  it("leaves the regression only what the model leaves, so far from the rows it is still right", () => {
    const wish: NextWish = { ...firstNext(log, choice), limits: { "Speed (mph)": { low: 3, high: 5 } } };
    const truth = bendOfShot({ ...DEFAULT_SHOT, speed: 5 * 0.44704 }, conditions) / 0.0254 + 0.1;
    const at5 = (physics: boolean) => {
      const next = whatNext(log, choice, { ...wish, aim: "least", physics: physics ? DEFAULT_SHOT : undefined });
      return next.highest;
    };
    expect(at5(true).mean.value).toBeLessThanOrEqual(truth + 0.005);
    const next = whatNext(log, choice, { ...wish, physics: DEFAULT_SHOT });
    expect(next.form.physics).toBe(true);
    // What the model leaves is 0.1 in everywhere with a scatter of 0.001 in.
    expect(next.analysis.regression.residual.sd!).toBeLessThan(0.002);
    expect(toText(basisSentences(next)[0])).toContain("the shot model's bend and a regression of what it leaves");
  });

  it("says when the model has nothing to say", () => {
    const dry = logOf([
      ["Humidity (%)", "Bend (in)"],
      [40, 1],
      [45, 1.1],
      [50, 1.2],
      [55, 1.2],
    ]);
    const question = choiceOf("Bend (in)", [number("Humidity (%)")]);
    expect(() =>
      whatNext(dry, question, {
        ...firstNext(dry, question),
        limits: { "Humidity (%)": { low: 40, high: 55 } },
        physics: DEFAULT_SHOT,
      }),
    ).toThrow("the model has nothing to say");
  });
});

describe("rows and words", () => {
  const log = hill(0.05);
  const next = whatNext(log, asked, firstNext(log, asked));
  it("go on a sheet, one of each in turn", () => {
    const rows = nextSheet(next, 2, ["Gap (in)", "Bend (in)"]).rows.map((row) => row.map(({ value }) => value));
    expect(rows[0]).toEqual([
      "Why",
      "Cloth",
      "Speed (mph)",
      "Humidity (%)",
      "Gap (in)",
      "Bend (in)",
      "Predicted",
      "Remarks",
    ]);
    expect(rows.slice(1).map(([why]) => why)).toEqual([
      "Highest predicted",
      "Best trade",
      "Teaches most",
      "Highest predicted",
      "Best trade",
      "Teaches most",
    ]);
    expect(rows[1].slice(4, 6)).toEqual([null, null]);
  });
  it("a kept form survives, and anything else in its place", () => {
    const form = {
      aim: "least",
      limits: { a: { low: 1, high: 2 } },
      held: { b: "x", c: 3 },
      physics: true,
      repeats: 5,
    } as const;
    expect(parseNext(JSON.parse(JSON.stringify(form)))).toEqual(form);
    for (const odd of [null, 4, { limits: { a: 3 }, held: [null], repeats: -1 }])
      expect(parseNext(odd)).toMatchObject({ aim: "most", repeats: 3 });
  });
});
