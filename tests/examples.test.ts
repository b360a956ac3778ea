/** Runs every one-line example in the comments of the pure rooms: `code === value` or `code // value`. */
/// <reference types="vite/client" />
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const modules = import.meta.glob<Record<string, unknown>>(
  [
    "../src/bank/**/*.ts",
    "../src/statistics/**/*.ts",
    "../src/experiment/**/*.ts",
    "../src/workbook/*.ts",
    "../src/workbook/embedded/formula/*.ts",
    "../src/workbook/file/package/*.ts",
    "!../src/**/*.d.ts",
  ],
  { eager: true },
);
const everything = Object.assign({}, ...Object.values(modules)) as Record<string, unknown>;

/** The names of an example are those of its own file first, then everybody's. */
function evaluate(code: string, own: Record<string, unknown>): unknown {
  const scope = { ...everything, ...own };
  return new Function(...Object.keys(scope), `return (${code});`)(...Object.values(scope));
}

/** Numbers to 9 digits, which is what the comments print; everything else exactly. */
function expectAlike(found: unknown, expected: unknown): void {
  if (typeof expected === "number")
    expect(Math.abs((found as number) - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1e-3, Math.abs(expected)));
  else if (typeof expected === "object" && expected !== null) {
    expect(Object.keys(found as object)).toEqual(Object.keys(expected));
    for (const [key, value] of Object.entries(expected)) expectAlike((found as Record<string, unknown>)[key], value);
  } else expect(found).toBe(expected);
}

const examples = Object.entries(modules).flatMap(([path, own]) => {
  const source = readFileSync(new URL(path, import.meta.url), "utf8");
  return [...source.matchAll(/@example[ \t]+(\S.*?)\s*(?:\*\/)?$/gm)].map(([, example]) => ({
    path: path.replace("../src/", ""),
    example,
    own,
  }));
});

describe("examples", () => {
  it("stand in every room", () => {
    const rooms = new Set(examples.map(({ path }) => path.split("/").slice(0, -1).join("/")));
    for (const room of ["bank", "statistics/numeric", "experiment/log", "experiment/language", "workbook"])
      expect(rooms).toContain(room);
    // Fewer than there were would mean that a folder is no longer looked through.
    expect(examples.length).toBeGreaterThan(150);
  });

  it.each(examples)("$path: $example", ({ example, own }) => {
    const [code, expected] = example.split(" // ");
    if (expected === undefined) expect(evaluate(code, own)).toBe(true);
    else expectAlike(evaluate(code, own), evaluate(expected, own));
  });
});
