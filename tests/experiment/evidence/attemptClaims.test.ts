/** Claims straight from a log of attempts, and the page of their standing. */
import { describe, expect, it } from "vitest";
import { attemptClaims, marksClaims } from "../../../src/experiment/evidence/attemptClaims";
import { beliefOf, chanceReached, triesText, verdictSentences } from "../../../src/experiment/evidence/claimWords";
import { FIRST_RULES } from "../../../src/experiment/evidence/evidence";
import { filmLink, standingPage } from "../../../src/experiment/evidence/standingPage";
import { trialLogAt, type TrialLog } from "../../../src/experiment/log/trialLog";
import { randomOf } from "../../../src/statistics/numeric/drawer";
import type { CellValue } from "../../../src/workbook/book";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { toText, joinTexts } from "../../../src/experiment/language/said";

const CHECKS = [
  "Mark spacing (in)",
  "Off the line (in)",
  "Obstacle moved (in)",
  "One unbroken recording",
  "Both views",
];

function logOf(headings: readonly string[], rows: readonly (readonly CellValue[])[]): TrialLog {
  return trialLogAt(sheetOf([headings, ...rows], { sheet: "Attempts" }), 0)!;
}

/** Invented: bends about 0.8 in with a scatter of 0.1, the farthest of them got by at a gap of 1/8 in (1 in). */
function attempts(count: number, claim: string | null = "Far one"): TrialLog {
  const random = randomOf(99);
  const rows = Array.from({ length: count }, (_, i): CellValue[] => {
    const gap = 0.125 + ((i * 5) % 8) / 16;
    const by =
      i === count - 3 ? true : i !== count - 3 && gap === 0.125 ? false : 0.8 + 0.1 * random.normal() >= 1.125 - gap;
    return [
      i + 1,
      i === count - 3 ? 0.125 : gap,
      by ? "cleared" : "hit",
      i === count - 3 ? claim : null,
      2.25,
      0,
      0,
      "yes",
      "yes",
      "https://example.org/film?a=1&b=2",
    ];
  });
  return logOf(["Trial", "Gap (in)", "Outcome", "Claim", ...CHECKS, "Video"], rows);
}

