/** bendbook reach, called as people call it. */
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { commandLine } from "./commandLine";

let folder: string;
const bendbook = commandLine(() => folder);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "bendbook-reach-"));
  // Invented: bends of 1 in at speed 8, an eighth more at speed 10; what the obstacle asked for goes round.
  const rows = Array.from({ length: 60 }, (_, i) => {
    const speed = i % 2 === 0 ? 8 : 10;
    const gap = 0.5 - (i % 12) / 16;
    const bend = 1 + (speed - 8) / 16 + [0.11, -0.08, 0.02, -0.14, 0.17, -0.03, 0.06][i % 7]!;
    const outcome = i === 30 ? "wrong line" : i === 31 ? "so so" : bend >= 1.125 - gap ? "cleared" : "hit";
    return `${gap},${outcome},${speed},${"ABCDE"[Math.floor(i / 12)]}`;
  });
  writeFileSync(join(folder, "log.csv"), ["Gap (in),Outcome,Speed (mph),Evening", ...rows].join("\n"));
});

describe("reach", () => {
  it("gives every number as JSON", () => {
    const { status, out } = bendbook(
      ...["reach", "log.csv", "--gap", "gap (in)", "--outcome", "Outcome", "--driver", "Speed (mph)"],
      ...["--random", "Evening", "--at", "Speed (mph)=10", "--probability", "0.5", "--probability", "0.8", "--json"],
    );
    expect(status).toBe(0);
    const json = JSON.parse(out);
    expect(json).toMatchObject({
      rowsRead: 60,
      rowsUsed: 58,
      leftOut: [{ row: 33, column: "Outcome", cell: "B33" }],
      counts: { measured: 0, nothing: 1 },
      session: { groups: 5 },
    });
    expect(json.counts.cleared + json.counts.hit).toBe(58);
    expect(json.terms.map(({ term }: { term: string }) => term)).toEqual(["constant", "Speed (mph)"]);
    const [half, most] = json.reach;
    expect(half).toEqual({
      probability: 0.5,
      bend: expect.closeTo(1.125, 1),
      low: expect.any(Number),
      high: expect.any(Number),
      gap: expect.closeTo(1.125 - half.bend, 10),
    });
    expect(most.bend).toBeCloseTo(half.bend - 0.8416212336 * json.scatter.sd, 6);
    expect(json.newSession).toHaveLength(2);
  });

  it("speaks first in words, with the row that it left out", () => {
    const { status, out } = bendbook("reach", "log.csv", "--gap", "Gap (in)", "--outcome", "Outcome");
    expect(status).toBe(0);
    expect(out).toMatch(/Half of the attempts bend at least 1\.\d+ in \(95 % interval/);
    expect(out).toContain('row 33, B33: Outcome is "so so", which is no outcome');
    expect(out).toContain("name evening as what makes a session");
  });

  it("is what regress points to where the response is what the obstacle asked for", () => {
    const asked = ["regress", "log.csv", "--response", "Gap (in)", "--driver", "Speed (mph)"];
    expect(bendbook(...asked).out).toContain("Gap (in) is what the obstacle asked for, not what the ball did");
    expect(bendbook(...asked, "--json").err).toContain("bendbook reach");
  });

  it("answers for a target in a number of tries, and says which change goes with a better chance", () => {
    const asked = ["reach", "log.csv", "--gap", "Gap (in)", "--outcome", "Outcome", "--driver", "Speed (mph)"];
    const { status, out } = bendbook(...asked, "--target", "1.2", "--tries", "10", "--misjudged", "0.02", "--json");
    expect(status).toBe(0);
    const { target, misjudged, sentences } = JSON.parse(out);
    expect(misjudged).toBe(0.02);
    expect(target).toMatchObject({ bend: 1.2, tries: 10, helps: [{ driver: "Speed (mph)", to: "speed 10 mph" }] });
    expect(target.atLeastOnce.chance).toBeCloseTo(1 - (1 - target.oneAttempt.chance) ** 10, 10);
    expect(target.helps[0].chance).toBeGreaterThan(target.oneAttempt.chance);
    expect(sentences.join(" ")).toContain("2 % of the outcomes are taken to be misjudged. Were none,");
    const text = bendbook(...asked, "--target", "1.2", "--tries", "10").out;
    expect(text).toContain("what went together in these rows, not what causes it");
    expect(text).toContain("Gaps are written in whole 1/16 in");
  });

  it("names every cell that cannot be counted, or that has a unit of its own", () => {
    writeFileSync(
      join(folder, "odd.csv"),
      [
        "Gap (in),Required bend (mm),Outcome,Film bend (in)",
        "0.5,15.9,cleared,",
        "12 mm,,hit,",
        "2.5,,hit,",
        "0.4,25,hit,",
        "0.3,,perhaps,",
        "0.3,,,",
        "0.3,,scratched,",
        "0.375,19,made,0.5",
      ].join("\n"),
    );
    const asked = ["reach", "odd.csv", "--gap", "Gap (in)", "--outcome", "Outcome", "--measured", "Film bend (in)"];
    const json = JSON.parse(bendbook(...asked, "--json").out);
    expect(json).toMatchObject({ rowsRead: 8, rowsUsed: 3, counts: { cleared: 1, hit: 1, measured: 1, nothing: 1 } });
    const said = (list: { cell: string; reason: string }[]) => list.map(({ cell, reason }) => `${cell} ${reason}`);
    expect(said(json.leftOut)).toEqual([
      expect.stringContaining("A4 Gap (in): 2 1/2 in is more than a ball's diameter"),
      expect.stringContaining("A5 Gap (in) asks for a bend of 0.725 in, and Required bend (mm) in B5 for 0.98425 in"),
      expect.stringContaining('C6 Outcome is "perhaps", which is no outcome'),
      expect.stringContaining("C7 Outcome is blank"),
    ]);
    expect(said(json.suspicious)).toEqual([
      'A3 Gap (in) is "12 mm", a unit of its own; it counts as 0.47244 in',
      expect.stringContaining("D9 Film bend (in) is 0.5 in, but the ball got by an obstacle that asked for 0.75 in"),
    ]);
  });

  it.each([
    ["all", ["made", "made", "cleared", "made", "made"], "All 5 attempts got by, so only a lower bound can be told"],
    ["none", ["hit", "hit", "hit", "hit", "hit"], "All 5 attempts hit the obstacle, so only an upper bound"],
    ["step", ["made", "made", "made", "hit", "hit"], "the scatter cannot be told, it may be anything small"],
    ["one", ["made"], "One attempt says on which side of the obstacle's bend it lay, and nothing more"],
  ])("says what cannot be told: %s", (name, outcomes, sentence) => {
    const rows = outcomes.map((outcome, i) => `${(9 - i) / 16},${outcome}`);
    writeFileSync(join(folder, `${name}.csv`), ["Gap (in),Outcome", ...rows].join("\n"));
    const { status, out } = bendbook("reach", `${name}.csv`, "--gap", "Gap (in)", "--outcome", "Outcome");
    expect(status).toBe(0);
    expect(out).toContain(sentence);
    const json = JSON.parse(
      bendbook("reach", `${name}.csv`, "--gap", "Gap (in)", "--outcome", "Outcome", "--json").out,
    );
    expect(json.scatter.sd).toBeNull();
    expect(json.session).toBeNull();
  });

  it("is what compare asks where the response is what the obstacle asked for", () => {
    const asked = ["compare", "log.csv", "--response", "Gap (in)", "--among", "Speed (mph)"];
    const { status, out } = bendbook(...asked, "--random", "Evening", "--json");
    expect(status).toBe(0);
    const json = JSON.parse(out);
    expect(json).toMatchObject({ comparedBy: "bend at one half", among: "Speed (mph)", session: { groups: 5 } });
    const [slow, fast] = json.levels;
    expect([slow.level, fast.level]).toEqual(["8", "10"]);
    expect(json.pairs[0].difference).toBeCloseTo(slow.bend - fast.bend, 6);
    expect(json.pairs[0].difference).toBeLessThan(0);
    expect(bendbook(...asked).out).toContain("so the bend at one half is compared");
    expect(bendbook(...asked, "--margin", "1").err).toContain("--margin is not asked of attempts");
  });

  it.each([
    [["reach", "log.csv", "--outcome", "Outcome"], 2, "reach needs --gap HEADER"],
    [["reach", "log.csv", "--gap", "Gap (in)"], 2, "reach needs --outcome HEADER"],
    [
      ["reach", "log.csv", "--gap", "Gap (in)", "--outcome", "Outcome", "--misjudged", "0.5"],
      2,
      '--misjudged is "0.5"',
    ],
    [["reach", "log.csv", "--gap", "Gap (in)", "--outcome", "Outcome", "--tries", "5"], 2, "give --target BEND"],
    [["reach", "log.csv", "--gap", "Gap (in)", "--required", "x", "--outcome", "Outcome"], 2, "say the same thing"],
    [["reach", "log.csv", "--gap", "Speed (mph)", "--outcome", "Outcome"], 1, "no length in inches or millimetres"],
    [["reach", "log.csv", "--gap", "Gap (in)", "--outcome", "Gap (in)"], 1, "named for two parts"],
    [
      ["reach", "log.csv", "--gap", "Gap (in)", "--outcome", "Outcome", "--probability", "2"],
      2,
      '--probability is "2"',
    ],
  ] as const)("says what is wrong: %j", (args, code, message) => {
    const { status, err } = bendbook(...args);
    expect(status).toBe(code);
    expect(err).toContain(message);
  });
});
