/** The Next view in the shipped page: what may change, wrong limits, proposals, rows to shoot. */
import { expect } from "vitest";
import { journey } from "./journey";
import { tick } from "./workbenchPage";

journey("Next", "Next", "goes from limits to rows to shoot", async (page) => {
  const to = page.getByRole("textbox", { name: "Speed (mph) to" });
  await to.fill("fast");
  await page.getByText('Speed (mph) to: "fast" is no number. Give a number from').waitFor();
  expect(await to.inputValue()).toBe("fast");
  await to.fill("2");
  await page.getByRole("button", { name: "Look for the next shots" }).click();
  await page.getByText("The limits of Speed (mph) are 6 and 2: the second must be above the first.").waitFor();
  await to.fill("14");
  await page.getByRole("button", { name: "Look for the next shots" }).click();
  const proposals = page.locator("[data-part=proposals]");
  await proposals.getByText(/^Highest predicted: speed .* Predicted bend/).waitFor();
  await proposals.getByText(/^Teaches most: speed 14 mph .* Speed \(mph\) lies beyond anything shot so far/).waitFor();
  await proposals.getByText("Everything else stays as it is set up now: cloth new and humidity 57 %.").waitFor();

  await page.getByRole("combobox", { name: "Cloth now" }).click();
  await page.getByRole("option", { name: "worn" }).click();
  await page.getByText("The limits or what is set up have changed since: look again.").waitFor();
  await tick(page.getByRole("checkbox", { name: /^Begin from the shot model/ }), true);
  await page.getByRole("button", { name: "Look for the next shots" }).click();
  await proposals.getByText("the shot model's bend and a regression of what it leaves").waitFor({ timeout: 20_000 });
  await page.getByRole("button", { name: "Write them as rows to shoot" }).click();
  await page.getByText('Written to the new sheet "Next shots". No other cell was touched.').waitFor();
});
