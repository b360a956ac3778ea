/** Names of the grid's controls, from the commands that they carry. */
import { expect, it } from "vitest";
import { commandWords } from "../../src/workbench/gridNames";

it("says what a control does in the words of its command", () => {
  expect(commandWords("univer.command.undo")).toBe("undo");
  expect(commandWords("sheet.command.set-range-bold")).toBe("bold");
  expect(commandWords("sheet.command.numfmt.add.decimal")).toBe("add decimal");
  expect(commandWords("")).toBe("");
});
