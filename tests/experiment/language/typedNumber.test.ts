/** Numbers as people type them into forms. */
import { describe, expect, it } from "vitest";
import { readMargin } from "../../../src/experiment/question/otherQuestions";
import { typedNumber } from "../../../src/experiment/language/typedNumber";

describe("a typed number", () => {
  it.each([
    ["0.5", 0.5],
    ["0,5", 0.5],
    [",5", 0.5],
    ["\u22121,25", -1.25],
    ["0,125", 0.125],
    ["12345,678", 12345.678],
    ["1e-3", 0.001],
    [" 8 ", 8],
  ])("%j is %d", (text, value) => expect(typedNumber(text)).toBe(value));
  it.each([
    ["", "is no number"],
    ["1,234", "may mean 1.234 or 1234"],
    ["1,2,3", "is no number"],
    ["9e999", "is no number"],
    ["50 %", "is no number"],
    ["NaN", "is no number"],
    ["0x10", "is no number"],
  ])("%j %s", (text, why) => {
    expect((typedNumber(text) as { why: string }).why).toContain(why);
  });
  it("may be a margin", () => {
    expect(readMargin("0,5", "Bend (mm)")).toBe(0.5);
    expect(readMargin("0x10", "Bend (mm)")).toContain('The margin is "0x10"');
  });
});
