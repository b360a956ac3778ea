/** The index behind look-ups: the same answers as the one Univer ships, in time that grows with the rows. */
import { createRequire } from "node:module";
import fc from "fast-check";
import { beforeEach, describe, expect, it } from "vitest";
import { makeIndexLinear } from "../../../../src/workbook/embedded/mended/linearIndex";

const { CELL_INVERTED_INDEX_CACHE: index } = createRequire(import.meta.url)(
  "@univerjs/engine-formula",
) as typeof import("@univerjs/engine-formula");
const Shipped = index.constructor as new () => typeof index;
makeIndexLinear({ CELL_INVERTED_INDEX_CACHE: index });

// Empty text is left out here: the shipped index takes it for 0, which a spreadsheet does not.
const value = fc.oneof(
  fc.constantFrom(null, 0, -0, 1, "1", "01", "1.0", "a", "A", true, false, "true", 0.1, 1e21),
  fc.double({ noNaN: true }),
  fc.string({ minLength: 1 }),
);

describe("the index", () => {
  beforeEach(() => index.clear());

  // Errors are left out: the shipped index takes them for text, while Univer's comparison without it keeps them errors.
  it("answers as the shipped one does, whatever is entered over what", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(1), fc.nat(12), value), { maxLength: 60 }),
        fc.array(value, { minLength: 1 }),
        (entries, wanted) => {
          index.clear();
          const shipped = new Shipped();
          for (const [column, row, entry] of entries) {
            index.set("u", "s", column, entry, row, true);
            shipped.set("u", "s", column, entry, row, true);
          }
          for (const sought of [...wanted, ...entries.map(([, , entry]) => entry)]) {
            for (const column of [0, 1, 2]) {
              const sorted = (found: ReturnType<typeof index.getCellPositions>) =>
                found && { ...found, matchingRows: [...found.matchingRows].sort((a, b) => a - b) };
              expect(sorted(index.getCellPositions("u", "s", column, sought, [[2, 9]]))).toEqual(
                sorted(shipped.getCellPositions("u", "s", column, sought, [[2, 9]])),
              );
            }
          }
          index.clear();
          expect(index.getCellValuePositions("u", "s", 0)).toBeUndefined();
        },
      ),
    );
  });

  it("tells a blank, empty text and zero apart: a blank equals both, they do not equal each other", () => {
    [null, "", 0].forEach((entry, row) => index.set("u", "s", 0, entry, row, true));
    const rows = (sought: string | number | null) =>
      [...index.getCellPositions("u", "s", 0, sought as never, [[0, 9]])!.matchingRows].sort();
    expect([rows(null), rows(""), rows(0)]).toEqual([
      [0, 1, 2],
      [0, 1],
      [0, 2],
    ]);
  });

  it("knows errors as errors", () => {
    index.set("u", "s", 0, "#VALUE!", 3, true);
    expect([...index.getCellValuePositions("u", "s", 0)!.keys()]).toEqual(["#VALUE!"]);
    expect(index.getCellPositions("u", "s", 0, "#VALUE!", [[0, 9]])?.errorType).toBe("#VALUE!");
  });

  it("does not enter rows again that are known", () => {
    index.set("u", "s", 0, 5, 3);
    index.setContinueBuildingCache("u", "s", 0, 0, 9);
    index.set("u", "s", 0, 6, 3);
    expect(index.getCellPositions("u", "s", 0, 5, [[0, 9]])?.matchingRows).toEqual([3]);
    index.set("u", "s", 0, 6, 3, true);
    expect(index.getCellPositions("u", "s", 0, 5, [[0, 9]])?.matchingRows).toEqual([]);
    expect(index.getCellPositions("u", "s", 0, 6, [[0, 9]])?.matchingRows).toEqual([3]);
  });
});
