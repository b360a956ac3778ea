/** The measurement's form, its words and its sheets. */
import { describe, expect, it } from "vitest";
import { bendUncertainty, parallaxError } from "../../../src/experiment/measure/bendUncertainty";
import {
  budgetOf,
  budgetSheet,
  drawnSentence,
  FIRST_MEASURE,
  inUnits,
  largestSource,
  measureSentences,
  parseMeasure,
  readingsLines,
  readingsOf,
} from "../../../src/experiment/measure/measureForm";
import { findTrialLogs } from "../../../src/experiment/log/trialLog";
import { expandedUncertainty } from "../../../src/statistics/measure/uncertainty";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { logOf } from "../logs";
import { toText } from "../../../src/experiment/language/said";
import { rowsSentence, rowsSheet } from "../../../src/experiment/measure/rowsSheet";

const INCH = 0.0254;
const form = FIRST_MEASURE;
const readings = readingsOf(form) as number[];
const budget = budgetOf(form, readings);
const found = bendUncertainty(budget);

describe("readings as typed", () => {
  it("are rulers' fractions and decimals", () => {
    expect(readings.map((gap) => gap / INCH)).toEqual([0.3125, 0.25, 0.3125]);
    expect((readingsOf({ units: "si", readings: "7.5; 8" }) as number[]).map((gap) => Math.round(gap * 1e6))).toEqual([
      7500, 8000,
    ]);
    expect((readingsOf({ units: "us", readings: "1 1/8" }) as number[])[0]).toBeCloseTo(1.125 * INCH, 15);
  });
  it("may have decimal commas where nothing else can be meant", () => {
    expect(readingsOf({ units: "us", readings: "9e99999" })).toContain('"9e99999" is no length');
    expect(
      (readingsOf({ units: "si", readings: "7,5; 8,25" }) as number[]).map((gap) => Math.round(gap * 1e6)),
    ).toEqual([7500, 8250]);
    expect(readingsOf({ units: "si", readings: "1,234" })).toContain('"1,234" may mean 1.234 or 1234');
  });
  it("are turned into other units and back; what cannot be read stays as typed", () => {
    const metric = inUnits(form, "si");
    expect(metric.readings).toBe("7.9375, 6.35, 7.9375");
    expect(readingsOf(inUnits(metric, "us"))).toEqual(readings);
    expect(inUnits({ ...form, readings: "5/16, wide" }, "si").readings).toBe("5/16, wide");
  });
  it.each([
    ["", "No gap is read yet"],
    ["5/16, wide", '"wide" is no length: give inches'],
  ])("%j: %s", (text, words) => expect(readingsOf({ units: "us", readings: text })).toContain(words));
});

describe("words", () => {
  it("give bend, interval, chance and guard band in one unit, never surer than the interval", () => {
    const [bend, beaten, claim] = measureSentences(form, found);
    expect(toText(bend)).toBe(
      "Bend 0.833 in ± 0.090 in (95 % confidence, standard uncertainty 0.029 in on 3.18 effective degrees of freedom).",
    );
    expect(toText(beaten)).toContain("The target of 1.000 in was truly beaten with a probability of 0.447 %");
    expect(toText(claim)).toContain(
      "the measured bend must be 1.067 in or more: a guard band of 0.067 in. Set the gap to 0.058 in or less.",
    );
  });
  it("do not claim to know what nothing was said of", () => {
    const none = { ...form, readings: "0.25", rulerDivision: 0, markError: 0, ballTolerance: 0, alignmentError: 0 };
    expect(measureSentences(none, bendUncertainty(budgetOf(none, [0.25 * INCH]))).map((one) => toText(one))).toEqual([
      expect.stringContaining("its uncertainty is not known"),
    ]);
    expect(largestSource(bendUncertainty(budgetOf(none, [0.25 * INCH])))).toBeUndefined();
  });
  it("say what more readings bring: less, down to what repeating cannot lower", () => {
    const lines = readingsLines(budget, 0.95);
    expect(lines.map(({ n }) => n)).toEqual([1, 2, 3, 5, 10, 20]);
    for (let i = 1; i < lines.length; i++) expect(lines[i].standard).toBeLessThan(lines[i - 1].standard);
    expect(lines[2].standard).toBeCloseTo(found.standard, 15);
    expect(readingsLines({ ...budget, readings: [0.01] }, 0.95)).toEqual([]);
  });
  it("say whether the draws agree", () => {
    const expanded = expandedUncertainty(found, form.confidence);
    const drawn = {
      draws: 1000,
      mean: found.bend,
      standard: found.standard,
      low: found.bend - expanded,
      high: found.bend + expanded,
      shortest: [0, 0] as const,
    };
    expect(toText(drawnSentence(form, found, drawn))).toContain("so it may be used");
    expect(toText(drawnSentence(form, found, { ...drawn, high: drawn.high + 0.01 }))).toContain("Use this interval");
  });
});

