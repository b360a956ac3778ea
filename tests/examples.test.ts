/** Runs every one-line example in the comments of the pure folders: `code === value` or `code // value`. */
/// <reference types="vite/client" />
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const FOLDERS = ["bank", "statistics", "experiment", "workbook"];
const modules = import.meta.glob<Record<string, unknown>>(["../src/bank/*.ts", "../src/statistics/*.ts", "../src/experiment/*.ts", "../src/workbook/*.ts", "!../src/**/*.d.ts"], { eager: true });
const scope = Object.assign({}, ...Object.values(modules)) as Record<string, unknown>;

function evaluate(code: string): unknown {
  return new Function(...Object.keys(scope), `return (${code});`)(...Object.values(scope));
}

/** Numbers to 9 digits, which is what the comments print; everything else exactly. */
function expectAlike(found: unknown, expected: unknown): void {
  if (typeof expected === "number") expect(Math.abs((found as number) - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1e-3, Math.abs(expected)));
  else if (typeof expected === "object" && expected !== null) {
    expect(Object.keys(found as object)).toEqual(Object.keys(expected));
    for (const [key, value] of Object.entries(expected)) expectAlike((found as Record<string, unknown>)[key], value);
  } else expect(found).toBe(expected);
}

for (const folder of FOLDERS) {
  describe(`examples in src/${folder}`, () => {
    for (const file of readdirSync(new URL(`../src/${folder}/`, import.meta.url)).filter((name) => name.endsWith(".ts"))) {
      const source = readFileSync(new URL(`../src/${folder}/${file}`, import.meta.url), "utf8");
      for (const [, example] of source.matchAll(/@example[ \t]+(\S.*?)\s*(?:\*\/)?$/gm)) {
        it(`${file}: ${example}`, () => {
          const [code, expected] = example.split(" // ");
          if (expected === undefined) expect(evaluate(code)).toBe(true);
          else expectAlike(evaluate(code), evaluate(expected));
        });
      }
    }
  });
}
