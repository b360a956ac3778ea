import fc from "fast-check";
import { expect, it } from "vitest";
import { firstAlike, numbersCompared } from "../../../src/statistics/numeric/alikeRows";

it("finds the first row that is alike, as keys of the rows do", () => {
  const value = fc.constantFrom(0, -0, 1, 2, 0.1, -1e300);
  fc.assert(
    fc.property(fc.array(fc.tuple(value, value), { maxLength: 40 }), (rows) => {
      const keys = rows.map((row) => row.map((one) => String(one + 0)).join(" "));
      const columns = [0, 1].map((c) => numbersCompared(rows.map((row) => row[c])));
      expect(Array.from(firstAlike(rows.length, columns))).toEqual(keys.map((key) => keys.indexOf(key)));
    }),
  );
});
