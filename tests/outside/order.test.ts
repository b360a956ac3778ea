/**
 * The order within a session against R with lme4 and pbkrtest; values stored by `npm run reference`
 * (scripts/reference/sessions.R).
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { commandLine } from "../cli/commandLine";

const folder = join(import.meta.dirname, "reference");
const few = JSON.parse(readFileSync(join(folder, "sessionErrors.json"), "utf8"));
const here = mkdtempSync(join(tmpdir(), "bendbook-order-"));
afterAll(() => rmSync(here, { recursive: true, force: true }));
const [head, ...rows] = readFileSync(join(folder, "sessions.csv"), "utf8").trim().split("\n");
writeFileSync(join(here, "shots.csv"), [`Trial,${head}`, ...rows.map((row, i) => `${i + 1},${row}`)].join("\n"));
const bendbook = commandLine(() => here);

describe("regress --order", () => {
  const asked = ["regress", "shots.csv", "--response", "Bend (in)", "--driver", "Speed (mph)", "--category", "Cloth"];
  it("has R's drift and neighbours", () => {
    const { order } = JSON.parse(bendbook(...asked, "--order", "Trial", "--json").out);
    // REML climbs by numbers on R's side, to about 1e-8 of the top.
    expect(order.drift.estimate).toBeCloseTo(few.ordered.estimate[4], 8);
    expect(order.drift.standardError).toBeCloseTo(few.ordered.standardError[4], 8);
    expect(order.drift.df).toBeCloseTo(few.ordered.df[4], 5);
    expect(order.neighbours.share).toBeCloseTo(few.neighbours.share, 10);
    expect(order.neighbours.expected).toBeCloseTo(few.neighbours.mean, 10);
    expect(order.neighbours.standardError).toBeCloseTo(few.neighbours.sd, 10);
  });
  it("says it in sentences, and refuses a driver as the order", () => {
    expect(bendbook(...asked, "--order", "Trial").out).toContain("No sign that bend drifts within a session");
    expect(bendbook(...asked, "--order", "Speed (mph)").err).toContain("asked for both as the order");
  });
});
