/** The shipped workbench in a real browser, for tests and screenshots. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Locator, Page } from "playwright-core";
import { ensurePages } from "../../scripts/build.mjs";
import { serve } from "../../scripts/server/serve";
import type { Book } from "../../src/workbook/book";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { startBrowser } from "./browser";

export interface Bench {
  readonly browser: Browser;
  readonly address: string;
  /** Folder of the pages' drafts. */
  readonly drafts: string;
  close(): Promise<void>;
}

/**
 * Builds what is stale, serves it on a free port and starts a browser.
 * @param workbook path of the file that the page opens
 */
export async function startBench(workbook?: string): Promise<Bench> {
  ensurePages();
  const drafts = mkdtempSync(join(tmpdir(), "bendbook-drafts-"));
  const { server, address } = await serve({ port: 0, workbook, drafts });
  const browser = await startBrowser();
  return {
    browser,
    address,
    drafts,
    async close() {
      await browser.close();
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      rmSync(drafts, { recursive: true, force: true });
    },
  };
}

/**
 * Opens the page and waits until the workbook is computed and the panel stands. Collects what went wrong on the way.
 */
export async function openBench(
  bench: Bench,
  { width = 1400, height = 900, dark = false, contrast = false } = {},
): Promise<{ page: Page; errors: string[] }> {
  // What other pages left is the business of the tests of killed pages.
  for (const file of readdirSync(bench.drafts)) rmSync(join(bench.drafts, file), { force: true });
  const page = await bench.browser.newPage({
    viewport: { width, height },
    colorScheme: dark ? "dark" : "light",
    forcedColors: contrast ? "active" : "none",
    acceptDownloads: true,
  });
  const errors: string[] = [];
  page.on("pageerror", (error) => errors.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  await page.goto(bench.address);
  await page.waitForSelector("body[data-ready]", { timeout: 60_000 });
  await page.waitForSelector("#panel main", { state: "attached", timeout: 60_000 });
  return { page, errors };
}

/** The copy that the page saves now, read back. */
export async function savedBook(page: Page): Promise<Book> {
  const [download] = await Promise.all([page.waitForEvent("download"), page.click("#save")]);
  return readXlsx(readFileSync((await download.path())!));
}

/**
 * Opens a step of the panel when it is closed, and waits until it has unfolded: a person, too, presses what stands
 * still.
 */
export async function openStep(page: Page, title: string): Promise<void> {
  const header = page.getByRole("button", { name: new RegExp(`^${title}`) });
  if ((await header.getAttribute("aria-expanded")) === "true") return;
  await header.press("Enter");
  await header.and(page.locator("[aria-expanded=true]")).waitFor();
  await page.evaluate(() => Promise.allSettled(document.getAnimations().map(({ finished }) => finished)));
}

/** Sets a checkbox by keyboard, which no line that moves meanwhile can turn into a press beside it. */
export async function tick(checkbox: Locator, wanted: boolean): Promise<void> {
  if ((await checkbox.isChecked()) === wanted) return;
  await checkbox.press("Space");
  await checkbox.and(checkbox.page().locator(wanted ? ":checked" : ":not(:checked)")).waitFor();
}
