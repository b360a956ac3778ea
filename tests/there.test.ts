import { describe, expect, it } from "vitest";
import { there } from "../src/there";

describe("what must be there", () => {
  it("comes back, whatever it is, and otherwise is named", () => {
    for (const value of [0, "", false, NaN]) expect(there(value, "a value")).toBe(value);
    for (const nothing of [null, undefined])
      expect(() => there(nothing, "a first row")).toThrow("There should be a first row here, and there is none.");
  });
});
