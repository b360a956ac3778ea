/** Logs of attempts, read for what they say: words of outcomes, units, contradictions, nothing dropped in silence. */
import { describe, expect, it } from "vitest";
import { attemptColumns } from "../../../src/experiment/log/attemptLog";
import { readAttempts, type AttemptsQuestion } from "../../../src/experiment/attempts/attemptRows";
import { analyseReach } from "../../../src/experiment/attempts/reach";
import { reachSentences } from "../../../src/experiment/attempts/reachWords";
import type { CellValue } from "../../../src/workbook/book";
import { logOf } from "../logs";
import { toText } from "../../../src/experiment/language/said";

const byGap: AttemptsQuestion = {
  position: { as: "gap", heading: "Gap (in)" },
  outcome: "Outcome",
  drivers: [],
  sessions: [],
};

function reachOf(rows: CellValue[][], changes: Partial<Parameters<typeof analyseReach>[1]> = {}) {
  return analyseReach(logOf(rows), { ...byGap, at: {}, probabilities: [0.5, 0.9], confidence: 0.95, ...changes });
}

describe("a log of attempts", () => {
  it("counts every row as what it says, and names each that cannot be counted", () => {
    const read = readAttempts(
      logOf([
        ["Gap (in)", "Outcome"],
        [0.5, "made"],
        [0.5, "Cleared"],
        ["3/8", "hit"],
        [0.25, "touched"],
        [0.25, "wrong line"],
        [null, "missed"],
        [0.25, "perhaps"],
        [0.25, "good"],
        [3, "cleared"],
        [null, "cleared"],
        [0.25, null],
        [0.25, "stopped"],
        [0.25, "no"],
        [1.5, "hit"],
      ]),
      byGap,
    );
    expect(read.counts).toEqual({ cleared: 3, hit: 2, measured: 0, nothing: 2 });
    expect(read.rows.map(({ required }) => required)).toEqual([0.625, 0.625, 0.75, 0.875, 0.875]);
    expect(read.leftOut.map(({ address, reason }) => `${address} ${toText(reason)}`)).toEqual([
      'B8 Outcome is "perhaps", which is no outcome: write made, cleared, hit obstacle or missed',
      "A10 Gap (in): 3 in is more than a ball's diameter. Is a point missing, or another unit meant?",
      "A11 Gap (in) is blank",
      "B12 Outcome is blank",
      'B13 Outcome is "stopped", which can mean hit obstacle or missed: write which',
      'B14 Outcome is "no", which does not say whether the obstacle was hit: write made, cleared, hit obstacle or missed',
      "A15 Gap (in): 1 1/2 in is more than a ball's radius: a straight ball passes there without touching, so it asks for no bend.",
    ]);
    expect(read.rows.length + read.leftOut.length + read.counts.nothing).toBe(read.log.rows.length);
  });

  it("asks what hit means in a column of made shots", () => {
    const read = readAttempts(
      logOf([
        ["Gap (in)", "Made"],
        [0.5, "hit"],
        [0.5, "yes"],
      ]),
      { ...byGap, outcome: "Made" },
    );
    expect(toText(read.leftOut[0]!.reason)).toContain("made or hit obstacle: write which");
    expect(read.counts.cleared).toBe(1);
  });

  it("takes a measured bend as the bend, whatever its row's outcome, and says where the two disagree", () => {
    const read = readAttempts(
      logOf([
        ["Gap (in)", "Outcome", "Film bend (mm)"],
        [0.125, "cleared", 20],
        [0.5, "hit", 10],
        [0.5, "missed", 12.7],
        [0.5, "missed", null],
        [0.5, null, 90],
        [null, null, 25.4],
      ]),
      { ...byGap, measured: "Film bend (mm)" },
    );
    expect(read.counts).toEqual({ cleared: 0, hit: 0, measured: 4, nothing: 1 });
    expect(read.rows.map(({ bound }) => bound)).toEqual(
      [20 / 25.4, 10 / 25.4, 0.5, 1].map((x) => expect.closeTo(x, 12)),
    );
    expect(read.suspicious.map(({ address }) => address)).toEqual(["C2"]);
    expect(read.leftOut.map(({ address }) => address)).toEqual(["C6"]);
  });

  it("leaves out a row whose gap and required bend disagree, naming both cells", () => {
    const read = readAttempts(
      logOf([
        ["Gap (in)", "Required bend (in)", "Outcome"],
        [0.125, 1, "cleared"],
        [0.25, 1, "hit"],
      ]),
      byGap,
    );
    expect(read.rows).toHaveLength(1);
    expect(toText(read.leftOut[0]!.reason)).toBe(
      "Gap (in) asks for a bend of 0.875 in, and Required bend (in) in B3 for 1 in: one of the two is wrong",
    );
  });

  it("keeps to the unit of the heading and to the ball that is named", () => {
    const read = readAttempts(
      logOf([
        ["Gap (mm)", "Outcome"],
        [8, "cleared"],
        ["1/4", "hit"],
      ]),
      { ...byGap, position: { as: "gap", heading: "Gap (mm)" }, ball: 52 },
    );
    expect(read.rows[0]!.required).toBe(18);
    expect(toText(read.leftOut[0]!.reason)).toContain("a fraction of an inch in a column of mm");
  });

  it("is known by a gap and an outcome with hits", () => {
    const columns = attemptColumns(
      logOf([
        ["Gap (in)", "Obstacle gap (in)", "Outcome"],
        [0.5, 0.4, "made"],
        [0.5, 0.4, "hit obstacle"],
      ]),
    );
    expect(columns?.position.column.heading.text).toBe("Obstacle gap (in)");
    expect(
      attemptColumns(
        logOf([
          ["Gap (in)", "Outcome"],
          [0.5, "made"],
        ]),
      ),
    ).toBeUndefined();
  });
});

