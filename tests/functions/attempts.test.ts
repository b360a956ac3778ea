import { describe, expect, it } from "vitest";
import { NEXTGAP, REACH } from "../../src/functions/functions";
import { at, failure } from "./calls";

const required = [[0.75], [0.875], ["1"], [0.875], [1], [0.875], [0.875], [null]];
const outcomes = [["made"], ["hit"], ["hit obstacle"], ["cleared"], ["Cleared"], ["hit"], ["missed"], [null]];

describe("REACH", () => {
  it("gives the bend at a chance with its interval and the scatter, missed and unshot rows aside", () => {
    const [header, half] = REACH(required, outcomes);
    expect(header).toEqual(["bend", "low", "high", "scatter"]);
    const [bend, , , scatter] = half as number[];
    const [, nine] = REACH(required, outcomes, at(0.9));
    expect(nine![0]).toBeCloseTo(bend! - 1.2815515655 * scatter!, 6);
    // The unit is the caller's own.
    const [, mm] = REACH(
      required.map(([cell]) => [cell === null ? null : Number(cell) * 25.4]),
      outcomes,
    );
    expect(mm![0]).toBeCloseTo(25.4 * bend!, 6);
  });
  it("leaves blank what the attempts do not tell", () => {
    expect(REACH([[1], [1], [1], [1], [1]], [["made"], ["made"], ["cleared"], ["cleared"], ["made"]])[1]).toEqual([
      "",
      1,
      "",
      "",
    ]);
  });
  it.each([
    [() => REACH([[1]], [["perhaps"]]), 'outcomes, row 1, is "perhaps", which is no outcome'],
    [() => REACH([[null]], [["hit"]]), "required, row 1, is blank"],
    [() => REACH([[1], [2]], [["hit"]]), "required has 2 values and outcomes has 1"],
    [() => REACH([[1]], [["missed"]]), "outcomes has 0 usable values"],
    [() => REACH([[1]], [["hit"]], at(1)), "probability is 1: give a share between 0 and 1"],
    [() => NEXTGAP([[1]], [["hit"]], at(0)), "step is 0: give the ruler's division in in"],
  ])("says what is wrong (%#)", (call, message) => {
    expect(failure(call)).toContain(message);
  });
});

describe("NEXTGAP", () => {
  it("stays on the ruler, in inches and in millimetres", () => {
    const [, inches] = NEXTGAP(required, outcomes);
    expect((inches![0] as number) * 32).toBeCloseTo(Math.round((inches![0] as number) * 32), 12);
    const [, mm] = NEXTGAP([[20], [25]], [["made"], ["hit"]], undefined, undefined, undefined, at("mm"));
    expect(mm![0]).toBe(Math.round(mm![0] as number));
    expect(mm![1]).toBeCloseTo(57.15 / 2 - (mm![0] as number), 12);
  });
  it("goes closer after getting by and back after hits, and never where a hit would teach nothing", () => {
    const [, first] = NEXTGAP([[0.5]], [["made"]]);
    const [, closer] = NEXTGAP([[0.5], [0.5], [0.5]], [["made"], ["made"], ["made"]]);
    const [, back] = NEXTGAP([[0.5], [0.5], [0.5]], [["hit"], ["hit"], ["hit"]]);
    expect(closer![1]).toBeGreaterThan(first![1] as number);
    expect(back![1]).toBeLessThan(0.5);
    for (const row of [first, closer, back]) expect(row![2]).toBeGreaterThanOrEqual(0.1);
  });
});
