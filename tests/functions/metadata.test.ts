/**
 * functions.json is generated from the comments in functions.ts and held here; `node scripts/run.mjs functionsMetadata`
 * rewrites it.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as functions from "../../src/functions/functions";
import metadata from "../../src/functions/functions.json";
import { functionSignatures, functionsMetadata } from "../../scripts/functionsMetadata";

/** Kept for workbooks that have them. */
const OLD_NAMES = ["RUN"];
/** Words that say a unit, a share or a count, or that it does not matter which. */
const UNIT =
  /\b(inches|mph|in hPa|°F|in %|share|from 0 to 1|any one unit|unit of|unit per|response's unit|Fewest shots)\b|°F/;
/**
 * Functions of Excel 4.0 macros of one plain word, which Microsoft's page on naming custom functions asks to keep clear
 * of (it names RUN and ECHO; the others are from memory).
 */
const MACRO_FUNCTIONS =
  "ALERT APPLY ARGUMENT BEEP BORDER BREAK CALCULATE CALL CLEAR CLOSE COMBINATION CONSOLIDATE COPY CUT DEREF DIRECTORY DISPLAY ECHO EDITION ELSE END ERROR EVALUATE EXEC EXECUTE FOR FORMULA FULL GOTO HALT HELP HIDE INITIATE INPUT INSERT JUSTIFY LEGEND LINKS LIST MAIN MERGE MESSAGE MOVE NAMES NEW NEXT NOTE OPEN OPTIONS OUTLINE OVERLAY PARSE PASTE PATTERNS PAUSE POKE PRECISION PREFERRED PRINT PROTECT QUIT REFTEXT REGISTER REQUEST RESTART RESULT RESUME RETURN RUN SAVE SCALE SCENARIO SELECT SELECTION SERIES SIZE SORT SPLIT STEP STYLE SUBSCRIBE TABLE TERMINATE TEXTREF UNDO UNGROUP UNHIDE UNREGISTER VOLATILE WAIT WHILE WINDOWS WORKSPACE ZOOM".split(
    " ",
  );

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
      // All that Excel shows while a name is typed; the dialog cuts longer ones.
      expect(one.description.length).toBeLessThanOrEqual(255);
      if (!OLD_NAMES.includes(one.name)) expect(one.description).toMatch(UNIT);
      expect(one.helpUrl).toBe(`https://localhost:3443/functions.html#BANK.${one.name}`);
      for (const { description, dimensionality } of one.parameters) {
        expect(description.length).toBeGreaterThan(10);
        expect(dimensionality).toBe("matrix");
      }
      for (const { name, description, optional } of one.parameters as {
        name: string;
        description: string;
        optional?: boolean;
      }[])
        if (optional) expect(description, name).toMatch(/left out/);
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

  it("has no name of Excel's macro functions or cells, old names apart, and those compute what the new ones do", () => {
    const names = metadata.functions.map(({ name }) => name);
    expect(names.filter((name) => MACRO_FUNCTIONS.includes(name))).toEqual(OLD_NAMES);
    expect(names.filter((name) => /^[A-Z]{1,3}\d+$|^R\d*C\d*$/.test(name))).toEqual([]);
    const given = [[[5]], [[0]], [[0.5]], [[40]]] as const;
    expect(functions.RUN(...(given as unknown as Parameters<typeof functions.RUN>))).toEqual(
      functions.CLOTHRUN(...(given as unknown as Parameters<typeof functions.CLOTHRUN>)),
    );
  });
});
