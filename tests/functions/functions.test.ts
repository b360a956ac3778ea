import { describe, expect, it } from "vitest";
import { BEND, CLEARANCE, FRACTION, INCHES, MAKES, OFFSET, REGRESS, SPREAD } from "../../src/functions/functions";
import { at, failure } from "./calls";

describe("lengths", () => {
  it("bend, clearance and offset in inches and millimetres", () => {
    expect(BEND(at(0.125))).toEqual([[1]]);
    expect(BEND(at(3), undefined, at("mm"))).toEqual([[25.575]]);
    expect(BEND(at(0.125), at(null), at(null))).toEqual([[1]]);
    expect(CLEARANCE(at(1), at(0.25))).toEqual([[0.125]]);
    expect(CLEARANCE(at(0.5), at(0.5))).toEqual([[-0.125]]);
    expect(OFFSET(at(1))).toEqual([[0.125]]);
    expect(OFFSET(at(1), at(0.0625))).toEqual([[0.0625]]);
    expect(OFFSET(at(20), at(1), at(57.15), at("mm"))[0][0]).toBeCloseTo(7.575, 12);
  });

  it("takes ruler readings as text, and text numbers", () => {
    expect(BEND(at("1 1/8"))).toEqual([[0]]);
    expect(BEND(at(" 0.125 "))).toEqual([[1]]);
    expect(BEND(at("3 mm"), undefined, at("mm"))[0][0]).toBeCloseTo(25.575, 12);
  });

  it("lifts over ranges, single cells used throughout, errors kept in their cell", () => {
    expect(
      BEND([
        [0.125, 0.25],
        [0.5, 1],
      ]),
    ).toEqual([
      [1, 0.875],
      [0.625, 0.125],
    ]);
    expect(CLEARANCE([[1], [0.5]], [[0.25, 0.125]])).toEqual([
      [0.125, 0],
      [-0.375, -0.5],
    ]);
    const [[good], [blank], [bad]] = BEND([[0.125], [null], ["x"]]);
    expect(good).toBe(1);
    expect(blank).toMatchObject({ code: "#N/A", message: expect.stringContaining("gap is blank") });
    expect(bad).toMatchObject({ code: "#VALUE!", message: expect.stringContaining('gap is "x"') });
    expect(failure(() => BEND([[1], [2]], [[2], [2], [2]]))).toMatch(/gap is 2 × 1 and ballDiameter is 3 × 1/);
  });

  it("never takes a blank for a zero", () => {
    expect(failure(() => BEND(at(null)))).toMatch(/^#N\/A gap is blank: give a number in inches/);
    expect(failure(() => BEND(at("  ")))).toMatch(/^#N\/A/);
    expect(failure(() => CLEARANCE(at(1), at(null)))).toMatch(/^#N\/A gap is blank/);
    expect(BEND(at(0))).toEqual([[1.125]]);
  });

  it("knows a fraction that became a date", () => {
    expect(failure(() => BEND(at(46030)))).toBe(
      "#VALUE! gap is 46030, the number of the date 2026-01-08: a fraction such as 1/8 was turned into a date. Type 0 1/8 or =1/8, or '1/8 as text.",
    );
    expect(failure(() => INCHES(at(45000)))).toContain("turned into a date");
  });

  it.each([
    [() => BEND(at("soon")), /gap is "soon", which is no number and no fraction: give a number in inches/],
    [() => BEND(at(true)), /gap is TRUE, which is no number/],
    [() => BEND(at(1), at(57.15)), /ballDiameter is 57.15 in, which no ball has.*"mm"/],
    [() => BEND(at(1), at(2.25), at("mm")), /ballDiameter is 2.25 mm, which no ball has.*"in"/],
    [() => BEND(at(1), at(-1)), /ballDiameter is -1: a diameter is above 0 in/],
    [() => BEND(at(1), at(0)), /ballDiameter is 0/],
    [() => BEND(at(1), undefined, at("yd")), /units is "yd": give "in" or "mm"/],
    [() => BEND(at("1/8"), undefined, at("mm")), /reading in inches where units is mm/],
    [() => OFFSET(at(1), at(-1)), /guard is -1: a guard band is 0 in or more/],
    [() => FRACTION(at(1), at(0)), /denominator is 0: give a whole number from 1 to 1000/],
    [() => FRACTION(at(1), at(2.5)), /denominator is 2.5/],
    [() => INCHES(at("1/0")), /text is "1\/0", which has 0 below the line/],
    [() => BEND(at({ error: "#REF!" })), /gap holds the error #REF!/],
  ] as const)("names argument, value and mend: %#", (call, message) =>
    expect(failure(call as () => unknown)).toMatch(message),
  );

  it("readings go both ways", () => {
    expect(
      INCHES([
        ["1 1/8", "1-1/8"],
        ["1⅛", '3/16"'],
      ]),
    ).toEqual([
      [1.125, 1.125],
      [1.125, 0.1875],
    ]);
    expect(INCHES(at(1.5))).toEqual([[1.5]]);
    expect(FRACTION(at(1.13))).toEqual([["1 1/8 (rounded down 0.005 to 1/16)"]]);
    expect(INCHES(FRACTION(at(0.3), at(64)))[0][0]).toBeCloseTo(19 / 64, 12);
  });
});

describe("tables", () => {
  const y = [[1], [2], [3], [4.5]];

  it("REGRESS spills a header and a row per term, with names", () => {
    const table = REGRESS(
      y,
      [
        [1, "a"],
        [2, "b"],
        [3, "a"],
        [4, "b"],
      ],
      [["speed", "cloth"]],
    );
    expect(table[0]).toEqual(["term", "estimate", "standard error", "low", "high", "p"]);
    expect(table.slice(1).map(([term]) => term)).toEqual(["constant", "speed", "cloth: b"]);
    expect(table[2][1]).toBeCloseTo(1.125, 12);
    expect(table.every((row) => row.length === 6)).toBe(true);
  });

  it("REGRESS counts the rows that a blank leaves out", () => {
    const table = REGRESS([...y, [null], [6]], [[1], [2], [3], [4], [5], [""]]);
    expect(table[table.length - 1][0]).toBe("4 of 6 rows used, 2 left out for a blank");
  });

  it("REGRESS leaves an estimate that the rows do not give empty and says why", () => {
    const table = REGRESS(y, [
      [1, 2],
      [2, 4],
      [3, 6],
      [4, 8],
    ]);
    expect(table[2].slice(1)).toEqual(["", "", "", "", ""]);
    expect(table[4][0]).toContain("always changes together");
  });

  it("REGRESS takes rows lying sideways", () => {
    expect(REGRESS([[1, 2, 3, 4.5]], [[1, 2, 3, 4]])).toEqual(REGRESS(y, [[1], [2], [3], [4]]));
  });

  it.each([
    [() => REGRESS(y, [[1], [2]]), /response has 4 rows and drivers has 2/],
    [
      () =>
        REGRESS(
          [
            [1, 2],
            [3, 4],
          ],
          [[1], [2]],
        ),
      /response is 2 × 2.*one column/,
    ],
    [() => REGRESS(y, [[1], ["x"], [3], [4]]), /drivers, column driver 1, row 2 is "x" in a column of numbers/],
    [() => REGRESS(y, [[1], [{ error: "#N/A" }], [3], [4]]), /drivers holds the error #N\/A in row 2/],
    [() => REGRESS([["a"], [2], [3], [4]], [[1], [2], [3], [4]]), /response, row 1, is "a"/],
    [() => REGRESS([[null], [null]], [[1], [2]]), /no row of 2 that is complete/],
    [() => REGRESS(y, [[1], [2], [3], [4]], [["a", "b"]]), /names has 2 entries and drivers has 1 columns/],
    [() => REGRESS(y, [[1], [2], [3], [4]], undefined, at(95)), /confidence is 95: give a share between 0 and 1/],
    [() => SPREAD([[1], [null]]), /values has 1 usable value: give at least 2/],
    [() => SPREAD([[1, "x"]]), /values, row 1, is "x"/],
    [() => MAKES(at(11), at(10)), /made is 11 and tries is 10/],
    [() => MAKES(at(1.5), at(10)), /made is 1.5: give a whole number/],
    [() => MAKES(at(0), at(0)), /tries is 0: give a whole number from 1 up/],
    [() => MAKES([[1], [2]], at(10)), /made is 2 × 1 \(rows × columns\): give one cell/],
  ] as const)("names argument, value and mend: %#", (call, message) =>
    expect(failure(call as () => unknown)).toMatch(message),
  );

  it("SPREAD passes over blanks and says n", () => {
    const table = SPREAD([
      [1, null],
      [2, ""],
      [3, "4"],
    ]);
    expect(table[3]).toEqual(["n", 4, "", ""]);
    expect(table[1][1]).toBe(2.5);
  });

  it("MAKES names its method", () => {
    const [header, row] = MAKES(at(7), at(10));
    expect(header).toEqual(["success rate", "low", "high", "method"]);
    expect(row[3]).toContain("Clopper–Pearson");
  });
});
