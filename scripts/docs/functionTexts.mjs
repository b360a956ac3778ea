/**
 * What the comments of the worksheet functions say beside functions.json: what each gives, and its examples. Plain
 * JavaScript: the build of the pages needs it without a loader.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";

const SOURCE = join(import.meta.dirname, "..", "..", "src", "functions", "functions.ts");

export function functionExamples() {
  const source = readFileSync(SOURCE, "utf8");
  return [...source.matchAll(/@example =(BANK\.(\w+)\(.*?) → ?(.*)$/gm)].map(([, formula, name, shown]) => ({
    name,
    formula,
    shown: shown.trim(),
  }));
}

export function functionResults() {
  const source = readFileSync(SOURCE, "utf8");
  return Object.fromEntries(
    [...source.matchAll(/@customfunction (\w+)\n(?: \* @param.*\n)*? \* @returns \{any\[\]\[\]\} (.*)$/gm)].map(
      ([, name, result]) => [name, result],
    ),
  );
}
