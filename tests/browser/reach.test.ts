/** How far it bends, in the shipped page: worked out beside it with sessions, ended, asked again, at settings. */
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { openBench, openStep, testBench, tick } from "./workbenchPage";

const bench = testBench(() => fileURLToPath(new URL("../../sample-workbooks/attempts.xlsx", import.meta.url)));

it("tells how far it bends, can be ended, and at 320 px is asked at settings that are typed", async () => {
  const { page, errors } = await openBench(bench);
  const answer = page.locator("#panel");
  // The answer and its picture stand in front; the rest is opened.
  await page
    .locator("[data-part=line]")
    .getByText(/^Half of the attempts bend at least/)
    .waitFor();
  await page.locator("[data-figure=reach-chance]").waitFor();
  await openStep(page, "Why");
  await openStep(page, "At settings of yours");
  await answer
    .getByText(/^Half of the attempts bend at least .* in an average session/)
    .last()
    .waitFor();
  await openStep(page, "Choose a question");
  await tick(page.getByRole("checkbox", { name: "Cloth" }), true);
  await answer.getByText("Fitting the attempts").first().waitFor();
  await answer.getByRole("button", { name: "Cancel" }).press("Enter");
  await answer.getByText("The fit was cancelled.").waitFor();
  // The answer to what was asked before stays, and says that it is.
  await answer.getByText("Below stands the answer to what was asked before.").waitFor();
  await answer.getByRole("button", { name: "Work it out" }).press("Enter");
  const half = answer.getByRole("heading", { name: /^At cloth .* half of the attempts bend at least/i });
  await half.waitFor();
  const before = await half.innerText();
  await page.setViewportSize({ width: 320, height: 900 });
  await page.click("#show-panel");
  await answer.getByRole("combobox", { name: "Cloth" }).click();
  await page.getByRole("option", { name: "new", exact: true }).click();
  await expect.poll(() => half.innerText()).toContain('At cloth "new"');
  expect(before).toContain('At cloth "worn"');
  await answer.getByRole("textbox", { name: "Bend to get by (in)" }).fill("1 1/8");
  await answer
    .getByText(/one attempt gets by an obstacle that asks for 1.125 in with/)
    .last()
    .waitFor();
  const panel = page.locator("#panel");
  expect(await panel.evaluate((element) => element.scrollWidth - element.clientWidth)).toBe(0);
  expect(errors).toEqual([]);
  await page.close();
});
