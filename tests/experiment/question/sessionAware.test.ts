import { describe, expect, it } from "vitest";
import { analyse } from "../../../src/experiment/question/analysis";
import { answerSentences } from "../../../src/experiment/question/answer";
import type { Choice } from "../../../src/experiment/question/choice";
import { compareLevels, comparisonSentences } from "../../../src/experiment/question/comparison";
import { analyseMade, madeSentences } from "../../../src/experiment/question/madeAnalysis";
import { madeOf } from "../../../src/experiment/log/outcome";
import { sessionAware } from "../../../src/experiment/question/sessionAware";
import { trustChecks, trustSentences } from "../../../src/experiment/trust/trustChecks";
import type { CellValue } from "../../../src/workbook/book";
import { logOf } from "../logs";
import { toText, type Said } from "../../../src/experiment/language/said";

const ask = (response: string, ...drivers: [string, "number" | "category"][]): Choice => ({
  response,
  drivers: drivers.map(([heading, as]) => ({ heading, as, degree: 1 })),
  joint: [],
  constant: true,
  confidence: 0.95,
});
const HEAD = ["Session", "Humidity (%)", "Speed (mph)", "Cloth", "Bend (in)", "Made"];
/** Sessions at one humidity each, shifted as a whole; scatter without pattern. */
function rows(
  shift: readonly number[],
  change: (row: CellValue[], s: number, i: number) => CellValue[] = (row) => row,
): CellValue[][] {
  return [
    HEAD,
    ...shift.flatMap((u, s) =>
      Array.from({ length: 10 }, (_, i) =>
        change(
          [
            `s${s + 1}`,
            35 + 6 * s,
            4 + i,
            i % 2 ? "new" : "worn",
            0.5 + u + 0.02 * i + 0.01 * Math.sin(13 * s + 7 * i * i),
            i > 4 ? "yes" : "no",
          ],
          s,
          i,
        ),
      ),
    ),
  ];
}
const put = (row: CellValue[], place: number, value: CellValue) => row.map((cell, j) => (j === place ? value : cell));
const SHIFTED = [0.1, -0.08, 0.02, 0.09, -0.03, 0.16];
const both = ask("Bend (in)", ["Humidity (%)", "number"], ["Speed (mph)", "number"]);
const words = (sentences: readonly { text: Said }[]) => sentences.map(({ text }) => toText(text)).join("\n");

describe("sessions", () => {
  it("a humidity that each session has once: told plainly, not told with the session in mind", () => {
    const aware = sessionAware(analyse(logOf(rows(SHIFTED)), both));
    expect(aware).toMatchObject({ groups: 6, lead: true });
    expect(aware?.still.map(({ heading }) => heading.text)).toEqual(["Humidity (%)"]);
    expect(words(aware?.sentences ?? [])).toContain(
      "Humidity never changes within one session. The 60 shots come from 6 sessions",
    );
    expect(words(aware?.sentences ?? [])).toMatch(
      /The plain fit would call humidity told \(p = .*\); with the session in mind the rows do not tell/,
    );
    expect(aware?.recommended?.choice.scatter).toEqual({ as: "random", heading: "Session" });
    expect(words(answerSentences(aware?.recommended ?? analyse(logOf(rows(SHIFTED)), both)))).toContain(
      "from one session to the next the level shifts by",
    );
  });

  // Sessions led only where they differed at 5 % until the intervals after that question were found to cover too
  // seldom.
  it("leads where drivers change within sessions and sessions do not show that they differ", () => {
    const level = rows([0, 0, 0, 0, 0, 0], (row, s, i) => put(row, 1, 40 + ((7 * s + 3 * i) % 11)));
    const aware = sessionAware(analyse(logOf(level), both));
    expect(aware).toMatchObject({ lead: true, still: [], untold: [] });
    expect(words(aware?.sentences ?? [])).toContain("These do not show that sessions differ");
  });

  it("leads where sessions differ though every driver changes within them", () => {
    const aware = sessionAware(analyse(logOf(rows(SHIFTED)), ask("Bend (in)", ["Speed (mph)", "number"])));
    expect(aware).toMatchObject({ lead: true, still: [] });
    expect(words(aware?.sentences ?? [])).toContain("differs from one session to the next by more than");
  });

  it("has nothing to say without a session, with one only, with one per row, or when the question already says it", () => {
    const plain = analyse(logOf(rows(SHIFTED)), both);
    expect(sessionAware({ ...plain, choice: { ...plain.choice, scatter: { as: "robust" } } })).toBeUndefined();
    expect(sessionAware(analyse(logOf(rows([0.1])), ask("Bend (in)", ["Speed (mph)", "number"])))).toBeUndefined();
    expect(sessionAware(analyse(logOf(rows(SHIFTED, (row, s, i) => put(row, 0, `${s}-${i}`))), both))).toBeUndefined();
    expect(sessionAware(analyse(logOf(rows(SHIFTED).map((row) => row.slice(1))), both))).toBeUndefined();
  });

  it("passes over rows without a session, and leaves them out of the recommended fit", () => {
    const aware = sessionAware(
      analyse(logOf(rows(SHIFTED, (row, s, i) => (s === 0 && i === 0 ? put(row, 0, null) : row))), both),
    );
    expect(aware?.recommended?.check).toMatchObject({
      used: { length: 59 },
      leftOut: [{ address: "A2", reason: "Session is blank" }],
    });
    expect(aware?.differ).toBeLessThan(1e-10);
  });

  it("says when there are too few sessions", () => {
    const aware = sessionAware(analyse(logOf(rows([0.1, 0.2])), both));
    expect(aware).toMatchObject({ lead: true, untold: [{ heading: { text: "Humidity (%)" } }] });
    const [, humidity, speed] = aware?.recommended.regression.terms ?? [];
    expect(humidity).toMatchObject({ standardError: null, low: null, high: null, p: null });
    expect(speed?.low).not.toBeNull();
    expect(words(aware?.sentences ?? [])).toContain(
      "There are too few sessions to judge humidity with session in mind",
    );
  });
});

