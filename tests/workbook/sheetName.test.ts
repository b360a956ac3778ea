import fc from "fast-check";
import { expect, it } from "vitest";
import { freeSheetName } from "../../src/workbook/sheetName";

it("keeps a good name", () => {
  expect(freeSheetName("Bo's log", ["Trials"])).toBe("Bo's log");
});

it("mends whatever it is given to a name that is permitted and free", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary", maxLength: 50 }), (wanted) => {
      const first = freeSheetName(wanted, []);
      const second = freeSheetName(wanted, [first]);
      for (const name of [first, second]) {
        expect(name).not.toMatch(/[:\\/?*[\]]|^'|'$/);
        expect(name.length).toBeGreaterThan(0);
        expect(name.length).toBeLessThanOrEqual(31);
      }
      expect(second.toLowerCase()).not.toBe(first.toLowerCase());
    }),
  );
});