describe("claims of a log of attempts", () => {
  it("are the marked rows, with what the obstacle asked for, the film and the attempts that went before", () => {
    const log = attempts(60);
    expect(marksClaims(log)).toBe(true);
    const [claim, ...others] = attemptClaims(log, FIRST_RULES);
    expect(others).toEqual([]);
    expect(claim).toMatchObject({
      label: "Far one",
      bend: 1,
      shows: "at least",
      stands: true,
      tries: 60,
      film: "https://example.org/film?a=1&b=2",
      before: { place: 58, all: 60, asFar: 8, gotBy: 0 },
    });
    const { expected } = claim!.before!;
    expect(expected).toMatchObject({ value: expect.any(Number), standard: expect.any(Number) });
    if ("why" in expected) throw new Error(expected.why);
    expect(Math.abs(expected.value - 0.8)).toBeLessThan(0.08);
    expect(triesText(claim!)).toBe("attempt 58 of 60");
  });

  it("shrink towards what was to be expected where they were measured", () => {
    const [claim] = attemptClaims(attempts(60), FIRST_RULES);
    const measured = {
      ...claim!,
      shows: "measured" as const,
      uncertainty: 0.05,
      before: { ...claim!.before!, expected: { value: 0.8, standard: 0.1 } },
    };
    // By the share s²/(u² + s²) = 0.8 of the distance.
    expect(beliefOf(measured).together!.value).toBeCloseTo(0.96, 5);
    expect(chanceReached(measured, 0.98)).toBeLessThan(beliefOf(measured).aloneOf(0.98));
    expect(chanceReached({ ...measured, before: undefined }, 0.98)).toBe(beliefOf(measured).aloneOf(0.98));
  });

  it("that got by are joined with what was to be expected, and the verdict says both chances", () => {
    const [claim] = attemptClaims(attempts(60), { ...FIRST_RULES, uncertainty: 0.04 });
    const { aloneOf, together } = beliefOf(claim!);
    expect(aloneOf(0.98)).toBeGreaterThan(0.6);
    expect(chanceReached(claim!, 0.98)).toBe(together!.chanceOf(0.98));
    const said = toText(joinTexts(verdictSentences(claim!, FIRST_RULES, 0.98), " "));
    expect(said).toContain("Far one got by an obstacle that asked for 1.000 in");
    expect(said).toContain("Of 8 attempts before it that were asked for as much, none got by.");
    expect(said).toMatch(
      /it is open whether 0\.980 in was reached: the chance is [\d.]+ %; that the obstacle asked for so much, by its gap alone, [\d.]+ %/,
    );
  });

  it("say that nothing can be told where the others are few, or where the row hit or missed", () => {
    const few = logOf(
      ["Gap (in)", "Outcome", "Claim"],
      [
        [0.5, "hit", null],
        [0.5, "made", "A"],
        [0.5, "hit", "B"],
        [0.5, "missed", "C"],
        [0.5, "hit", "no"],
      ],
    );
    const claims = attemptClaims(few, FIRST_RULES);
    expect(claims.map(({ label }) => label)).toEqual(["A", "B", "C"]);
    expect(claims[0]!.before!.expected).toEqual({
      why: "3 other attempts are too few to tell what was to be expected",
    });
    expect(toText(joinTexts(verdictSentences(claims[0]!, FIRST_RULES), " "))).toContain(
      "How much luck is in it cannot be told",
    );
    expect(toText(claims[1]!.faults[0])).toBe("this attempt hit the obstacle, so it bent less than was asked for");
    expect(toText(claims[2]!.faults[0])).toBe("this attempt missed, which says nothing of the bend");
  });

  it("without a column for marks are each shooter's farthest", () => {
    const log = logOf(
      ["Shooter", "Gap (in)", "Outcome"],
      [
        ["X", 0.5, "made"],
        ["Y", 0.5, "made"],
        ["X", 0.25, "made"],
        ["X", 0.125, "hit"],
        ["Y", 0.25, "hit"],
        ["Y", 0.75, "made"],
      ],
    );
    expect(attemptClaims(log, FIRST_RULES).map(({ shooter, bend }) => [shooter, bend])).toEqual([
      ["Y", 0.625],
      ["X", 0.875],
    ]);
  });
});

describe("the page of a standing", () => {
  const page = (log: TrialLog) =>
    standingPage({
      title: "A <b>standing</b>",
      made: new Date(Date.UTC(2026, 2, 9)),
      rules: FIRST_RULES,
      certainty: 0.95,
      target: 1,
      claims: attemptClaims(log, FIRST_RULES).map((claim) => ({ claim, origin: "evening.xlsx, Attempts" })),
      notGathered: ["x.csv: <nothing>"],
    });

  it("has place, claim, tries, film, checks and rules, and no script", () => {
    const html = page(attempts(60, '<img src=x onerror="alert(1)">'));
    expect(html).not.toMatch(/<script|<img|javascript:|onerror="/i);
    expect(html).toContain("&#60;img src=x onerror=&#34;alert(1)&#34;&#62;");
    expect(html).toContain('href="https://example.org/film?a=1&#38;b=2"');
    for (const text of [
      "attempt 58 of 60",
      "Tied with",
      "How it was checked",
      "The rules",
      "Efron",
      "x.csv: &#60;nothing&#62;",
    ])
      expect(html).toContain(text);
  });

  it.each([
    ["https://example.org/a", true],
    ["http://example.org", true],
    ["javascript:alert(1)", false],
    ["data:text/html,x", false],
    ["film 12.mp4", false],
    ["https://", false],
  ])("links %s: %s", (text, linked) => {
    expect(filmLink(text).startsWith("<a ")).toBe(linked);
  });
});
