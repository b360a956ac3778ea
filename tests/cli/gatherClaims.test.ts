/** bendbook gather --claims as people call it. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { commandLine } from "./commandLine";

let folder: string;
const bendbook = commandLine(() => folder);
const CHECKS = "Mark spacing (in),Off the line (in),Obstacle moved (in),One unbroken recording,Both views";

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "bendbook-claims-test-"));
  mkdirSync(join(folder, "people"));
  const put = (name: string, ...lines: string[]) => writeFileSync(join(folder, "people", name), lines.join("\n"));
  put(
    "one.csv",
    `Claim,Shooter,Bend (in),Standard uncertainty (in),${CHECKS},Tries,Film`,
    "Alpha,A,1.05,0.02,2.25,0,0,yes,yes,200,https://example.org/a",
    "Beta,A,0.9,0.02,2.25,0,0.2,yes,yes,3,",
  );
  const attempts = Array.from({ length: 24 }, (_, i) => {
    const gap = 0.125 + (i % 6) / 8;
    const outcome = i === 20 ? "hit" : gap > 0.3 || i === 18 ? "cleared" : "hit";
    return `${gap},${outcome},${i === 18 ? "Gamma" : ""},2.25,0,0,yes,yes`;
  });
  put("two.csv", `Gap (in),Outcome,Claim,${CHECKS}`, ...attempts);
  put("three.csv", "Gap (in),Outcome", "0.5,made", "0.25,hit", "0.25,hit");
  put("list.csv", "Name,Price", "cue,3");
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("gather --claims", () => {
  it("gathers claims of several files into one standing on a page, and tells what is not one", () => {
    const { status, out } = bendbook(
      "gather",
      "people",
      "--claims",
      "--out",
      "standing.html",
      "--target",
      "1",
      "--json",
    );
    expect(status).toBe(0);
    const told = JSON.parse(out);
    expect(told.claims).toMatchObject([
      { claim: "Alpha", origin: "one.csv, one", bend: 1.05, stands: true, place: 1, tries: 200, shows: "measured" },
      { claim: "Beta", stands: false, place: null, because: expect.stringContaining("the obstacle moved 0.2 in") },
      { claim: "Gamma", bend: 1, shows: "at least", stands: true, tries: 24, tiedWith: ["Alpha"] },
    ]);
    expect(told.claims[0].chance).toBeCloseTo(0.99379, 4);
    expect(told.notGathered.join(" ")).toContain("list.csv: it has no table of claims");
    expect(told.notGathered.join(" ")).toContain("Put a name into a column headed Claim");
    const page = readFileSync(join(folder, "standing.html"), "utf8");
    expect(page).toContain('href="https://example.org/a"');
    expect(page).not.toContain("<script");
    for (const text of ["Alpha", "Gamma", "one of 200 tries", "attempt 19 of 24"]) expect(page).toContain(text);
  });

  it.each([
    [["people", "--claims", "--out", "x.csv"], 2, "a name that ends in .html"],
    [["people", "--claims", "--out", "y.html", "--target", "-1"], 2, '--target is "-1"'],
    [["people", "--claims", "--out", "y.html", "--certainty", "0.4"], 2, '--certainty is "0.4"'],
    [["people", "--claims", "--out", "y.html", "--sheet", "none"], 1, "holds claims"],
  ] as const)("says what is wrong: %j", (args, code, message) => {
    const { status, err } = bendbook("gather", ...args);
    expect(err).toContain(message);
    expect(status).toBe(code);
  });
});
