/** The members of Office.js in use against requirement sets: what is found, and that something would be. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { root } from "../../scripts/install.mjs";
import { askedSets, beyond, officeFiles, officeUses, type Use } from "../../scripts/lint/officeSets";
import { readManifest } from "../../scripts/manifest";

let folder: string;
let used: readonly Use[];
let inUse: readonly Use[];

beforeAll(() => {
  // Below the project, where the types of Office are found.
  folder = mkdtempSync(join(root, ".cache", "office-"));
  const file = join(folder, "some.ts");
  writeFileSync(
    file,
    `const NAMES = ["items/name", "items/visibility"];
    export async function some(context: Excel.RequestContext) {
      context.workbook.worksheets.load(NAMES);
      const range = context.workbook.getSelectedRange().load("valuesAsJson,address");
      const hidden = range.getRowProperties({ rowHidden: true });
      const { items } = context.workbook.tables;
      await Office.addin.setStartupBehavior(Office.StartupBehavior.load);
      return [hidden, items];
    }`,
  );
  const all = officeUses([...officeFiles(), file]);
  used = all.filter(({ at }) => at.includes("some.ts"));
  inUse = all.filter(({ at }) => !at.includes("some.ts"));
}, 600_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

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
