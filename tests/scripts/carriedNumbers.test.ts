/** Texts keep their numbers until they are shown: nothing in src flattens one, and every way of doing so is noticed. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { afterAll, beforeAll, expect, it } from "vitest";
import { root } from "../../scripts/install.mjs";
import { flattened } from "../../scripts/lint/carriedNumbers";

const WAYS = [
  "`${bend} in`",
  '"Bend " + bend',
  '[bend, bend].join(" ")',
  "String(bend)",
  "bend === other",
  "[bend].includes(other)",
  "new Set([bend])",
  "JSON.stringify({ found: [{ bend }] })",
  "anything(bend)",
];
const SOUND = [
  "say`${bend} in`",
  "toText(bend)",
  'joinTexts([bend, bend], " ")',
  "saysSame(bend, other)",
  "`${3} in ${name}`",
  'JSON.stringify([toText(bend), { digits: [1, 2], names: ["a"] }])',
  'name === "other"',
];

let folder: string;
let found: readonly string[];
beforeAll(() => {
  folder = mkdtempSync(join(root, ".cache", "said-"));
  const file = join(folder, "some.ts");
  writeFileSync(
    file,
    `import { joinTexts, say, saysSame, toText, type Said } from "../../src/experiment/language/said";
declare const bend: Said, other: Said, name: string;
declare function anything(value: unknown): void;
export const all = [
${[...WAYS, ...SOUND].map((way) => `  () => ${way},`).join("\n")}
];
`,
  );
  found = flattened([...ts.sys.readDirectory(join(root, "src"), [".ts", ".tsx"]), file]);
}, 300_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it.each(WAYS.map((way, i) => ({ way, line: 5 + i })))("$way is noticed", ({ line }) =>
  expect(found.filter((one) => one.includes(`some.ts:${line}:`))).not.toEqual([]),
);

it("nothing else is, here or in the sources", () =>
  expect(
    found.filter((one) => !/some\.ts:(\d+):/.test(one) || Number(/:(\d+):/.exec(one)?.[1]) >= 5 + WAYS.length),
  ).toEqual([]));
