/** Every example of the README is computed, every function has one, and every file it names is there. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import metadata from "../src/functions/functions.json";
import { createEngine, type Engine } from "../src/workbook/embedded/engine";

const root = join(import.meta.dirname, "..");
const text = readFileSync(join(root, "README.md"), "utf8");
const examples = [...text.matchAll(/^=(BANK\..*?)\s+→ ?(.*)$/gm)].map(
  ([, formula, shown]) => [formula, shown.trim()] as const,
);

let engine: Engine;
beforeAll(async () => {
  engine = await createEngine();
});
afterAll(() => engine.dispose());

/** Numbers to the six digits that the README prints. */
const print = (cell: unknown) => (typeof cell === "number" ? String(Number(cell.toPrecision(6))) : String(cell ?? ""));

describe("the README", () => {
  it.each(examples)("%s → %s", async (formula, shown) => {
    const [value] = await engine.evaluate([formula]);
    expect(Array.isArray(value) ? value[0].map(print).join(" | ") : print(value)).toBe(shown);
  });

  it("has an example of every function", () => {
    for (const { name } of metadata.functions)
      expect(
        examples.some(([formula]) => formula.startsWith(`BANK.${name}(`)),
        name,
      ).toBe(true);
  });

  it("names files that are there", () => {
    for (const [, path] of text.matchAll(/(?:\]\(|src=")([\w/.-]+\.png)/g))
      expect(existsSync(join(root, path)), path).toBe(true);
  });

  it("has the job in one paragraph at the top, and the cautions", () => {
    expect(text.split("\n\n")[1].length).toBeGreaterThan(300);
    expect(text).toContain("Nobody's face goes on the shot line");
  });
});
