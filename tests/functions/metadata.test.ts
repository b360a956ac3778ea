/**
 * functions.json is generated from the comments in functions.ts and held here; `node scripts/run.mjs functionsMetadata`
 * rewrites it.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as functions from "../../src/functions/functions";
import metadata from "../../src/functions/functions.json";
import { functionSignatures, functionsMetadata } from "../../scripts/functionsMetadata";

describe("functions.json", () => {
  it("is what the comments say", async () => {
    expect(readFileSync(new URL("../../src/functions/functions.json", import.meta.url), "utf8")).toBe(
      await functionsMetadata(),
    );
  });

  it("without its texts is what calls are made by", () => {
    const read = (name: string) => readFileSync(new URL(`../../src/functions/${name}`, import.meta.url), "utf8");
    expect(read("signatures.json")).toBe(functionSignatures(read("functions.json")));
    expect(read("signatures.json")).not.toContain("description");
  });

  it("describes every exported function, and nothing else", () => {
    expect(metadata.functions.map(({ id }) => id).sort()).toEqual(Object.keys(functions).sort());
  });

  it.each(metadata.functions.map((one) => [one.id, one] as const))(
    "%s: names that Excel takes, and a description of every part",
    (_, one) => {
      expect(one.id).toBe(one.name);
      expect(one.name).toMatch(/^[A-Z]{3,}$/);
      expect(one.description.length).toBeGreaterThan(30);
      for (const { description, dimensionality } of one.parameters) {
        expect(description.length).toBeGreaterThan(10);
        expect(dimensionality).toBe("matrix");
      }
    },
  );

  it("says the unit of every length", () => {
    const parameters = metadata.functions.flatMap((one) => one.parameters);
    for (const length of ["gap", "bend", "guard", "ballDiameter", "text", "value"]) {
      const named = parameters.filter(({ name }) => name === length);
      expect(named, length).not.toEqual([]);
      for (const { description } of named) expect(description).toMatch(/\bunits?\b|\bin\b|inches/);
    }
  });
});
