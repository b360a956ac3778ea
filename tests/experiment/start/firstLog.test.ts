/** The first log and how far its user is with it. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { logOf } from "../logs";
import type { CellValue } from "../../../src/workbook/book";
import { firstLog, firstSteps } from "../../../src/experiment/start/firstLog";
import { findColumns, findTrialLogs } from "../../../src/experiment/log/trialLog";
import { readXlsx } from "../../../src/workbook/file/read/readXlsx";
import { FilePort } from "../../../src/workbook/file/filePort";
import { createEngine } from "../../../src/workbook/embedded/engine";
import { EmbeddedPort } from "../../../src/workbook/embedded/embeddedPort";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { toText } from "../../../src/experiment/language/said";

/**
 * The steps of a log with these gaps, bends as the sheet would compute them.
 * @param formats of the gap cells that are not plain
 */
function stepsOf(
  gaps: readonly CellValue[],
  sessions: readonly CellValue[] = [],
  formats: Readonly<Record<number, string>> = {},
) {
  const rows = gaps.map((gap, i): CellValue[] => [
    i + 1,
    sessions[i] ?? null,
    gap,
    typeof gap === "number" && formats[i] === undefined ? 1.125 - gap : null,
  ]);
  const values = [["Trial", "Session", "Gap (in)", "Bend (in)"], ...rows];
  const cells = values.map((row, r) =>
    row.map((_, c) => (c === 2 && formats[r - 1] !== undefined ? formats[r - 1] : "General")),
  );
  return firstSteps(findTrialLogs(sheetOf(values, { formats: cells }))[0]);
}

describe("a gap as it was read", () => {
  it("is shown as it was typed, to the ruler's own division", () => {
    expect(stepsOf([5 / 32, 3 / 64, 0.3, 1 / 3, 1 + 1 / 16]).bends.map((one) => toText(one))).toEqual([
      "Row 2: gap 5/32 in, bend 0.96875 in",
      "Row 3: gap 3/64 in, bend 1.0781 in",
      "Row 4: gap 0.3 in, bend 0.825 in",
      "Row 5: gap 0.33333 in, bend 0.79167 in",
      "Row 6: gap 1 1/16 in, bend 0.0625 in",
    ]);
  });

  it("that cannot be is pointed out by its cell and not averaged", () => {
    const sane = [5 / 16, 1 / 4, 5 / 16, 3 / 8, 1 / 4];
    const { shots, doubts, answer } = stepsOf([...sane, -1 / 8, 2, 45]);
    expect(doubts.map(({ address, text }) => `${address}: ${toText(text)}`)).toEqual([
      "C7: -1/8 in is past the near mark, a bend of more than a ball's radius. That is rare; it counts.",
      "C8: 2 in is more than a ball's radius: a straight ball passes there without touching, so it asks for no bend.",
      "C9: 45 in is more than a ball's diameter. Is a point missing, or another unit meant?",
    ]);
    expect(shots).toBe(6);
    // The mean of 1.125 less 5/16, 1/4, 5/16, 3/8, 1/4 and -1/8, by hand.
    expect(toText(answer!)).toContain(
      `Over 6 shots the bend was ${(1.125 - (1.5 - 0.125) / 6).toFixed(3)} in on average`,
    );
    expect(toText(answer!)).toContain("2 shots with a gap that cannot be are not in it.");
  });

  it("that became a date is said with what to type", () => {
    // 16 May 2026, 8 January 2026, 1 March 1932 and 13 April 2026 as serial days; day and year by a calendar.
    const { doubts, shots } = stepsOf([46158, 46030, 11749, 46125, 0.25], [], {
      0: "d-mmm",
      1: "d-mmm",
      2: "mmm-yy",
      3: "d-mmm",
    });
    expect(doubts.map(({ address, text }) => `${address}: ${toText(text)}`)).toEqual([
      "C2: the date 2026-05-16, which 5/16 is turned into: type 0 5/16 or =5/16 there.",
      "C3: the date 2026-01-08, which 1/8 is turned into: type 0 1/8 or =1/8 there.",
      "C4: the date 1932-03-01, which 3/32 is turned into: type 0 3/32 or =3/32 there.",
      "C5: the date 2026-04-13: a fraction may have been turned into a date; type it as 0 5/16 or =5/16.",
    ]);
    expect(shots).toBe(1);
  });
});

