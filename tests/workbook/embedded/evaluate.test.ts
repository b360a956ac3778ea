/** Formulas that stand in no cell. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createEngine, type Engine } from "../../../src/workbook/embedded/engine";
import { book, sheet } from "./books";

let engine: Engine;
beforeAll(async () => {
  engine = await createEngine(
    book(
      [
        sheet(
          "Log",
          [
            ["Gap", "Bend"],
            [0.5, "=BANK.BEND(A2)"],
            [0.25, "=BANK.BEND(A3)"],
            [null, null],
          ],
          { tables: [{ name: "Trials", area: { row: 0, column: 0, rows: 3, columns: 2 } }] },
        ),
      ],
      {
        names: [{ name: "Gaps", reference: "Log!$A$2:$A$3" }],
      },
    ),
  );
});
afterAll(() => engine.dispose());

const one = async (formula: string) => (await engine.evaluate([formula]))[0];

describe("evaluate", () => {
  it.each([
    ["BANK.BEND(1/8)", 1],
    ["=BANK.BEND(1/8)", 1],
    ["  = bank.bend( 1/8 )", 1],
    ["BANK.BEND (1/8)", 1],
    ["-BANK.BEND(1)", -0.125],
    ["BANK.BEND(-0.5)", 1.625],
    ["BANK.BEND(.50)", 0.625],
    ['BANK.BEND(3,,"mm")', 25.575],
    ['BANK.INCHES("3/16""")', 0.1875],
    ['BANK.INCHES("1⅛")', 1.125],
    ['BANK.INCHES("1/8")', 0.125],
    ["SUM(BANK.BEND({1,0.5}))", 0.75],
    ['IFERROR(BANK.BEND("x"),7)', 7],
    ['IF(A1="","",BANK.BEND(0.5))', 0.625],
    ['IF(A4="","blank",BANK.BEND(A4))', "blank"],
    [
      "{1,2;3,4}",
      [
        [1, 2],
        [3, 4],
      ],
    ],
    [
      "{-1,+2;1e-3,0.50}",
      [
        [-1, 2],
        [0.001, 0.5],
      ],
    ],
    ['{"a,b";"c;d"}', [["a,b"], ["c;d"]]],
    ['{"say ""hi""","{1}"}', [['say "hi"', "{1}"]]],
    [
      "BANK.BEND({1,0.5;0.25,0})",
      [
        [0.125, 0.625],
        [0.875, 1.125],
      ],
    ],
    ["1/3", 1 / 3],
    ["PI()", Math.PI],
    ["1e5", 100000],
    ["0.50", 0.5],
    ["12345678901234567", 12345678901234567],
    ['IF(0.50=0.5,"same","other")', "same"],
    ['"⅛"&"é"', "⅛é"],
    ["TRUE", true],
    ["SUM(Log!A2:A3)", 0.75],
    ["SUM(Gaps)", 0.75],
    ["SUM(Trials[Bend])", 1.5],
    ["LET(x,2,x+1)", 3],
    ["-{1,2}", [[-1, -2]]],
    ["--TRUE", 1],
    ["@Log!A2", 0.5],
    ["SUM(Log!A:A)", 0.75],
    ["SUM(Log!2:2)", 1.125],
    ["IFERROR(#N/A,1)", 1],
  ])("%s", async (formula, value) => {
    expect(await one(formula)).toEqual(value);
  });

  it.each([
    ["BANK.BENT(1)", "#NAME?", /no function BANK\.BENT.*BANK\.BEND/],
    ["SUMM(1)", "#NAME?", /no function SUMM.*SUM/],
    ["bend", "#NAME?", /no cell, name or table bend/],
    ["SUM(Trails[Gap])", "#NAME?", /no table Trails.*Trials/],
    ["SUM(Trials[Gpa])", "#NAME?", /no column Gpa.*Gap, Bend/],
    ["Nowhere!A1", "#REF!", /no sheet Nowhere.*"Log"/],
    ["BANK.BEND(1", "#ERROR!", /lacks a closing \)/],
    ["BANK.BEND(1))", "#ERROR!", /\) without its \(/],
    ["1+", "#ERROR!", /\+ at the end/],
    ['"abc', "#ERROR!", /no closing "/],
    ["{1,2;3}", "#ERROR!", /differ in length/],
    ["{1,BANK.BEND(1)}", "#ERROR!", /may stand in an array/],
    ["Trials[Gap", "#ERROR!", /no closing \]/],
    ["SUM(1;2)", "#ERROR!", /comma parts them/],
    ["1,5", "#ERROR!", /point/],
    ["1.2.3", "#ERROR!", /no number/],
    ["BANK.BEND(“x”)", "#ERROR!", /“/],
    ["PI", "#NAME?", /needs brackets/],
    ["1 2", "#ERROR!", /nothing joins 1 and 2/],
    ["", "#ERROR!", /empty/],
    ["=", "#ERROR!", /empty/],
    ["BANK.BEND()", "#VALUE!", /takes 1 to 3 arguments, not 0/],
    ['BANK.BEND(1,2,"in",4)', "#VALUE!", /takes 1 to 3 arguments, not 4/],
    ['BANK.BEND("x")', "#VALUE!", /gap.*"x"/],
    ["BANK.BEND(A4)", "#N/A", /gap.*blank/],
    ["BANK.BEND(DATE(2026,1,8))", "#VALUE!", /date/],
    ["1/0", "#DIV/0!", /divides by zero/],
  ])("%s is %s", async (formula, error, message) => {
    expect(await one(formula)).toEqual({ error, message: expect.stringMatching(message) });
  });

  it("names the cell of a lifted result that has the error", async () => {
    expect(await one('BANK.BEND({1;"x"})')).toEqual([
      [0.125],
      [{ error: "#VALUE!", message: expect.stringContaining('"x"') }],
    ]);
  });

  it("is not disturbed by a formula that nobody can read", async () => {
    const values = await engine.evaluate(["SUM(A[", "BANK.BEND(1/8)", "'Bo", "BANK.BEND(1/8)", '"', "BANK.BEND(1/8)"]);
    expect([values[1], values[3], values[5]]).toEqual([1, 1, 1]);
  });

  it("leaves the cells and what they say alone", async () => {
    const before = engine.live.book();
    await engine.evaluate(['BANK.BEND("x")', "{1;2;3}"]);
    expect(engine.live.book()).toEqual(before);
  });
});
