/** What single cells say: outcomes of attempts, times of day, fractions that became dates. */
import { describe, expect, it } from "vitest";
import { fractionOfDate } from "../../../src/experiment/log/datedFraction";
import { OUTCOMES } from "../../../src/experiment/log/outcome";
import { evidenceOf, saysAttempt } from "../../../src/experiment/log/outcomeWords";
import { madeOf, yesOf } from "../../../src/experiment/log/outcome";
import { countsShots, isClock, placeInOrder } from "../../../src/experiment/log/shotOrder";
import type { Reading } from "../../../src/experiment/log/reading";
import { serialOfIso } from "../../../src/workbook/cellText";

const word = (text: string): Reading => ({ kind: "word", text });
const number = (value: number): Reading => ({ kind: "number", value });

describe("how an attempt ended", () => {
  const says = (reading: Reading, attempt = true) => {
    const found = evidenceOf(reading, attempt);
    return "says" in found ? found.says : found.problem;
  };

  it.each<[string, string]>([
    ["made", "got by"],
    ["Potted", "got by"],
    ["cleared", "got by"],
    ["hit the obstacle", "hit"],
    ["missed", "nothing"],
    ["touched a gate", "nothing"],
    ["yes", "got by"],
    // Both of what it can mean got by.
    ["good", "got by"],
  ])("%s: %s, in whatever column", (text, evidence) => {
    expect(says(word(text), true)).toBe(evidence);
    expect(says(word(text), false)).toBe(evidence);
  });

  it("a bare hit is one only where a column says how attempts ended", () => {
    for (const text of ["hit", "Hits", "touch", "touched"]) {
      expect(says(word(text), true)).toBe("hit");
      expect(says(word(text), false)).toContain(`"${text}", which can mean`);
    }
    expect(says(word("kiss"), true)).toBe('"kiss", which can mean hit obstacle or missed: write which');
    expect(["Outcome", "Made", "made it?", "How made"].map(saysAttempt)).toEqual([true, false, false, false]);
  });

  it("whatever else is asked for", () => {
    for (const no of [word("no"), word("Out"), word("FALSE"), number(0)])
      expect(says(no)).toContain("which does not say whether the obstacle was hit");
    expect(says(word("perhaps"))).toBe(
      `"perhaps", which is no outcome: write ${OUTCOMES.slice(0, 3).join(", ")} or ${OUTCOMES[3]}`,
    );
    expect(says(number(2))).toContain('"2", which is no outcome');
    expect(says({ kind: "date", value: 46030 })).toContain("no outcome");
    expect(says({ kind: "blank" })).toBe("blank");
    expect(says({ kind: "unusable", reason: "the error #N/A" })).toBe("the error #N/A");
  });

  it("a shot that was made counts 1, one that was not 0, and doubt as neither", () => {
    const made = ["made", "IN", "yes", "TRUE", "1"].map((text) => madeOf(word(text)));
    const not = ["cleared", "hit obstacle", "missed", "out", "no", "0"].map((text) => madeOf(word(text)));
    expect(new Set(made)).toEqual(new Set([1]));
    expect(new Set(not)).toEqual(new Set([0]));
    expect([number(1), number(0), number(2), word("hit"), word("good")].map(madeOf)).toEqual([
      1,
      0,
      undefined,
      undefined,
      undefined,
    ]);
    expect([word("y"), word("n"), word("made"), { kind: "blank" } as const].map(yesOf)).toEqual([
      1,
      0,
      undefined,
      undefined,
    ]);
  });
});

