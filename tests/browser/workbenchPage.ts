/** The shipped workbench in a real browser, for tests and screenshots. */
import type { Browser, Page } from "playwright-core";
import { ensurePages } from "../../scripts/build.mjs";
import { serve } from "../../scripts/serve";
import { startBrowser } from "./browser";

export interface Bench {
  readonly browser: Browser;
  readonly address: string;
  close(): Promise<void>;
}

/** Builds what is stale, serves it on a free port and starts a browser. @param workbook path of the file that the page opens */
export async function startBench(workbook?: string): Promise<Bench> {
  ensurePages();
  const { server, address } = await serve({ port: 0, workbook });
  const browser = await startBrowser();
  return {
    browser,
    address,
    async close() {
      await browser.close();
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

/** Opens the page and waits until the workbook is computed and the panel stands. Collects what went wrong on the way. */
export async function openBench(bench: Bench, { width = 1400, height = 900, dark = false, contrast = false } = {}): Promise<{ page: Page; errors: string[] }> {
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

/** Opens a step of the panel when it is closed. */
export async function openStep(page: Page, title: string): Promise<void> {
  const header = page.getByRole("button", { name: new RegExp(`^${title}`) });
  if ((await header.getAttribute("aria-expanded")) !== "true") await header.click();
}
