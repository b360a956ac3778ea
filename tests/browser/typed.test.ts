/**
 * What people type into the panel's fields, wrong things included: nothing typed is rewritten, and no view takes the
 * panel with it.
 */
import type { Page } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import { openBench, showView, testBench } from "./workbenchPage";

// One page for all views: a field gets back what stood in it.
const bench = testBench();
let page: Page;
let errors: string[];
beforeAll(async () => void ({ page, errors } = await openBench(bench)), 120_000);

const WRONG = [
  "",
  " ",
  "abc",
  "-1",
  "0",
  "1e308",
  "1e-308",
  "9e99999",
  "0,5",
  "1,234",
  "½",
  "<b>x</b>",
  "=1+1",
  "Infinity",
];
const FIELDS = "#panel main :is(input[type=text], input:not([type]), textarea)";

/**
 * In a page: types each text into each field in sight, as a key or a paste does, and gives the field back what stood in
 * it. Returns what was rewritten, and what is said that is no number. Done from outside, each text would take four ways
 * there and back, and there are hundreds.
 */
async function typeInAll({ typed, into }: { typed: readonly string[]; into: string }): Promise<string[]> {
  const inSight = () =>
    [...document.querySelectorAll<HTMLInputElement | HTMLTextAreaElement>(into)].filter((field) =>
      field.checkVisibility(),
    );
  const wrong: string[] = [];
  const put = async (field: HTMLInputElement | HTMLTextAreaElement, text: string) => {
    field.focus();
    // As the browser itself does, past what React puts before it.
    Object.getOwnPropertyDescriptor(Object.getPrototypeOf(field), "value")!.set!.call(field, text);
    field.dispatchEvent(new InputEvent("input", { bubbles: true, data: text, inputType: "insertText" }));
    await new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn)));
  };
  for (let i = 0; i < inSight().length; i++) {
    const before = inSight()[i]!.value;
    for (const text of typed) {
      const field = inSight()[i]!;
      await put(field, text);
      const name = field.labels?.[0]?.innerText ?? field.name;
      if (inSight()[i]?.value !== text) wrong.push(`${name}: "${text}" became "${inSight()[i]?.value}"`);
      // What is quoted from the field itself may hold the word.
      for (const line of document.querySelector<HTMLElement>("#panel main")!.innerText.split("\n"))
        if ((!line.includes(text) || text.trim() === "") && /NaN|Infinity|undefined/.test(line))
          wrong.push(`${name}: "${text}": ${line}`);
    }
    await put(inSight()[i]!, before);
  }
  return wrong;
}

describe("fields", () => {
  it.each(["Plan", "Shot", "Layout", "Measure", "Evidence", "Next", "Report"])(
    "of the %s view keep what is typed and say nothing that is no number",
    async (name) => {
      await showView(page, name);
      await page.locator("#view-in-front :is(summary, input):visible").first().waitFor();
      // Fields that are folded away are fields all the same.
      await page.evaluate(() => {
        for (const fold of document.querySelectorAll("details")) fold.open = true;
      });
      await page.locator(`${FIELDS}:visible`).first().waitFor();
      expect(await page.evaluate(typeInAll, { typed: WRONG, into: FIELDS })).toEqual([]);
      expect(errors).toEqual([]);
    },
  );

  it("take a decimal comma, ask where it may part thousands, and are not rewritten while one types", async () => {
    await showView(page, "Layout");
    const bend = page.getByRole("textbox", { name: /^Wanted bend/ });
    const table = page.locator("[data-part=places]");
    await bend.fill("0.75");
    const point = await table.innerText();
    await bend.fill("0.5");
    expect(await table.innerText()).not.toBe(point);
    await bend.fill("0,75");
    await expect.poll(() => table.innerText()).toBe(point);
    await bend.fill("1,234");
    await page.getByText('"1,234" may mean 1.234 or 1234').waitFor();
    await bend.fill("1.25");
    await bend.press("Backspace");
    await bend.press("Backspace");
    await bend.press("5");
    expect(await bend.inputValue()).toBe("1.5");
    await bend.fill("");
    await bend.pressSequentially("1/32");
    expect(await bend.inputValue()).toBe("1/32");
  });

  it("keep gap readings when the units change", async () => {
    await showView(page, "Measure");
    const readings = page.getByRole("textbox", { name: /^Gap readings/ });
    await readings.fill("5/16, 1/4");
    await page.getByRole("button", { name: "Preferences" }).click();
    await page.locator("#panel").getByRole("combobox", { name: "Units" }).click();
    await page.getByRole("option", { name: "metric" }).click();
    await showView(page, "Measure");
    await expect.poll(() => readings.inputValue()).toBe("7.9375, 6.35");
  });
});
