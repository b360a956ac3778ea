/** The shipped workbench in a real browser, for tests and screenshots. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, BrowserContext, BrowserContextOptions, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, onTestFinished } from "vitest";
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
  /** A page with nothing kept from others, which goes with the bench. */
  newPage(): Promise<Page>;
  close(): Promise<void>;
}

/**
 * Builds what is stale, serves it on a free port and starts a browser, for whoever is no test.
 * @param workbook path of the file that the page opens
 */
export async function startBench(workbook?: string): Promise<Bench> {
  ensurePages();
  const [served, browser] = [await servePages(workbook), await startBrowser()];
  return {
    ...served,
    browser,
    newPage: () => browser.newPage({ acceptDownloads: true }),
    async close() {
      await browser.close();
      await served.close();
    },
  };
}

async function servePages(workbook?: string): Promise<Pick<Bench, "address" | "drafts" | "close">> {
  const drafts = mkdtempSync(join(tmpdir(), "bendbook-drafts-"));
  const { server, address } = await serve({ port: 0, workbook, drafts });
  return {
    address,
    drafts,
    async close() {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      rmSync(drafts, { recursive: true, force: true });
    },
  };
}

/** What the files of a test worker share. */
interface Shared {
  readonly served: Awaited<ReturnType<typeof servePages>>;
  readonly context: BrowserContext;
  /** A page that stays open, and keeps the process of the others warm: they open in two thirds of the time. */
  readonly stays: Page;
}

let shared: Promise<Shared> | undefined;

/** In a page: forgets the databases of its address, where drafts go while the server does not answer. */
async function forgetDatabases(): Promise<void> {
  for (const { name = "" } of await indexedDB.databases())
    await new Promise((resolve) => {
      const asked = indexedDB.deleteDatabase(name);
      asked.onsuccess = asked.onerror = asked.onblocked = resolve;
    });
}

async function share(browser: Browser): Promise<Shared> {
  const served = await servePages();
  process.once("exit", () => rmSync(served.drafts, { recursive: true, force: true }));
  // What moves for the eye alone costs time, and makes a press miss.
  const context = await browser.newContext({ acceptDownloads: true, reducedMotion: "reduce" });
  const stays = await context.newPage();
  await stays.goto(`${served.address}functions.html`);
  return { served, context, stays };
}

/**
 * The bench of a test file: there before its first test, gone after its last. Files of a worker share the server and
 * the browser, but for a file that brings a workbook for the page to open.
 * @param workbook path of the file that the page opens; asked for when the bench is started
 */
export function testBench(workbook?: () => string | Promise<string>): Bench {
  let started: Bench | undefined;
  const now = (): Bench => {
    if (!started) throw new Error("The bench stands only while tests run.");
    return started;
  };
  beforeAll(async () => {
    ensurePages();
    const browser = await workersBrowser();
    if (shared && (await shared).context.browser() !== browser) shared = undefined;
    const { served, context, stays } = await (shared ??= share(browser));
    const own = workbook && (await servePages(await workbook()));
    started = {
      ...(own ?? served),
      browser,
      async newPage() {
        await stays.evaluate(() => localStorage.clear());
        // A database that another page holds would wait to be gone, and those who open it with it.
        if (context.pages().length === 1) await stays.evaluate(forgetDatabases);
        return context.newPage();
      },
      async close() {
        await Promise.all(context.pages().map((page) => page !== stays && page.close()));
        await Promise.all(browser.contexts().map((other) => other !== context && other.close()));
        await own?.close();
      },
    };
  }, 240_000);
  afterAll(() => started?.close());
  return {
    get browser() {
      return now().browser;
    },
    get address() {
      return now().address;
    },
    get drafts() {
      return now().drafts;
    },
    newPage: () => now().newPage(),
    close: () => now().close(),
  };
}

/**
 * Opens the page and waits until the workbook is computed and the panel stands. Collects what went wrong on the way.
 * @param options.slower the page arrives as on a machine so many times slower
 */
export async function openBench(
  bench: Bench,
  { width = 1400, height = 900, dark = false, contrast = false, slower = 1 } = {},
): Promise<{ page: Page; errors: string[] }> {
  clearDrafts(bench);
  const page = await bench.newPage();
  await page.setViewportSize({ width, height });
  await page.emulateMedia({ colorScheme: dark ? "dark" : "light", forcedColors: contrast ? "active" : "none" });
  const errors: string[] = [];
  page.on("pageerror", (error) => errors.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  // What other pages left is the business of the tests of killed pages; of one that was closed a moment ago the server
  // may still write.
  const left = ({ pathname }: URL) => pathname === "/drafts";
  await page.route(left, (route) => route.fulfill({ json: { drafts: [], damaged: 0 } }));
  const machine = await page.context().newCDPSession(page);
  await machine.send("Emulation.setCPUThrottlingRate", { rate: slower });
  await arrive(page, bench.address);
  await machine.detach();
  await page.unroute(left);
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
    reducedMotion: "reduce",
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
 * Waits until so many drafts hold a text: of their edits, which stand as they were typed, or the name of a part of
 * their workbook.
 */
export async function draftHolds({ drafts }: Bench, text: string, least = 1): Promise<void> {
  const holding = () => readdirSync(drafts).filter((file) => readFileSync(join(drafts, file), "latin1").includes(text));
  while (holding().length < least) await new Promise((resolve) => setTimeout(resolve, 50));
}

/** What the panel is painted on, by the theme that it took. */
export function paperOf(page: Page): Promise<string> {
  return page
    .locator(".fui-FluentProvider")
    .first()
    .evaluate((element) => getComputedStyle(element).getPropertyValue("--colorNeutralBackground1").trim());
}

/**
 * Goes on with the work that another page left; the latest, where there is more. What this page holds itself may go.
 */
export async function goOn(page: Page): Promise<void> {
  const offers = page.getByRole("button", { name: "Go on with it" });
  await offers.first().waitFor();
  const more = (await offers.count()) - 1;
  await offers.first().click();
  const gone = offers.nth(more).waitFor({ state: "detached" });
  const leave = page.getByRole("button", { name: "Open without saving" });
  const asked = leave.waitFor().then(
    () => true,
    () => false,
  );
  if (await Promise.race([asked, gone.then(() => false)])) await leave.click();
  await gone;
}

/**
 * A page that has arrived, closed with the test: of a context, or of the bench, which has what was compiled at hand.
 */
export async function opened(of: Pick<BrowserContext, "newPage">, address: string, width = 1400): Promise<Page> {
  const page = await of.newPage();
  onTestFinished(() => page.close());
  if (page.viewportSize()?.width !== width) await page.setViewportSize({ width, height: width < 800 ? 640 : 900 });
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
  await pressUntil(header, "Enter", header.and(page.locator("[aria-expanded=true]")));
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
  await pressUntil(checkbox, "Space", done);
}

/**
 * Presses a key on what has a state until the state is there. A list that has just closed, or a workbook that has just
 * been read, may take the keyboard away before the key arrives; a person presses again.
 */
async function pressUntil(control: Locator, key: "Enter" | "Space", done: Locator): Promise<void> {
  for (let tries = 0; tries < 3; tries++) {
    await control.press(key);
    const there = await done.waitFor({ timeout: 5000 }).then(
      () => true,
      () => false,
    );
    if (there) return;
  }
  await done.waitFor();
}
