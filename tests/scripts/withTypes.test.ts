/** What lint asks of the types: members of Office.js that the manifest covers, and texts that keep their numbers. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { root } from "../../scripts/install.mjs";
import { flattened } from "../../scripts/lint/carriedNumbers";
import { programOf } from "../../scripts/lint/compiler";
import { askedSets, beyond, officeFiles, officeUses, type Use } from "../../scripts/lint/officeSets";
import { readManifest } from "../../scripts/manifest";

const OFFICE = `const NAMES = ["items/name", "items/visibility"];
    export async function some(context: Excel.RequestContext) {
      context.workbook.worksheets.load(NAMES);
      const range = context.workbook.getSelectedRange().load("valuesAsJson,address");
      const hidden = range.getRowProperties({ rowHidden: true });
      const { items } = context.workbook.tables;
      await Office.addin.setStartupBehavior(Office.StartupBehavior.load);
      return [hidden, items];
    }`;

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

const TEXTS = `import { joinTexts, say, saysSame, toText, type Said } from "../../src/experiment/language/said";
declare const bend: Said, other: Said, name: string;
declare function anything(value: unknown): void;
export const all = [
${[...WAYS, ...SOUND].map((way) => `  () => ${way},`).join("\n")}
];
`;

let folder: string;
let used: readonly Use[];
let inUse: readonly Use[];
let found: readonly string[];

beforeAll(() => {
  // Below the project, where the types of Office are found.
  folder = mkdtempSync(join(root, ".cache", "types-"));
  const [office, said] = [join(folder, "office.ts"), join(folder, "said.ts")];
  writeFileSync(office, OFFICE);
  writeFileSync(said, TEXTS);
  const sources = ts.sys.readDirectory(join(root, "src"), [".ts", ".tsx"]);
  // Reading all sources with their types takes most of the time, and one reading does for both.
  const program = programOf([...sources, office, said]);
  const uses = officeUses([...officeFiles(), office], program);
  used = uses.filter(({ at }) => at.includes("office.ts"));
  inUse = uses.filter(({ at }) => !at.includes("office.ts"));
  found = flattened([...sources, said], program);
}, 600_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("members of Office.js", () => {
  it("finds members that are called, loaded, taken apart and given as options, with the set of each", () => {
    const sets = new Map(used.map(({ member, sets: of }) => [member, of]));
    expect(sets.get("Range.getRowProperties")).toEqual(["ExcelApi 1.9"]);
    expect(sets.get("Range.valuesAsJson")).toEqual(["ExcelApi 1.16"]);
    expect(sets.get("Worksheet.visibility")).toEqual(["ExcelApi 1.1"]);
    expect(sets.get("Addin.setStartupBehavior")).toEqual(["SharedRuntime 1.1"]);
    expect([...sets.keys()].filter((member) => /rowHidden|items/.test(member))).not.toEqual([]);
  });

  it("names those that the sets do not hold", () => {
    const asked = new Map([["ExcelApi", "1.13"]]);
    expect(
      [...new Set(beyond(used, asked).map(({ member }) => member))].filter((name) => !/Addin|Startup/.test(name)),
    ).toEqual(["Range.valuesAsJson"]);
    expect(beyond(used, asked).map(({ member }) => member)).toContain("Addin.setStartupBehavior");
  });

  it("finds nothing in use that the manifest does not ask for, and the set of pictures and events in use", () => {
    expect(beyond(inUse, askedSets(readManifest()))).toEqual([]);
    const short = new Map([...askedSets(readManifest()), ["ExcelApi", "1.8"]]);
    expect(beyond(inUse, short).map(({ member }) => member)).toContain("Range.getRowProperties");
  });
});

describe("texts that carry numbers", () => {
  it.each(WAYS.map((way, i) => ({ way, line: 5 + i })))("$way is noticed", ({ line }) =>
    expect(found.filter((one) => one.includes(`said.ts:${line}:`))).not.toEqual([]),
  );

  it("nothing else is, here or in the sources", () =>
    expect(
      found.filter((one) => !/said\.ts:(\d+):/.test(one) || Number(/:(\d+):/.exec(one)?.[1]) >= 5 + WAYS.length),
    ).toEqual([]));
});