describe("the order of shots", () => {
  it.each<[string, number]>([
    ["0:00", 0],
    ["12:00 am", 0],
    ["12:00 pm", 12 * 3600],
    ["12:30 AM", 30 * 60],
    ["6:05 p.m.", 18 * 3600 + 5 * 60],
    ["18.05", 18 * 3600 + 5 * 60],
    ["7h30", 7 * 3600 + 30 * 60],
    ["23:59:59", 86_399],
    ["11:59:59 pm", 86_399],
  ])("%s is %i s into the day", (text, seconds) => {
    expect(placeInOrder(word(text)) * 86_400).toBeCloseTo(seconds, 7);
    expect(isClock({ kind: "category", readings: [word(text), { kind: "blank" }] })).toBe(true);
  });

  it("is a number's own, a moment's day, and nobody's for other words", () => {
    expect(placeInOrder(number(7))).toBe(7);
    expect(placeInOrder({ kind: "date", value: 46030.5 })).toBe(46030.5);
    expect(placeInOrder(word("evening"))).toBeNaN();
    expect(placeInOrder({ kind: "blank" })).toBeNaN();
  });

  it("is told by a count or a clock, not by a day alone", () => {
    const clock = [word("6:05 pm"), { kind: "blank" } as const];
    const moment = (value: number) => ({ kind: "date", value }) as const;
    const counts = (
      meaning: "trial" | "date" | "session",
      kind: "number" | "category" | "date" | "empty",
      ...readings: Reading[]
    ) => countsShots({ meaning, kind, readings });
    expect(counts("trial", "number", number(1))).toBe(true);
    expect(counts("trial", "empty", { kind: "blank" })).toBe(false);
    expect(counts("date", "category", ...clock)).toBe(true);
    expect(counts("session", "category", ...clock)).toBe(false);
    expect(counts("date", "date", moment(46030))).toBe(false);
    expect(counts("date", "date", moment(46030), moment(46030.25))).toBe(true);
    expect(isClock({ kind: "category", readings: [word("6:05 pm"), word("late")] })).toBe(false);
    expect(isClock({ kind: "category", readings: [word("6:05 pm"), number(18)] })).toBe(false);
    expect(isClock({ kind: "number", readings: [word("6:05 pm")] })).toBe(false);
  });
});

describe("a fraction that became a date", () => {
  const two = (part: number) => String(part).padStart(2, "0");
  const day = (year: number, month: number, date: number) => serialOfIso(`${year}-${two(month)}-${two(date)}`);
  const fractions = [2, 4, 8, 16, 32, 64].flatMap((bottom) =>
    Array.from({ length: bottom - 1 }, (_, i) => [i + 1, bottom] as const),
  );

  it("is found again from every date that a spreadsheet makes of a ruler's fraction, month first", () => {
    let made = 0;
    for (const [top, bottom] of fractions) {
      // 3/16 becomes 16 March of this year; 3/32, which is no day, the first of March 1932.
      const serial = top > 12 ? undefined : bottom <= 31 ? day(2026, top, bottom) : day(1900 + bottom, top, 1);
      if (serial === undefined) continue;
      made++;
      // The first of a month is a fraction of the year's two digits, where a ruler has that division.
      expect(fractionOfDate(serial), `${top}/${bottom}`).toBe(`${top}/${bottom}`);
    }
    expect(made).toBe(1 + 3 + 7 + 12 + 12 + 12);
  });

  it("and day first, where the month is the division", () => {
    for (const [top, bottom] of fractions)
      if (bottom <= 12 && top > 1 && !fractions.some(([other, below]) => other === bottom && below === top))
        expect(fractionOfDate(day(2026, bottom, top)!)).toBe(`${top}/${bottom}`);
  });

  it("is none where no ruler has it: no proper fraction, no division, another century's first of a month", () => {
    expect(fractionOfDate(day(2026, 8, 8)!)).toBeUndefined();
    expect(fractionOfDate(day(2026, 9, 11)!)).toBeUndefined();
    expect(fractionOfDate(day(2026, 12, 31)!)).toBeUndefined();
    expect(fractionOfDate(day(1932, 3, 1)!)).toBe("3/32");
    expect(fractionOfDate(day(1932, 3, 2)!)).toBeUndefined();
    expect(fractionOfDate(day(2016, 5, 1)!)).toBe("5/16");
  });
});
