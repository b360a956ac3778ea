/**
 * The Plan view in the shipped page: the form, wrong things typed, the sheet, going on after a break, a changed plan.
 */
import { expect } from "vitest";
import { selected, typeInto } from "./gridTyping";
import { journey } from "./journey";

journey("Plan", "Plan", "goes from the form to the next shot and on to a changed plan", async (page, { width }) => {
  const tells = page.locator("[data-part=plan-tells]");
  await tells.getByText("With two levels no curve can be seen in Speed (mph) and Spin.").waitFor();

  // What is wrong stays as typed, with the reason and the mend.
  const replicates = page.getByRole("textbox", { name: "Replicates" });
  await replicates.fill("four");
  await page.getByText('Replicates is "four": give a whole number, 1 or more.').waitFor();
  expect(await replicates.inputValue()).toBe("four");
  expect(await page.getByRole("button", { name: "Write the plan" }).isDisabled()).toBe(true);
  await replicates.fill("4");
  await page.getByText("4 replicates cannot be shared out evenly over 3 blocks").waitFor();
  await page.getByRole("textbox", { name: "Tables" }).fill("North, Bar");
  await page.getByRole("textbox", { name: "Seed" }).fill("7");
  await tells.getByText("16 shots and 6 warm-up shots.").waitFor();
  await page.getByRole("button", { name: "Find the fewest shots" }).click();
  await page
    .getByText(/\d+ replicates, \d+ shots with the warm-ups, give every setting that chance or more\./)
    .waitFor();

  await page.getByRole("button", { name: "Write the plan" }).click();
  await page.getByText('16 shots and 6 warm-up shots in drawn order on the new sheet "Plan"; seed 7.').waitFor();
  const progress = page.locator("[data-part=plan-progress]");
  await progress
    .getByText('On the sheet "Plan", 0 of 16 shots are measured. Next: Trial 1, Session North 1, Table North')
    .waitFor();
  await page.getByRole("button", { name: "Go to the next shot" }).click();
  if (width === 1400) {
    // The cell of the gap, below three warm-ups, is selected: a measured gap, and the plan has gone one shot on.
    await expect.poll(() => selected(page)).toBe("F5");
    await typeInto(page, "F5", "0.5");
    await progress.getByText('On the sheet "Plan", 1 of 16 shots is measured. Next: Trial 2').waitFor();
    await replicates.fill("6");
    await page.getByRole("button", { name: "Change the plan, keep what was shot" }).click();
    await page
      .getByText(
        '1 row already shot stands first on the new sheet "Plan 2"; 1 of them counts for the new plan, 23 shots are left. The sheet "Plan" was not touched.',
      )
      .waitFor();
    await progress.getByText('On the sheet "Plan 2", 1 of 24 shots is measured.').waitFor();
  }
});