describe("parallax", () => {
  it("is that of similar triangles, and counts", () => {
    expect(parallaxError(0.01, 0.2, 1.01)).toBeCloseTo(0.002, 15);
    const off = budgetOf({ ...form, readHeight: 0.028, cameraHeight: 1, cameraOffset: 0.1 }, readings);
    expect(off.parallax).toBeCloseTo((0.028 * 0.1) / 0.972, 15);
    expect(bendUncertainty(off).standard).toBeGreaterThan(found.standard);
  });
});

describe("sheets", () => {
  it("of the budget hold every source and every number behind the words", () => {
    const rows = budgetSheet(form, budget, found, undefined).rows.map((row) => row.map(({ value }) => value));
    expect(rows.find(([name]) => name === "ruler")).toEqual([
      "ruler",
      "anywhere within, alike",
      // What rounding leaves in the mean of three readings that scatter by half a division or more: a third of its
      // variance.
      expect.closeTo(0.03125 / Math.sqrt(3), 5),
      1,
      expect.closeTo(0.0625 / Math.sqrt(36), 5),
      "taken as known",
      expect.any(Number),
    ]);
    expect(rows.find(([name]) => name === "10 times")).toHaveLength(3);
  });
  it("of the log hold every row, those without a gap with the reason", () => {
    const log = logOf([
      ["Session", "Gap (in)", "Gap 2 (in)"],
      ["a", 0.25, 0.3],
      ["a", "1/4", null],
      ["a", null, null],
    ]);
    const made = rowsSheet(log, ["Gap (in)", "Gap 2 (in)"], form);
    const rows = made.sheet.rows.map((row) => row.map(({ value }) => value));
    expect(rows[1].slice(0, 3)).toEqual([2, 2, 0.85]);
    expect(rows[2].slice(0, 3)).toEqual([3, 1, 0.875]);
    expect(rows[2].slice(3, 8)).toEqual([
      expect.stringMatching(/^at least 0\.0/),
      "scatter not known",
      null,
      null,
      null,
    ]);
    expect(rows[2][8]).toContain("A single reading does not show how readings scatter");
    const known = rowsSheet(log, ["Gap (in)", "Gap 2 (in)"], { ...form, scatter: INCH / 32 }).sheet.rows[2];
    expect(known.map(({ value }) => value)[4]).toBe("taken as known");
    expect(rows[3]).toEqual([4, 0, null, null, null, null, null, null, "no gap in B4 and C4"]);
    const [odd] = findTrialLogs(
      sheetOf(
        [
          ["Session", "Gap (in)"],
          ["a", 0.25],
          ["a", 46158],
          ["a", 45],
          ["a", -0.125],
        ],
        { formats: [[], [], ["General", "d-mmm"], [], []] },
      ),
    );
    // What cannot be a gap has no bend; what is rare has one and is pointed out.
    expect(
      rowsSheet(odd, ["Gap (in)"], { ...form, scatter: INCH / 32 })
        .sheet.rows.slice(1)
        .map((row) => [row[2].value, row[8].value]),
    ).toEqual([
      [0.875, null],
      [null, "B3: the date 2026-05-16, which 5/16 is turned into: type 0 5/16 or =5/16 there."],
      [null, "B4: 45 in is more than a ball's diameter. Is a point missing, or another unit meant?"],
      [1.25, "B5: -1/8 in is past the near mark, a bend of more than a ball's radius. That is rare; it counts."],
    ]);
    expect(rowsSentence(made, "X")).toBe(
      '2 bends with their uncertainty on the new sheet "X"; 1 row without a gap that can be used is listed there with the reason.',
    );
  });
});

describe("the form", () => {
  it("survives being kept, and anything else in its place", () => {
    expect(parseMeasure(JSON.parse(JSON.stringify(form)))).toEqual(form);
    for (const odd of [null, 7, { units: 3, readings: 4, target: "x" }]) expect(parseMeasure(odd)).toEqual(form);
  });
});