describe("trust", () => {
  it("sees scatter that grows with speed, and cloths that differ in consistency", () => {
    const fan = rows([0, 0, 0, 0, 0, 0], (row, s, i) => put(row, 4, 0.5 + 0.03 * i * Math.sin(13 * s + 7 * i * i)));
    const analysis = analyse(logOf(fan), ask("Bend (in)", ["Speed (mph)", "number"]));
    expect(words(trustSentences(analysis, trustChecks(analysis)))).toMatch(
      /Shots do not scatter alike \(p = .*Breusch and Pagan, 1979\): it grows with speed\. The plain intervals count on equal scatter/,
    );
    const cloths = rows([0, 0, 0, 0, 0, 0], (row, s, i) =>
      put(row, 4, 0.5 + (i % 2 ? 0.02 : 0.2) * Math.sin(13 * s + 7 * i * i)),
    );
    const byCloth = analyse(logOf(cloths), ask("Bend (in)", ["Cloth", "category"]));
    expect(words(trustSentences(byCloth, trustChecks(byCloth)))).toMatch(
      /Consistency differs by cloth \(p = .*Brown and Forsythe, 1974\): "worn" 0\.1\d* in and "new" 0\.01\d* in/,
    );
  });
  it("sees a curve that the line misses, from repeated settings", () => {
    const curve = rows([0, 0, 0, 0, 0, 0], (row, _, i) => put(row, 4, Number(row[4]) + 0.01 * (i - 4.5) ** 2));
    const analysis = analyse(logOf(curve), ask("Bend (in)", ["Speed (mph)", "number"]));
    expect(words(trustSentences(analysis, trustChecks(analysis)))).toContain(
      "the fit misses something, such as a curve",
    );
  });
});

describe("comparing and making", () => {
  it("compares in sentences, and says what a margin shows", () => {
    const answer = compareLevels(logOf(rows(SHIFTED)), {
      response: "Bend (in)",
      among: "cloth",
      drivers: [{ heading: "Speed (mph)", as: "number", degree: 1 }],
      confidence: 0.95,
      margin: 0.2,
      scatter: { as: "random", heading: "Session" },
    });
    expect(answer.among).toBe("Cloth");
    expect(words(comparisonSentences(answer))).toMatch(
      /"worn" and "new" cannot be told apart: .*; they are the same to 0\.2 in\./,
    );
    expect(words(comparisonSentences({ ...answer, margin: undefined }))).toContain(
      "A difference that is not seen is not shown to be none",
    );
  });
  it.each([
    ["Yes", 1],
    ["missed", 0],
    ["TRUE", 1],
    ["no", 0],
    ["perhaps", undefined],
    ["Cleared", 0],
    ["hit obstacle", 0],
    ["pocketed", 1],
    ["hit", undefined],
    ["touched", undefined],
    ["good", undefined],
    ["failed", undefined],
  ] as const)("%s is %s", (text, made) => expect(madeOf({ kind: "word", text })).toBe(made));
  it.each([
    [1, 1],
    [0, 0],
    [2, undefined],
  ] as const)("%d is %s", (value, made) => expect(madeOf({ kind: "number", value })).toBe(made));
  it("gives chances in words", () => {
    const analysis = analyseMade(
      logOf(rows(SHIFTED, (row, s, i) => put(row, 5, (s + 3 * i) % 10 > 4 ? "made" : "missed"))),
      ask("Made", ["Speed (mph)", "number"], ["Cloth", "category"]),
    );
    expect(analysis.logistic.method).toBe("maximum likelihood");
    expect(words(madeSentences(analysis))).toMatch(
      /shots made \(60 of 60 rows used\)\. In the middle of the drivers the chance is .* %, 95 % interval/,
    );
    expect(words(madeSentences(analysis))).toMatch(/With speed alike, the chance by cloth: "worn" .*; "new" /);
  });
});
