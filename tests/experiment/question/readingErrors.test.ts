/** Errors in a driver's readings: what they do to its effect where it was read twice. */
import { describe, expect, it } from "vitest";
import { analyse } from "../../../src/experiment/question/analysis";
import { readingErrors, readingErrorSentences } from "../../../src/experiment/question/readingErrors";
import { readingStep } from "../../../src/experiment/question/readingStep";
import { leftBesides } from "../../../src/statistics/checks/leftBesides";
import { randomOf } from "../../../src/statistics/numeric/drawer";
import { logOf } from "../logs";
import { toText } from "../../../src/experiment/language/said";

const random = randomOf(21);
const rows = Array.from({ length: 60 }, () => {
  const humidity = 50 + 10 * random.normal();
  const [first, again] = [0, 0].map(() => humidity + 4 * random.normal());
  return [first, again + 3, 4 + 4 * random.uniform(), 20 - 0.1 * humidity + 0.4 * random.normal(), again];
});
const log = logOf([["Humidity (%)", "Humidity 2 (%)", "Speed (mph)", "Bend (mm)", "Hygrometer"], ...rows]);
const question = {
  response: "Bend (mm)",
  drivers: ["Humidity (%)", "Speed (mph)"].map((heading) => ({ heading, as: "number" as const, degree: 1 })),
  joint: [],
  constant: true,
  confidence: 0.95,
};

describe("a driver that was read twice", () => {
  const analysis = analyse(log, question);
  const [found] = readingErrors(analysis);

  it("is noticed by its heading; errors come from differences, of which a shift is no part", () => {
    const differences = rows.map(([a, b]) => a - b);
    const mean = differences.reduce((a, b) => a + b) / 60;
    const variance = differences.reduce((total, one) => total + (one - mean) ** 2, 0) / 59 / 2;
    expect(found).toMatchObject({ driver: 0, rows: 60 });
    expect(found.sd).toBeCloseTo(Math.sqrt(variance), 10);
    // The variance of the readings with speed alike, by the regression of one on the other.
    const speed = rows.map(([, , one]) => one);
    const [meanX, meanS] = [rows.map(([one]) => one), speed].map((all) => all.reduce((a, b) => a + b) / 60);
    const cross = rows.reduce((total, [x, , s]) => total + (x - meanX) * (s - meanS), 0);
    const squares = speed.reduce((total, s) => total + (s - meanS) ** 2, 0);
    const left = rows.reduce((total, [x, , s]) => total + (x - meanX - (cross / squares) * (s - meanS)) ** 2, 0) / 58;
    expect(found.reliability).toBeCloseTo(1 - variance / left, 10);
    expect(found.corrected!.value).toBeCloseTo(analysis.regression.terms[1].estimate! / found.reliability!, 10);
    expect(found.corrected!.low).toBeLessThan(found.corrected!.value);
  });

  it("says so, and what the mean of both would lose", () => {
    const [{ kind, text }] = readingErrorSentences(analysis, [found]);
    expect(kind).toBe("caution");
    expect(toText(text)).toMatch(
      /^Humidity was read twice in 60 rows \("Humidity \(%\)" and "Humidity 2 \(%\)"\): a reading is off by [\d.]+ %/,
    );
    expect(toText(text)).toMatch(
      /look \d+ % smaller than it is.*ten points more humidity would go with [\d.]+ mm less bend/,
    );
    expect(toText(text)).toContain("The mean of both readings would lose");
  });

  it("may have a second reading of any heading, and none that is not asked about", () => {
    expect(readingErrors(analysis, [["Humidity (%)", "Hygrometer"]])[0].again.heading.text).toBe("Hygrometer");
    expect(() => readingErrors(analysis, [["Hygrometer", "Humidity (%)"]])).toThrow("is no driver");
    const curved = analyse(log, { ...question, drivers: [{ heading: "Humidity (%)", as: "number", degree: 2 }] });
    expect(readingErrors(curved)).toEqual([]);
    expect(() => readingErrors(curved, [["Humidity (%)", "Hygrometer"]])).toThrow("no number that acts straight");
  });

  it("is asked to be, where one reading is rounded coarsely enough to matter", () => {
    const coarse = logOf([
      ["Humidity (%)", "Bend (mm)"],
      ...rows.map(([humidity, , , bend]) => [5 * Math.round(humidity / 5), bend]),
    ]);
    const one = analyse(coarse, { ...question, drivers: [question.drivers[0]] });
    expect(toText(readingErrorSentences(one, readingErrors(one))[0].text)).toMatch(
      /^Humidity \(to 5 %, [\d.]+ %\) is read coarsely: if these were read and not set, rounding alone makes the effect look smaller/,
    );
    expect(readingErrorSentences(analysis, []).length).toBe(0);
  });

  it("is asked to be, where it was counted in frames of a film", () => {
    const film = randomOf(7);
    // A yard filmed at 60 frames a second, in mph, written with two decimals: 36·60/17.6 over so many frames.
    const shots = Array.from({ length: 40 }, () => {
      const speed = 4 + 5 * film.uniform();
      const frames = Math.round(122.727 / speed);
      return [Number((122.727 / frames).toFixed(2)), speed + film.normal()];
    });
    const one = analyse(logOf([["Speed (mph)", "Bend (mm)"], ...shots]), {
      ...question,
      drivers: [question.drivers[1]],
    });
    // At 6.8 mph a frame more is 18 frames in place of 17: about 0.38 mph.
    expect(toText(readingErrorSentences(one, readingErrors(one))[0].text)).toMatch(
      /^Speed \(by frames, one more or less is about 0\.\d+ mph, 0?\.?\d+ %\) is read coarsely/,
    );
    // As many values that were drawn and not counted show nothing of the kind.
    expect(readingStep(Array.from({ length: 40 }, () => 4 + 5 * film.uniform()))).toBeUndefined();
    expect(readingStep([4, 5, 6, 7, 8, 9])).toMatchObject({ kind: "step", step: 1 });
    expect(readingStep([4, 6, 8])).toBeUndefined();
  });

  it("is judged as the answer weighs its sessions: within them, where they lie far apart", () => {
    // With each session as a category of its own what is left of humidity is its variance within sessions; sessions
    // that lie apart by a thousand times what a shot scatters are weighed the same to six digits.
    const groups = rows.map((_, row) => Math.floor(row / 10));
    const by = { name: "Session", groups, levels: ["1", "2", "3", "4", "5", "6"] };
    const humidity = rows.map(([one]) => one);
    const speed = { kind: "number" as const, name: "Speed", values: rows.map(([, , one]) => one), degree: 1 };
    const category = { kind: "category" as const, name: "Session", values: groups, levels: by.levels };
    expect(leftBesides(humidity, [speed], { by, ratio: 1e6 })! / leftBesides(humidity, [speed, category])!).toBeCloseTo(
      1,
      5,
    );
    expect(leftBesides(humidity, [speed], { by, ratio: 0 })).toBe(leftBesides(humidity, [speed]));
  });

  it("whose errors are as large as its readings' differences tells nothing", () => {
    const noise = Array.from({ length: 30 }, () => [random.normal(), 5 * random.normal(), random.normal()]);
    const wild = analyse(logOf([["Humidity (%)", "Humidity 2 (%)", "Bend (mm)"], ...noise]), {
      ...question,
      drivers: [question.drivers[0]],
    });
    const one = readingErrors(wild);
    expect(one[0].reliability).toBeNull();
    expect(toText(readingErrorSentences(wild, one)[0].text)).toContain("the rows say nothing of its effect");
  });
});