describe("what cannot be told is said", () => {
  const rows = (outcomes: readonly (readonly [number, string])[]): CellValue[][] => [
    ["Gap (in)", "Outcome"],
    ...outcomes.map(([gap, outcome]): CellValue[] => [gap, outcome]),
  ];
  const said = (outcomes: readonly (readonly [number, string])[]) =>
    reachSentences(reachOf(rows(outcomes)))
      .map(({ text }) => toText(text))
      .join(" ");

  it("when all got by: a lower bound alone, which holds for any distribution", () => {
    const answer = reachOf(rows(Array.from({ length: 5 }, () => [0.125, "cleared"])));
    // Five of five: were the chance at 1 in below 0.05^(1/5) = 0.549, that would be rarer than 1 in 20.
    expect(answer.reach[0]).toEqual({ probability: 0.5, estimate: null, low: 1, high: null, gap: null });
    expect(answer.reach[1]!.low).toBeNull();
    expect(said(Array.from({ length: 5 }, () => [0.125, "cleared"] as const))).toContain(
      "only a lower bound can be told: set the obstacle closer",
    );
  });

  it("when all hit: an upper bound", () => {
    const answer = reachOf(rows(Array.from({ length: 5 }, () => [0.125, "hit"])));
    expect(answer.reach[0]).toMatchObject({ estimate: null, low: null, high: 1 });
  });

  it("when one clean step lies between: the scatter is unknown", () => {
    const text = said([
      [0.5, "cleared"],
      [0.25, "cleared"],
      [0.125, "hit"],
      [0.0625, "hit"],
    ]);
    expect(text).toContain("Every attempt up to 0.875 in got by and every one from 1.000 in hit");
    expect(text).toContain("the scatter cannot be told");
  });

  it("when there is one attempt, and when closer obstacles were got by more often", () => {
    expect(said([[0.5, "cleared"]])).toContain("One attempt says on which side");
    expect(
      said([
        [0.5, "hit"],
        [0.5, "hit"],
        [0.25, "cleared"],
        [0.5, "cleared"],
        [0.25, "cleared"],
        [0.25, "hit"],
      ]),
    ).toContain("no less often");
  });

  it("when two sessions cannot tell how sessions differ", () => {
    const log: CellValue[][] = [["Gap (in)", "Outcome", "Session"]];
    for (let i = 0; i < 24; i++)
      log.push([0.5 - (i % 6) / 16, i % 6 < 3 === i % 7 > 1 ? "cleared" : "hit", i < 12 ? "A" : "B"]);
    const answer = reachOf(log, { sessions: ["Session"] });
    expect(answer.newSession).toBeUndefined();
    expect(
      reachSentences(answer).some(({ text }) => toText(text).includes("2 sessions cannot tell how sessions differ")),
    ).toBe(true);
  });
});
