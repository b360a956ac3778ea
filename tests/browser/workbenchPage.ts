/** The shipped workbench in a real browser, for tests and screenshots. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, BrowserContext, BrowserContextOptions, Locator, Page } from "playwright-core";
import { onTestFinished } from "vitest";
import { ensurePages } from "../../scripts/build.mjs";
import { serve } from "../../scripts/server/serve";
import { HELP } from "../../src/panel/frame/help";
import { VIEWS } from "../../src/panel/frame/settings";
import { STAGE_OF } from "../../src/panel/frame/stages";
import type { Book } from "../../src/workbook/book";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { startBrowser, workersBrowser } from "./browser";

export interface Bench {
  readonly browser: Browser;
  readonly address: string;
  /** Folder of the pages' drafts. */
  readonly drafts: string;
  close(): Promise<void>;
}

/**
 * Builds what is stale, serves it on a free port and takes the test worker's browser; outside of tests, one of its own.
 * @param workbook path of the file that the page opens
 */
export async function startBench(workbook?: string): Promise<Bench> {
  ensurePages();
  const drafts = mkdtempSync(join(tmpdir(), "bendbook-drafts-"));
  const { server, address } = await serve({ port: 0, workbook, drafts });
  const inTests = process.env["VITEST_WORKER_ID"] !== undefined;
  const browser = await (inTests ? workersBrowser() : startBrowser());
  return {
    browser,
    address,
    drafts,
    async close() {
      // The worker's browser stays for its next file, without this one's pages.
      if (inTests) await Promise.all(browser.contexts().map((context) => context.close()));
      else await browser.close();
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
  clearDrafts(bench);
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
  await arrive(page, bench.address);
  return { page, errors };
}

export function clearDrafts({ drafts }: Bench): void {
  for (const file of readdirSync(drafts)) rmSync(join(drafts, file), { force: true });
}

/** Goes to the page and waits until its workbook is computed and the panel stands. */
async function arrive(page: Page, address: string): Promise<void> {
  // A workbook that the server offers goes before the demonstration.
  await page.goto(`${address}?open=demonstration`);
  await page.waitForSelector("body[data-ready]", { timeout: 60_000 });
  await page.waitForSelector("#panel main", { state: "attached", timeout: 60_000 });
}

/**
 * A context of pages that share what a browser keeps, closed with the test even where it fails: pages left alive would
 * go on writing drafts into the next try.
 */
export async function newContext({ browser }: Bench, options: BrowserContextOptions = {}): Promise<BrowserContext> {
  const context = await browser.newContext({
    viewport: { width: 1400, height: 900 },
    acceptDownloads: true,
    ...options,
  });
  onTestFinished(() => context.close());
  return context;
}

/** Waits until a draft that is newer than a moment stands whole: none has changed for half a second. */
export async function draftSince({ drafts }: Bench, moment: number): Promise<void> {
  const latest = () => Math.max(0, ...readdirSync(drafts).map((file) => statSync(join(drafts, file)).mtimeMs));
  for (;;) {
    const then = latest();
    await new Promise((resolve) => setTimeout(resolve, 500));
    if (then >= moment && latest() === then) return;
  }
}

/**
 * Waits until a draft holds a text: of its edits, which stand as they were typed, or the name of a part of its
 * workbook.
 */
export async function draftHolds({ drafts }: Bench, text: string): Promise<void> {
  const holds = () => readdirSync(drafts).some((file) => readFileSync(join(drafts, file), "latin1").includes(text));
  while (!holds()) await new Promise((resolve) => setTimeout(resolve, 50));
}

/** What the panel is painted on, by the theme that it took. */
export function paperOf(page: Page): Promise<string> {
  return page
    .locator(".fui-FluentProvider")
    .first()
    .evaluate((element) => getComputedStyle(element).getPropertyValue("--colorNeutralBackground1").trim());
}

/** Goes on with the work that another page left. */
export async function goOn(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Go on with it" }).click();
  await page.getByText(/is in no copy yet/).waitFor({ state: "detached" });
}

/** A page of the context that has arrived. */
export async function opened(context: BrowserContext, address: string): Promise<Page> {
  const page = await context.newPage();
  await arrive(page, address);
  return page;
}

/** Ends the page's process, with no chance to say goodbye. */
export async function kill(page: Page): Promise<void> {
  await page.goto("chrome://crash").catch(() => {});
  await page.close().catch(() => {});
}

/** Brings a view of the panel to the front, by way of its stage. */
export async function showView(page: Page, name: string): Promise<void> {
  const view = VIEWS.find((one) => HELP[one].name === name);
  if (!view) throw new Error(`there is no view ${name}`);
  const tab = page.getByRole("tablist", { name: "Views" }).getByRole("tab", { name, exact: true });
  const stage = page.getByRole("navigation", { name: "Stages of the work" });
  await stage.getByRole("button", { name: STAGE_OF[view] }).click();
  await tab.click();
  await tab.and(page.locator("[aria-selected=true]")).waitFor();
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

/** Opens a fold of the panel when it is closed. */
export async function openFold(page: Page, title: string): Promise<void> {
  const fold = page.locator("details", { has: page.locator("summary", { hasText: title }) }).first();
  if ((await fold.getAttribute("open")) === null) await fold.locator("summary").first().press("Enter");
  await fold.and(page.locator("[open]")).waitFor();
}

/** Opens the sentences of the answer, and the tables behind them. */
export async function openWhy(page: Page): Promise<void> {
  await page.locator("[data-part=line]").waitFor();
  await openStep(page, "Why");
  await openFold(page, "How this was worked out");
}

/** Sets a checkbox by keyboard, which no line that moves meanwhile can turn into a press beside it. */
export async function tick(checkbox: Locator, wanted: boolean): Promise<void> {
  if ((await checkbox.isChecked()) === wanted) return;
  const done = checkbox.and(checkbox.page().locator(wanted ? ":checked" : ":not(:checked)"));
  // A list that has just closed may take the keyboard back from the box; a person presses again.
  for (let tries = 0; tries < 3; tries++) {
    await checkbox.press("Space");
    const set = await done.waitFor({ timeout: 5000 }).then(
      () => true,
      () => false,
    );
    if (set) return;
  }
  await done.waitFor();
}
