import { describe, expect, it } from "vitest";
import { panelTheme } from "../../src/taskpane/officeTheme";

describe("panelTheme", () => {
  it.each([
    ["#FFFFFF", "light"],
    ["#F3F2F1", "light"],
    ["#262626", "dark"],
    ["#000000", "dark"],
    ["#666666", "dark"],
    ["#ffffffff", "light"],
  ])("%s is %s", (background, theme) => expect(panelTheme(background, false)).toBe(theme));

  it("leaves it to the system where Office does not say, and in a contrast theme", () => {
    expect(panelTheme(undefined, false)).toBeUndefined();
    expect(panelTheme("white", false)).toBeUndefined();
    expect(panelTheme("#000000", true)).toBeUndefined();
  });
});
