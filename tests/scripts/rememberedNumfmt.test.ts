/** What the pages' build puts in place of the grid library's reader of dates and numbers reads as that one does. */
import fc from "fast-check";
import { expect, it } from "vitest";
import * as remembered from "../../scripts/rememberedNumfmt.mjs";

const library = "../../node_modules/numfmt/lib/index.js";
const shipped = (await import(library)) as typeof remembered;

const text = fc.oneof(
  fc.string(),
  fc.constantFrom("1/2", "3.5", "12%", "new", "S1", "12:30", "2024-02-03", "$4", "", " ", "1e5", "May 3"),
);

it("reads every text as the library does, the first time and later", () => {
  fc.assert(
    fc.property(text, (one) => {
      for (const name of ["parseDate", "parseTime", "parseNumber"] as const)
        for (let time = 0; time < 2; time++) expect(remembered[name](one)).toEqual(shipped[name](one));
    }),
  );
});

it("has all that the library has", () => expect(Object.keys(remembered).sort()).toEqual(Object.keys(shipped).sort()));
