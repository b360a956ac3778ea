/** A page that is killed loses nothing: what was typed and written comes back whole, whenever the page dies. */
import { readFileSync } from "node:fs";
import type { BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { typeInto } from "./gridTyping";
import { readXlsx } from "../../src/workbook/file/readXlsx";
import { startBench, type Bench } from "./workbenchPage";

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
}, 240_000);
afterAll(() => bench?.close());

async function opened(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.goto(bench.address);
  await page.waitForSelector("body[data-ready]", { timeout: 60_000 });
  await page.waitForSelector("#panel main", { state: "attached", timeout: 60_000 });
  return page;
}

/** Ends the page's process, with no chance to say goodbye. */
async function kill(page: Page): Promise<void> {
  await page.goto("chrome://crash").catch(() => {});
  await page.close().catch(() => {});
}

describe("a page that is killed", () => {
  // Different moments of the write: before, during and after the sheets are made and the draft is kept.
  it.each([0, 60, 3000])("%i ms after a write began leaves the workbook whole", async (wait) => {
    const context = await bench.browser.newContext({ viewport: { width: 1400, height: 900 }, acceptDownloads: true });
    const page = await opened(context);
    await typeInto(page, "G18", "9.5");
    await page.locator("[data-part=sentences]").getByText("238 of 240 rows used").waitFor();
    // A draft follows what was typed by a fraction of a second; what is read back below waits for it.
    await expect.poll(() => page.evaluate(async () => (await indexedDB.databases()).some(({ name }) => name === "bendbook"))).toBe(true);
    await page.waitForTimeout(600);
    await page.getByRole("tab", { name: "Plan" }).click();
    await page.getByRole("button", { name: "Write the plan" }).click({ noWaitAfter: true });
    await page.waitForTimeout(wait);
    await kill(page);

    const again = await opened(context);
    await again.getByText(/^Work on demonstration\.xlsx of .* is in no copy yet/).waitFor();
    await again.getByRole("button", { name: "Go on with it" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    await again.locator("#panel").getByRole("tab", { name: "Analysis" }).click();
    await again.locator("[data-part=sentences]").getByText("238 of 240 rows used").waitFor();
    // Gone on with, it is this page's own work; another page is offered nothing while this one lives.
    const third = await opened(context);
    await third.waitForTimeout(300);
    expect(await third.getByText(/is in no copy yet/).count()).toBe(0);
    // The plan's sheet is there whole, or it is not there at all: headings, 12 shots and 9 warm-ups.
    const [download] = await Promise.all([again.waitForEvent("download"), again.click("#save")]);
    const { sheets } = await readXlsx(readFileSync((await download.path())!));
    expect(sheets.slice(0, 4).map(({ name }) => name)).toEqual(["Trials", "Answers", "Conditions", "Guide"]);
    const planned = sheets.find(({ name }) => name === "Plan");
    if (planned) expect(planned.rows).toHaveLength(22);
    if (wait >= 3000) expect(planned).toBeDefined();
    await context.close();
  });

  it("brings back a picture and what was typed into the panel; a copy made at once has it too", async () => {
    const context = await bench.browser.newContext({ viewport: { width: 1400, height: 900 }, acceptDownloads: true });
    const page = await opened(context);
    await page.locator("#panel").getByRole("tab", { name: "Shot" }).click();
    await page.locator("#panel").getByRole("button", { name: /^Keep the shot/ }).click();
    await page.getByRole("button", { name: "Put the drawing on a sheet" }).click();
    await page.getByText('The drawing is on the new sheet "Shot drawing".').waitFor();
    await page.locator("#panel").getByRole("tab", { name: "Report" }).click();
    const saved = async (from: Page) => {
      const [download] = await Promise.all([from.waitForEvent("download"), from.click("#save")]);
      const bytes = readFileSync((await download.path())!);
      const { settings, sheets } = await readXlsx(bytes);
      return { settings, sheets: sheets.map(({ name }) => name), pictures: bytes.toString("latin1").includes("xl/media/") };
    };
    await page.getByRole("textbox", { name: "Title" }).fill("Worn and new");
    expect((await saved(page)).settings).toContain("Worn and new");
    await page.getByRole("textbox", { name: "Title" }).fill("Worn, new and newer");
    await page.keyboard.press("Tab");
    await page.waitForTimeout(2500);
    await kill(page);
    const again = await opened(context);
    await again.getByRole("button", { name: "Go on with it" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    const after = await saved(again);
    expect(after).toMatchObject({ settings: expect.stringContaining("Worn, new and newer"), sheets: expect.arrayContaining(["Shot drawing"]), pictures: true });
    await context.close();
  });

  it("can have its work thrown away, and a saved copy leaves none", async () => {
    const context = await bench.browser.newContext({ viewport: { width: 1400, height: 900 }, acceptDownloads: true });
    const page = await opened(context);
    await typeInto(page, "G18", "9.5");
    await page.waitForTimeout(800);
    await kill(page);
    const again = await opened(context);
    await again.getByRole("button", { name: "Throw it away" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    await typeInto(again, "G18", "9.5");
    await again.waitForTimeout(800);
    await Promise.all([again.waitForEvent("download"), again.click("#save")]);
    await again.waitForTimeout(300);
    await kill(again);
    const last = await opened(context);
    await last.waitForTimeout(300);
    expect(await last.getByText(/is in no copy yet/).count()).toBe(0);
    await context.close();
  });
});
