/**
 * What is written for users: pages made from the sources are what the sources make, every example is computed, every
 * file named is there.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PAGES } from "../scripts/docs";
import { functionExamples } from "../scripts/docs/functionTexts.mjs";
import metadata from "../src/functions/functions.json";
import { createEngine, type Engine } from "../src/workbook/embedded/engine";

const root = join(import.meta.dirname, "..");
const read = (path: string) => readFileSync(join(root, path), "utf8");
const pages = [
  "README.md",
  ...readdirSync(join(root, "docs")).flatMap((name) => (/\.md$/.test(name) ? [`docs/${name}`] : [])),
];

let engine: Engine;
beforeAll(async () => {
  engine = await createEngine();
});
afterAll(() => engine.dispose());

/** Reports that simulations and mutants write: tables, with a line on how each was made. */
const REPORTS: readonly string[] = ["docs/evidence.md", "docs/mutants.md"];

/** Numbers to the six digits that the pages print. */
const print = (cell: unknown) => (typeof cell === "number" ? String(Number(cell.toPrecision(6))) : String(cell ?? ""));

async function computed(formula: string): Promise<string> {
  const [value] = await engine.evaluate([formula]);
  return Array.isArray(value) ? value[0].map(print).join(" | ") : print(value);
}

describe("the pages made from the sources", () => {
  it.each(Object.keys(PAGES))("docs/%s is what npm run docs makes", (name) => {
    expect(read(`docs/${name}`)).toBe(PAGES[name]());
  });

  it("tell every function, argument and command", () => {
    const functions = read("docs/functions.md");
    for (const { name, parameters } of metadata.functions) {
      expect(functions).toContain(`## BANK.${name}\n`);
      for (const parameter of parameters)
        expect(functions).toContain(`- \`${parameter.name}\`: ${parameter.description}`);
    }
    const commands = [...read("docs/commands.md").matchAll(/^## (\w+)$/gm)].map(([, name]) => name);
    expect(commands).toEqual(expect.arrayContaining(["evaluate", "regress", "compare", "repeat", "power", "gather"]));
  });
});

describe("the examples of the functions", () => {
  const examples = functionExamples();

  it.each(examples)("$formula → $shown", async ({ formula, shown }) => {
    expect(await computed(formula)).toBe(shown);
  });

  it("are there for every function, under its own name", () => {
    for (const { name } of metadata.functions)
      expect(
        examples.some((each) => each.name === name),
        name,
      ).toBe(true);
  });
});

describe("the README", () => {
  const text = read("README.md");
  const shown = [...text.matchAll(/^=(BANK\.\S+) .*: ([\d.]+) in$/gm)].map(([, formula, value]) => ({
    formula,
    value,
  }));

  it("shows two formulas", () => expect(shown).toHaveLength(2));

  it.each(shown)("$formula gives $value in", async ({ formula, value }) => {
    expect(await computed(formula)).toBe(value);
  });

  it("has the job in one paragraph at the top, and the cautions", () => {
    expect(text.split("\n\n")[1].length).toBeGreaterThan(300);
    expect(text).toContain("Nobody's face goes on the shot line");
  });
});

/** Sentences of a page's running text and lists: no code, tables, headings or pictures. */
function sentencesOf(markdown: string): string[] {
  const text = markdown
    .replace(/```[\s\S]*?```/g, "")
    .replace(/^(\||#|<img|!\[).*$/gm, "")
    .replace(/\[([^\]]*)\]\([^)]*\)/g, "$1")
    .replace(/`[^`]*`/g, "code");
  return text.split(/[.?!](?=\s|$)|\n/).filter((sentence) => /\w/.test(sentence));
}

describe.each(pages)("%s", (path) => {
  const text = read(path);

  it("names files that are there", () => {
    for (const [, target] of text.matchAll(/(?:\]\(|src=")([\w/.-]+\.\w+)/g))
      expect(existsSync(join(root, dirname(path), target)), target).toBe(true);
  });

  it.skipIf(REPORTS.includes(path))("speaks in sentences that are shorter than 20 words on average", () => {
    const sentences = sentencesOf(text);
    const words = sentences.map((sentence) => sentence.trim().split(/\s+/).length);
    expect(words.reduce((sum, count) => sum + count, 0) / Math.max(1, words.length)).toBeLessThan(20);
  });
});
