import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  callsBank,
  formulaPieces,
  fromStorage,
  isDynamic,
  movedFormula,
  toStorage,
  withSheetRenamed,
} from "../../../../src/workbook/file/package/storageFormula";

describe("stored and typed formulas", () => {
  const pairs: [stored: string, typed: string][] = [
    ["_xldudf_BANK_BEND(B2)", "BANK.BEND(B2)"],
    [
      'IF(B2="","",_xldudf_BANK_CLEARANCE(C2,_xldudf_BANK_INCHES(B2)))',
      'IF(B2="","",BANK.CLEARANCE(C2,BANK.INCHES(B2)))',
    ],
    ['"_xldudf_BANK_BEND("&_xldudf_BANK_BEND(1)', '"_xldudf_BANK_BEND("&BANK.BEND(1)'],
    ['"BANK.BEND(1)"', '"BANK.BEND(1)"'],
    ["_xlfn.STDEV.S(A1:A9)", "STDEV.S(A1:A9)"],
    ["_xlfn._xlws.SORT(_xlfn.UNIQUE(A1:A9))", "SORT(UNIQUE(A1:A9))"],
    ["SUM(_xlfn.ANCHORARRAY(B11))", "SUM(B11#)"],
    ["_xlfn.ANCHORARRAY('Bo''s log'!B11)*2", "'Bo''s log'!B11#*2"],
    ["_xlfn.SINGLE(A1:A9)+1", "@A1:A9+1"],
    ["_xlfn.SINGLE(_xldudf_BANK_SPREAD(A1:A9))", "@BANK.SPREAD(A1:A9)"],
    ["_xlfn.LET(_xlpm.x,B2,_xlpm.y,2,_xlpm.x*_xlpm.y)", "LET(x,B2,y,2,x*y)"],
    ["_xlfn.BYROW(A1:B9,_xlfn.LAMBDA(_xlpm.row,SUM(_xlpm.row)))", "BYROW(A1:B9,LAMBDA(row,SUM(row)))"],
    ["'_xlfn.sheet'!A1", "'_xlfn.sheet'!A1"],
  ];
  it.each(pairs)("%s", (stored, typed) => {
    expect(fromStorage(stored)).toBe(typed);
    expect(toStorage(typed)).toBe(stored);
  });

  // A formula grown from its parts, each said both ways: as typed and as stored. Operators stand between blanks here.
  type Both = { readonly typed: string; readonly stored: string };
  const same = (text: string): Both => ({ typed: text, stored: text });
  const around = (parts: readonly Both[], wrap: (inner: string, isStored: boolean) => string): Both => ({
    typed: wrap(parts.map(({ typed }) => typed).join(","), false),
    stored: wrap(parts.map(({ stored }) => stored).join(","), true),
  });
  const called = (name: string, storedName: string) => (parts: readonly Both[]) =>
    around(parts, (inner, isStored) => `${isStored ? storedName : name}(${inner})`);
  const reference = fc.constantFrom("A1", "$B$2:C9", "Kept!A1", "'Bo''s log'!B2", "Trials[Gap]", "Rate").map(same);
  const operand = (inner: fc.Arbitrary<Both>): fc.Arbitrary<Both> =>
    fc.oneof(
      reference,
      fc.constantFrom("1", "2.5e-3", '"_xlfn.x, ""quoted"" ("', "{1,2;3,4}", "TRUE", "#N/A").map(same),
      fc
        .constantFrom("A1", "'Bo''s log'!B2")
        .map((to): Both => ({ typed: `${to}#`, stored: `_xlfn.ANCHORARRAY(${to})` })),
      fc.constantFrom("A1:A9", "Trials[Gap]").map((of): Both => ({ typed: `@${of}`, stored: `_xlfn.SINGLE(${of})` })),
      fc.constant<Both>({ typed: "Trials[@Gap]", stored: "Trials[[#This Row],[Gap]]" }),
      fc
        .array(inner, { minLength: 1, maxLength: 3 })
        .chain((parts) =>
          fc.constantFrom(
            called("SUM", "SUM")(parts),
            called("STDEV.S", "_xlfn.STDEV.S")(parts),
            called("SORT", "_xlfn._xlws.SORT")(parts),
            called("BANK.BEND", "_xldudf_BANK_BEND")(parts),
            called("", "")(parts),
          ),
        ),
    );
  const bound = (name: string): Both => ({ typed: name, stored: `_xlpm.${name}` });
  const { formula } = fc.letrec<{ formula: Both }>((tie) => ({
    formula: fc.oneof(
      { maxDepth: 4 },
      operand(reference),
      operand(tie("formula")),
      fc
        .tuple(tie("formula"), fc.constantFrom(" + ", " & ", " <> "), tie("formula"))
        .map(([a, sign, b]): Both => ({ typed: a.typed + sign + b.typed, stored: a.stored + sign + b.stored })),
      // What a name stands for, then a second name, then both used; the names of one formula hold all over it.
      fc
        .tuple(tie("formula"), tie("formula"), tie("formula"))
        .map(([a, b, c]) => called("LET", "_xlfn.LET")([bound("x"), a, bound("y_1"), b, bound("x"), c].slice(0, 5))),
      tie("formula").map((body) =>
        called(
          "LAMBDA",
          "_xlfn.LAMBDA",
        )([bound("row"), bound("x"), around([bound("row"), body], (inner) => `MAX(${inner})`)]),
      ),
    ),
  }));

  it("are the same formula, however deep its calls, names and arrays stand in each other", () => {
    fc.assert(
      fc.property(formula, ({ typed, stored }) => {
        expect(toStorage(typed)).toBe(stored);
        // The table's own row is shown as the file has it.
        expect(fromStorage(stored)).toBe(typed.replaceAll("[@Gap]", "[[#This Row],[Gap]]"));
      }),
      { seed: 5, numRuns: 400 },
    );
  });

  it.each([
    // A value is no name, and neither is what stands in a call, an array or an argument of a LET further in.
    ["_xlfn.LET(_xlpm.x,Rate,_xlpm.x*Rate)", "LET(x,Rate,x*Rate)"],
    ["_xlfn.LET(_xlpm.x,SUM(Rate,Low,B1),_xlpm.y,2,_xlpm.x*_xlpm.y+Low)", "LET(x,SUM(Rate,Low,B1),y,2,x*y+Low)"],
    ["_xlfn.LET(_xlpm.x,{1,2},_xlpm.y,3,_xlpm.x*_xlpm.y)", "LET(x,{1,2},y,3,x*y)"],
    ["_xlfn.LET( _xlpm.x , 1 ,_xlpm.X+1)", "LET( x , 1 ,X+1)"],
    ["SUM(x,1)+_xlfn.LAMBDA(_xlpm.y,_xlpm.y)(2)", "SUM(x,1)+LAMBDA(y,y)(2)"],
  ])("%s is %s", (stored, typed) => {
    expect(toStorage(typed)).toBe(stored);
    expect(fromStorage(stored)).toBe(typed);
  });

  it("takes BANK names in any case and mends this-row references", () => {
    expect(toStorage("bank.bend(Trials[@[Gap (in)]])")).toBe("_xldudf_BANK_BEND(Trials[[#This Row],[Gap (in)]])");
    expect(toStorage("Trials[@Gap]*2")).toBe("Trials[[#This Row],[Gap]]*2");
  });

  it("keeps brackets where the pieces would otherwise fall apart", () => {
    expect(fromStorage("_xlfn.SINGLE(A1:A9+1)*2")).toBe("@(A1:A9+1)*2");
  });

  it("cuts any text into pieces that join to it", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => void expect(formulaPieces(text).join("")).toBe(text)),
    );
  });

  it("never fails, whatever the formula", () => {
    const noise = fc.array(
      fc.constantFrom(
        "@",
        "#",
        "(",
        ")",
        "[",
        "]",
        "'",
        '"',
        "_xlfn.SINGLE",
        "_xlfn.ANCHORARRAY",
        "LET",
        ",",
        "A1",
        "BANK.BEND",
        "{",
        "}",
        " ",
      ),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(noise, (pieces) => {
        expect(typeof toStorage(pieces.join(""))).toBe("string");
        expect(typeof fromStorage(pieces.join(""))).toBe("string");
      }),
    );
  });

  it("knows which formulas call BANK functions or may spill", () => {
    expect(callsBank("1+bank.bend(A1)")).toBe(true);
    expect(callsBank('"BANK.BEND(A1)"')).toBe(false);
    expect(callsBank("'BANK.x'!A1")).toBe(false);
    expect(callsBank("SUM('BANK.x'!A1)+SUM(BANK.RATE)")).toBe(false);
    expect(isDynamic("SUM(A1:A3)")).toBe(false);
    expect(isDynamic("UNIQUE(A1:A3)")).toBe(true);
    expect(isDynamic("SUM(A1#)")).toBe(true);
  });
});

describe("shared formulas", () => {
  it.each([
    ["B2*$C$1", 1, 0, "B3*$C$1"],
    ["B2*$C$1", 0, 2, "D2*$C$1"],
    ["SUM($A1:A$9)", 2, 1, "SUM($A3:B$9)"],
    ["SUM(A:B)+SUM(1:2)", 1, 1, "SUM(B:C)+SUM(2:3)"],
    ['"B2"&LOG10(B2)', 1, 0, '"B2"&LOG10(B3)'],
    ["'B2'!B2+Trials[B2]", 1, 0, "'B2'!B3+Trials[B2]"],
    ["A1", -1, 0, "A1048576"],
  ])("%s moved by %i, %i", (formula, down, right, moved) => expect(movedFormula(formula, down, right)).toBe(moved));
});

it("follows a sheet's new name", () => {
  expect(withSheetRenamed("'Old log'!A1+Other!A1+\"'Old log'!A1\"", "Old log", "Bo's log")).toBe(
    "'Bo''s log'!A1+Other!A1+\"'Old log'!A1\"",
  );
});
