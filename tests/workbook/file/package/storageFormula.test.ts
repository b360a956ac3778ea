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
