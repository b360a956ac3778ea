/**
 * The Set-up view in the shipped page: a preset, a wrong value, the sheet it writes, Undo, what other views take of
 * it.
 */
import { expect } from "vitest";
import { journey } from "./journey";
import { showView } from "./workbenchPage";

journey("Set-up", "Set-up", "goes from a preset to the sheet and to the other views", async (page, { book }) => {
  const line = page.locator("[data-part=setup-line]");
  await line.getByText("Table 100 in by 50 in, ball 2.25 in").waitFor();
  await page.getByText('Stands on the sheet "Conditions"').waitFor();
  await page.getByRole("combobox", { name: "Table" }).click();
  await page.getByRole("option", { name: "7 ft" }).click();
  await line.getByText("Table 76 in by 38 in").waitFor();

  const slip = page.getByRole("textbox", { name: "Slip friction, value" });
  await slip.fill("thick");
  await page.getByText(/^Slip friction, value: "thick" is no number/).waitFor();
  expect(await slip.inputValue()).toBe("thick");
  await slip.fill("0.22");
  const target = page.getByRole("textbox", { name: "Target (in), value" });
  await target.fill("3/4");
  await line.getByText("target 0.75 in").waitFor();

  // What other views take: the layout's table, the measurement's target.
  await showView(page, "Layout");
  await page.locator("[data-part=layout-line]").waitFor();
  await showView(page, "Measure");
  await page.locator("[data-part=measured]").getByText("The target of 0.750 in").waitFor();
  await showView(page, "Set-up");
  await line.getByText("target 0.75 in").waitFor();

  const cells = async () => {
    const sheet = (await book()).sheets.find(({ name }) => name === "Conditions")!;
    return Object.fromEntries(Array.from(sheet.rows, (row) => [row?.[0]?.value, row?.[1]?.value]));
  };
  await expect
    .poll(cells, { timeout: 20_000 })
    .toMatchObject({ "table length": 76, target: 0.75, "slip friction": 0.22 });
  // The lists above it stay as they were.
  expect(await cells()).toMatchObject({ North: "by the north wall; invented" });
  await page.getByRole("button", { name: /^Undo the change of the sheet "Conditions"/ }).click();
  await line.getByText("target 1 in").waitFor();
});