describe("the first answer", () => {
  it("counts sessions where they are written down, and says so", () => {
    // Three sessions of four shots: the mean is that of the session means, its interval Student's on 2 degrees of
    // freedom.
    const gaps = [
      [0.3, 0.32, 0.28, 0.3],
      [0.5, 0.52, 0.48, 0.5],
      [0.4, 0.42, 0.38, 0.44],
    ];
    const means = gaps.map((session) => 1.125 - session.reduce((a, b) => a + b) / 4);
    const mean = (means[0] + means[1] + means[2]) / 3;
    const half = 4.302653 * Math.sqrt(means.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 2 / 3);
    const { answer } = stepsOf(
      gaps.flat(),
      ["a", "b", "c"].flatMap((name) => [name, name, name, name]),
    );
    const found =
      /^Over 12 shots of 3 sessions the bend was ([\d.]+) in on average; the true average lies between ([\d.]+) and ([\d.]+) in with 95 % confidence, if these sessions are like those to come\. Shots of one session are not separate evidence/.exec(
        toText(answer!),
      )!;
    expect(Number(found[1])).toBeCloseTo(mean, 2);
    expect(Number(found[2])).toBeCloseTo(mean - half, 2);
    expect(Number(found[3])).toBeCloseTo(mean + half, 2);
  });

  it("of the demonstration rests on its twelve sessions and not on 239 separate shots", async () => {
    const book = await readXlsx(
      readFileSync(join(import.meta.dirname, "../../../sample-workbooks/demonstration.xlsx")),
    );
    const [log] = findTrialLogs(await new FilePort(book).read("Trials"));
    const { answer } = firstSteps(log);
    const bends = findColumns(log, "Bend (in)")[0].readings.flatMap((reading) =>
      reading.kind === "number" ? [reading.value] : [],
    );
    const mean = bends.reduce((a, b) => a + b) / bends.length;
    const plain =
      1.97 * Math.sqrt(bends.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (bends.length - 1) / bends.length);
    const [, low, high] = /^Over 239 shots of 12 sessions .* between ([\d.]+) and ([\d.]+) in/
      .exec(toText(answer!))!
      .map(Number);
    expect((high - low) / 2).toBeGreaterThan(2 * plain);
  });

  it("takes sessions as the answer does: a session that is counted anew each day, or what the reader named", () => {
    const rows = Array.from({ length: 24 }, (_, i): CellValue[] => [
      `2026-05-0${1 + Math.floor(i / 12)}`,
      Math.floor(i / 6) % 2,
      i % 4 < 2 ? "Ada" : "Ben",
      0.5 + 0.1 * (Math.floor(i / 6) % 3) + 0.01 * (i % 5),
    ]);
    const log = logOf([["Date", "Session", "Reader", "Bend (in)"], ...rows]);
    expect(toText(firstSteps(log).answer!)).toContain("Over 24 shots of 4 sessions the bend was");
    expect(toText(firstSteps(log, ["Date"]).answer!)).toContain("Over 24 shots of 2 dates the bend was");
    expect(toText(firstSteps(log, ["Reader"]).answer!)).toContain("Over 24 shots of 2 readers the bend was");
    // What is not on the sheet any more is noticed anew.
    expect(toText(firstSteps(log, ["Evening"]).answer!)).toContain("24 shots of 4 sessions");
  });

  it("says when no sessions are told apart", () =>
    expect(toText(stepsOf([0.2, 0.3, 0.25, 0.3, 0.2]).answer!)).toContain("No sessions are told apart"));
});

describe("a first log", () => {
  it.each([
    ["us", 1 / 4, 0.875, "gap 1/4 in, bend 0.875 in"],
    ["si", 6, 22.575, "gap 6 mm, bend 22.575 mm"],
  ] as const)(
    "in %s computes bends as gaps are typed, and answers after five shots",
    async (units, gap, bend, words) => {
      const engine = await createEngine();
      try {
        const port = new EmbeddedPort(engine.live);
        const name = await port.addSheet(firstLog(units));
        const steps = async () => {
          await engine.live.recalculate();
          return firstSteps(findTrialLogs(await port.read(name))[0]);
        };
        expect(await steps()).toMatchObject({
          shots: 0,
          bends: [],
          next: { row: 1, address: "I2" },
          answer: undefined,
        });
        for (let i = 0; i < 5; i++) engine.live.setCell(name, 1 + i, 8, gap + i / 100);
        const found = await steps();
        expect(found.shots).toBe(5);
        expect(toText(found.bends[0])).toBe(`Row 2: ${words}`);
        expect(found.next?.address).toBe("I7");
        expect(toText(found.answer!)).toMatch(/^Over 5 shots the bend was /);
        expect((await port.read(name)).values[1][10]).toBeCloseTo(bend, 12);
      } finally {
        engine.dispose();
      }
    },
  );
});
