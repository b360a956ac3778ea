/**
 * For everyone: every view of the shipped page by the rules of WCAG 2.2 AA, in light, dark and forced colours; narrow
 * and enlarged pages without sideways scrolling; targets for fingers. One page is opened and goes through all views.
 */
import axe from "axe-core";
import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { HELP } from "../../src/panel/frame/help";
import { VIEWS } from "../../src/panel/frame/settings";
import { faults } from "./faults";
import { openBench, showView, testBench } from "./workbenchPage";

const bench = testBench();

/** What is wider than its place: the page, the panel, or a table in it. */
const sideways = (page: Page) =>
  page.evaluate(() =>
    [document.documentElement, ...document.querySelectorAll<HTMLElement>("#panel main, #panel main *")]
      .filter((element) => element.scrollWidth > element.clientWidth + 1 && element.clientWidth > 0)
      .filter(
        (element) => ["auto", "scroll"].includes(getComputedStyle(element).overflowX) || element.matches("html, main"),
      )
      .map((element) => `${element.tagName} ${element.className.slice(0, 40)} ${element.textContent?.slice(0, 60)}`),
  );

/** What a finger cannot hit well. */
const small = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>("#bar button, #panel :is(button, input, summary, [role=combobox])")]
      .map((one) => one.closest<HTMLElement>(".fui-Checkbox, .fui-Radio, .fui-Switch, .fui-Input, .fui-Slider") ?? one)
      .filter((one) => one.getClientRects().length > 0 && getComputedStyle(one).visibility !== "hidden")
      .filter((one) => one.getBoundingClientRect().height < 43.5)
      .map((one) => `${Math.round(one.getBoundingClientRect().height)} px: ${one.outerHTML.slice(0, 120)}`),
  );

/** Opens everything in the view that folds, and waits until it stands still. */
async function unfold(page: Page): Promise<void> {
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll<HTMLDetailsElement>("#view-in-front details")) fold.open = true;
    for (const head of document.querySelectorAll<HTMLElement>("#view-in-front h2 [aria-expanded=false]")) head.click();
  });
  await page.evaluate(() => Promise.allSettled(document.getAnimations().map(({ finished }) => finished)));
}

/** Goes through all views and gathers what each is blamed for. */
async function eachView(page: Page, look: () => Promise<string[]>): Promise<Record<string, string[]>> {
  const blamed: Record<string, string[]> = {};
  for (const view of VIEWS) {
    const { name } = HELP[view];
    await showView(page, name);
    await page.locator("#view-in-front [data-view], #view-in-front [data-part]").first().waitFor();
    await unfold(page);
    const found = await look();
    if (found.length > 0) blamed[name] = found;
  }
  return blamed;
}

describe("every view", () => {
  it("is silent in the checker, fits narrow and enlarged pages, and has room for fingers", async () => {
    const { page, errors } = await openBench(bench, { width: 1400, height: 900 });
    await page.evaluate(axe.source);
    await page.getByRole("button", { name: "Preferences" }).click();
    expect(await eachView(page, () => faults(page))).toEqual({});
    await page.emulateMedia({ colorScheme: "dark" });
    expect(await eachView(page, () => faults(page, ["color-contrast"]))).toEqual({});
    await page.emulateMedia({ colorScheme: "light", forcedColors: "active" });
    expect(await eachView(page, () => faults(page, ["color-contrast", "aria-hidden-focus"]))).toEqual({});
    await page.emulateMedia({ forcedColors: "none" });
    // 1400 px at 200 % are 700; the narrowest pane of Excel has 270.
    await page.setViewportSize({ width: 700, height: 450 });
    await page.click("#show-panel");
    expect(await eachView(page, () => sideways(page))).toEqual({});
    await page.setViewportSize({ width: 270, height: 640 });
    expect(await eachView(page, () => sideways(page))).toEqual({});
    await (await page.context().newCDPSession(page)).send("Emulation.setTouchEmulationEnabled", { enabled: true });
    expect(await page.evaluate(() => matchMedia("(pointer: coarse)").matches)).toBe(true);
    expect(await eachView(page, () => small(page))).toEqual({});
    // The first page, over what is open.
    await page.click("#home");
    expect(await faults(page)).toEqual([]);
    expect(errors).toEqual([]);
  }, 600_000);
});
