/** The Measure view in the shipped page: readings, wrong ones, the draws in a worker, sheets. */
import { expect } from "vitest";
import { journey } from "./journey";

journey("Measure", "Measure", "goes from readings to a claim and to sheets", async (page) => {
  const said = page.locator("[data-part=measured]");
  // The gap of the last shot is filled in, and said where from.
  await page.locator("[data-part=from]").getByText("The gap is that of row 241 of Trials").waitFor();
  const readings = page.getByRole("textbox", { name: /^Gap readings/ });
  await readings.fill("5/16, 1/4, 5/16");
  await said.getByText("Bend 0.833 in ± 0.090 in").waitFor();
  await readings.fill("5/16, wide");
  await page.getByText('The reading "wide" is no length').waitFor();
  expect(await readings.inputValue()).toBe("5/16, wide");
  await readings.fill("1/16, 1/8, 1/16, 1/16");
  await said.getByText("The target of 1.000 in was truly beaten with a probability of 9").waitFor();

  await page.getByRole("button", { name: "Check by 400,000 draws" }).click();
  await page
    .locator("[data-part=drawn]")
    .getByText("Drawn from every source's own distribution (400,000 draws, seed 1)")
    .waitFor();
  await page.getByRole("button", { name: "Write the budget to a sheet" }).click();
  await page.getByText('Written to the new sheet "Uncertainty". No other cell was touched.').waitFor();
  await page.getByRole("button", { name: "Write every bend with its uncertainty" }).click();
  await page.getByText(/\d+ bends with their uncertainty on the new sheet "Bends with uncertainty"/).waitFor();
});
