/** docs/field-problems.md: every problem that is known from the field, each with a test that there is. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { root } from "../scripts/install.mjs";
import * as functions from "../src/functions/functions";
import metadata from "../src/functions/functions.json";

const KNOWN = [
  "CORS",
  "loopback",
  "call before associate",
  "recalculation at opening",
  "second workbook",
  "cached metadata",
  "blank as 0",
  "download and print",
  "resids",
  "unassociated ids",
  "promises that never settle",
  "nulls",
  "errors in arrays",
  "codes",
  "#NAME?",
  "5 MB",
  "edit mode",
];
const rows = readFileSync(join(root, "docs", "field-problems.md"), "utf8")
  .split("\n")
  .filter((line) => line.startsWith("| ") && !line.startsWith("| ---") && !line.startsWith("| problem"))
  .map((line) => line.slice(2, -2).split(" | "));

describe("the table of known problems", () => {
  it("has each of them", () => {
    const named = rows.map(([name]) => name);
    expect(KNOWN.filter((name) => !named.includes(name))).toEqual([]);
  });

  it.each(rows.map((row) => [row[0]!, row] as const))("%s: says how it is avoided, and by which test", (_, row) => {
    expect(row).toHaveLength(4);
    for (const cell of row) expect(cell.trim().length).toBeGreaterThan(3);
    const [, file, title] = /^`(tests\/[\w/.-]+)`: (.*)$/.exec(row[3]!) ?? [];
    expect(file && existsSync(join(root, file)), row[3]).toBe(true);
    const source = readFileSync(join(root, file!), "utf8").replaceAll('\\"', '"');
    expect(source).toContain(title);
    expect(source.slice(0, source.indexOf(title!))).toMatch(/\bit(\.each)?\(/);
  });
});

/** Keep what is the person's or Excel's, not the workbook's: notices read, what is preferred, whether blanks come. */
const OF_THE_PERSON = ["notices.ts", "preferences.ts", "blankMemory.ts"];

it("the pane keeps nothing outside its workbook", () => {
  for (const room of ["panel", "taskpane", "hosts", join("workbook", "excel")])
    for (const entry of readdirSync(join(root, "src", room), { recursive: true, withFileTypes: true })) {
      if (!/\.tsx?$/.test(entry.name) || OF_THE_PERSON.includes(entry.name)) continue;
      const text = readFileSync(join(entry.parentPath ?? entry.path, entry.name), "utf8");
      expect(text, entry.name).not.toMatch(/\b(localStorage|sessionStorage|indexedDB|document\.cookie)\b/);
    }
});

it("every function answers at once", () => {
  for (const [name, body] of Object.entries(functions)) {
    // One that awaits something is of another kind, and so is one that gives its answer bit by bit.
    expect(Object.getPrototypeOf(body), name).toBe(Function.prototype);
  }
  for (const one of metadata.functions) expect(Object.keys(one), one.id).not.toContain("options");
  const answers: unknown[] = [
    functions.BEND([[0.875]]),
    functions.SPREAD([[1], [2]]),
    functions.LAYOUT([[50]], [[20]], [[40]], [[0.5]], [[0.75]]),
  ];
  for (const answer of answers) expect(Array.isArray(answer)).toBe(true);
});
