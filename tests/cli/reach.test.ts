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

  it.each([
    [["reach", "log.csv", "--outcome", "Outcome"], 2, "reach needs --gap HEADER"],
    [["reach", "log.csv", "--gap", "Gap (in)"], 2, "reach needs --outcome HEADER"],
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
