/**
 * The first hour in the shipped page, by keyboard alone where the panel is concerned: a log, five shots, a first
 * answer; help; undo.
 */
import { expect } from "vitest";
import { selected, typeInto } from "./gridTyping";
import { journey } from "./journey";
import { showView } from "./workbenchPage";

journey("First hour", undefined, "leads from nothing to a first answer", async (page, { width }) => {
  const press = async (name: string | RegExp) => {
    await page
      .locator("#panel")
      .getByRole("button", { name, exact: typeof name === "string" })
      .focus();
    await page.keyboard.press("Enter");
  };
  await press("Prepare");
  await page.getByText('There is a log on the sheet "Trials"').waitFor();
  await press("Help: First hour");
  await page.locator("[data-part=help]").getByText("The first hour: a log").waitFor();
  await page.keyboard.press("Escape");
  expect(await page.locator("[data-part=help]").count()).toBe(0);

  await press("Make a new log");
  await page.getByText('The new sheet "Log" is in front; its first shot is asked for above.').waitFor();
  await page.getByText('There is a log on the sheet "Log": 13 columns, 0 rows filled.').waitFor();
  if (width === 1400) {
    await expect.poll(() => selected(page)).toBe("I2");
    for (const [i, gap] of ["0.25", "0.3125", "0.1875", "0.25", "0.375"].entries())
      await typeInto(page, `I${i + 2}`, gap);
    await page.locator("[data-part=bends]").getByText("Row 2: gap 1/4 in, bend 0.875 in").waitFor();
    await page
      .locator("[data-part=first-answer]")
      .getByText("Over 5 shots the bend was 0.850 in on average; the true average lies between")
      .waitFor();
    // A gap that cannot be is pointed out at its cell and is in no average; a reading keeps its own division.
    for (const [cell, gap] of [
      ["I7", "45"],
      ["I8", "0.15625"],
    ] as const)
      await typeInto(page, cell, gap);
    await page.locator("[data-part=doubts]").getByText("I7: 45 in is more than a ball's diameter.").waitFor();
    await page.locator("[data-part=bends]").getByText("Row 8: gap 5/32 in, bend 0.96875 in").waitFor();
    await page
      .locator("[data-part=first-answer]")
      .getByText("1 shot with a gap that cannot be is not in it.")
      .waitFor();
    await press("Ask what drives it");
    await page.locator("[data-part=by]").waitFor();
    expect(await page.locator("[data-part=by]").innerText()).toContain("Bend (in): 7 of 7 rows used");
  }
  // What the panel wrote is taken back, unless somebody typed into it.
  await showView(page, "Measure");
  // A fresh log has a column of gaps, with nothing in it.
  if (width !== 1400)
    await page
      .getByText("No gap stands under Gap (in) of Log yet; once there is one, every bend gets its budget here.")
      .waitFor();
  await press("Write the budget to a sheet");
  await page.getByText('Written to the new sheet "Uncertainty". No other cell was touched.').waitFor();
  await press('Undo the sheet "Uncertainty"');
  await page.getByText('Taken back: the sheet "Uncertainty".').waitFor();
  expect(await page.locator("#grid").getByRole("tab", { name: "Uncertainty" }).count()).toBe(0);
  // Choices stand between the two sheets; they are kept half a second after they were made.
  const undo = page.locator("#panel").getByRole("button", { name: /^Undo/ });
  for (let i = 0; i < 5; i++) {
    await page.waitForTimeout(700);
    if ((await undo.innerText()) === 'Undo the sheet "Log"') break;
    await press(/^Undo/);
  }
  await press('Undo the sheet "Log"');
  await page
    .getByText(
      width === 1400
        ? 'The sheet "Log" was changed since it was written, so it stays.'
        : 'Taken back: the sheet "Log".',
    )
    .waitFor();
});
