/** By keyboard alone: from nothing to a first answer in at most eight actions, round the page, out of what opened. */
import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { newContext, openBench, testBench } from "./workbenchPage";

const bench = testBench();

/** The region of the page that has the keyboard. */
const where = (page: Page) =>
  page.evaluate(() => document.activeElement?.closest("#bar, #said, #begin, #grid, #panel")?.id ?? "nowhere");

/** A key that is pressed or a text that is typed is one action. */
function counting({ keyboard }: Page) {
  let count = 0;
  return {
    count: () => count,
    press: (key: string) => (count++, keyboard.press(key)),
    type: (text: string) => (count++, keyboard.type(text)),
  };
}

describe.each([1400, 320])("a first page at %i px", (width) => {
  it("leads to a bend and a first answer in at most eight actions, and is found again", async () => {
    const page = await (await newContext(bench, { viewport: { width, height: 640 } })).newPage();
    await page.goto(bench.address);
    await page.locator("#begin-blank:focus").waitFor();
    const act = counting(page);
    const answer = page.locator("[data-part=picture] [data-part=line]");
    const written = page.locator("[data-part=entered]");
    await act.press("Enter");
    await page.locator("[data-part=entry] input:focus").waitFor();
    for (const [i, [gap, bend]] of [
      ["1/4", "7/8"],
      ["5/16", "13/16"],
      ["3/16", "15/16"],
    ].entries()) {
      await act.type(gap!);
      await act.press("Enter");
      await written.getByText(`Row ${i + 2}: gap ${gap} in, bend ${bend} in.`).waitFor();
    }
    // Student's t for two degrees of freedom, 4.303, times 1/16 over the root of 3.
    await answer.getByText("Bend 0.875 in on average, 95 % interval 0.720 to 1.030, over 3 shots.").waitFor();
    expect(act.count()).toBeLessThanOrEqual(8);
    expect(await page.locator("[data-part=picture] svg circle").count()).toBeGreaterThanOrEqual(3);

    await page.locator("#home").press("Enter");
    await page.getByRole("heading", { name: "Where do you begin?" }).waitFor();
    await page.keyboard.press("Escape");
    await page.getByRole("heading", { name: "Where do you begin?" }).waitFor({ state: "hidden" });
  });
});

it("F6 goes round the regions, the edge moves by arrows, Escape closes what opened", async () => {
  const { page, errors } = await openBench(bench);
  const seen: string[] = [];
  await page.locator("#home").focus();
  for (let i = 0; i < 3; i++) {
    await page.keyboard.press("F6");
    seen.push(await where(page));
  }
  expect(seen).toEqual(["grid", "panel", "bar"]);

  await page.locator("#edge").focus();
  const width = () => page.locator("#panel").evaluate((panel) => panel.getBoundingClientRect().width);
  const before = await width();
  await page.keyboard.press("ArrowLeft");
  await expect.poll(width).toBe(before + 20);

  for (const name of ["Help: Analysis", "Preferences"]) {
    const opener = page.locator("#panel").getByRole("button", { name });
    await opener.press("Enter");
    await page.locator("[data-part=help], [data-part=preferences]").waitFor();
    await page.keyboard.press("Escape");
    await page.locator("[data-part=help], [data-part=preferences]").waitFor({ state: "detached" });
    await expect.poll(() => opener.evaluate((button) => button === document.activeElement)).toBe(true);
  }
  await page.locator("#full").press("Enter");
  await expect.poll(width).toBe(1400);
  await page.keyboard.press("Escape");
  await expect.poll(width).toBe(before + 20);

  // Preferences are the person's: they hold in a workbook that is opened anew.
  await page.locator("#panel").getByRole("button", { name: "Preferences" }).press("Enter");
  await page.getByRole("combobox", { name: "Theme" }).press("Enter");
  await page.getByRole("option", { name: "dark" }).click();
  await page.getByRole("combobox", { name: "Confidence" }).press("Enter");
  await page.getByRole("option", { name: "90 %" }).click();
  await page.locator("#view-in-front").getByText("90 % interval").first().waitFor();
  await page.reload();
  await page.locator("#view-in-front").getByText("90 % interval").first().waitFor();
  expect(await page.evaluate(() => document.documentElement.dataset["theme"])).toBe("dark");
  expect(errors).toEqual([]);
});
