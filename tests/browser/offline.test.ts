/**
 * The written folder as a site: once open it opens and computes without its server, a new version is said and taken
 * when the user says so, and half a version is none.
 */
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterEach, beforeAll, beforeEach, expect, it } from "vitest";
import { ensurePages } from "../../scripts/build.mjs";
import { writeSite } from "../../scripts/hosting/writeSite";
import { root } from "../../scripts/install.mjs";
import { PageFiles } from "../../scripts/server/pageFiles";
import { workersBrowser } from "./browser";
import { showView } from "./workbenchPage";

const ORIGIN = "https://hall.example/bendbook";
const HELD = "held.00000000.js";
let browser: Browser;
let base: string;
let server: Server | undefined;
const site = () => join(base, "site");
const pages = () => join(base, "pages");
const deploy = () => writeSite({ origin: ORIGIN, folder: site(), version: "1.0.0", pages: pages() });

beforeAll(async () => {
  ensurePages();
  browser = await workersBrowser();
}, 240_000);
// A second try begins from the first version, too.
beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), "bendbook-offline-"));
  cpSync(join(root, "dist"), pages(), { recursive: true, filter: (file) => !/\.cli|cli\.mjs/.test(file) });
  deploy();
});
afterEach(async () => {
  await stop();
  rmSync(base, { recursive: true, force: true });
});

/** A web server of files that knows nothing of Bendbook, below a path as at a club's site. */
async function start(port = 0): Promise<number> {
  const files = new PageFiles(site(), false);
  const made = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? "/", "http://localhost").pathname);
    // A file that the server is long about.
    if (path.endsWith(`/${HELD}`)) return;
    const inside = path.startsWith("/bendbook/") ? path.slice("/bendbook".length) : undefined;
    const found = inside && files.answer(inside === "/" ? "/index.html" : inside, request.headers);
    if (found) response.writeHead(found.status, { ...found.headers }).end(found.body);
    else response.writeHead(404).end("nothing");
  });
  await new Promise<void>((done) => made.listen(port, "127.0.0.1", done));
  server = made;
  return (made.address() as AddressInfo).port;
}

async function stop(): Promise<void> {
  const running = server;
  server = undefined;
  running?.closeAllConnections();
  await new Promise((done) => (running ? running.close(done) : done(undefined)));
}

async function answered(page: Page): Promise<void> {
  await page.waitForSelector("body[data-ready]", { timeout: 60_000 });
  await page.locator("[data-part=by]").getByText("of 240 rows used").waitFor({ timeout: 60_000 });
}

it("opens and computes without its server, and takes a new version when it is told to", async ({ onTestFinished }) => {
  const port = await start();
  const context = await browser.newContext();
  onTestFinished(() => context.close());
  const page = await context.newPage();
  const errors: string[] = [];
  page.on("pageerror", ({ message }) => errors.push(message));
  await page.goto(`http://127.0.0.1:${port}/bendbook/?open=demonstration`);
  await answered(page);
  await page.getByText("Bendbook is kept in this browser now").waitFor({ timeout: 60_000 });

  await stop();
  await page.reload();
  await answered(page);
  // A view that was never opened, a log that was never asked for, and an edit that is computed.
  await showView(page, "Shot");
  await page.locator("[data-view=shot]").waitFor();
  await page.getByRole("button", { name: "New trial log" }).click();
  await page.getByRole("button", { name: "Open without saving" }).click();
  await page.waitForSelector('body[data-ready="trial-log.xlsx"]');

  // The server is back with a new version of which one file has not arrived yet: nothing changes and nothing is said.
  const html = readFileSync(join(pages(), "workbench.html"), "utf8");
  writeFileSync(join(pages(), "workbench.html"), html.replace("Open a workbook", "Open another workbook"));
  deploy();
  const late = readdirSync(site()).find((name) => /^workbench\.[0-9a-f]{8}\.css$/.test(name))!;
  const whole = readFileSync(join(site(), "index.html"));
  writeFileSync(join(site(), "index.html"), html);
  expect(existsSync(join(site(), late))).toBe(true);
  await start(port);
  const update = () =>
    page.evaluate(async () => {
      const registration = (await navigator.serviceWorker.getRegistration())!;
      await registration.update().catch(() => {});
      const coming = registration.installing;
      if (coming)
        await new Promise<void>((done) =>
          coming.addEventListener("statechange", () => coming.state !== "installing" && done()),
        );
      return registration.waiting === null ? "nothing new" : "waiting";
    });
  expect(await update()).toBe("nothing new");
  expect(await page.getByText("A new version of Bendbook is here").count()).toBe(0);

  writeFileSync(join(site(), "index.html"), whole);
  expect(await update()).toBe("waiting");
  await page.getByText("A new version of Bendbook is here").waitFor();
  expect(await page.locator("#open").innerText()).toBe("Open a workbook");
  page.on("dialog", (dialog) => void dialog.accept());
  // The old version does not go while it still answers; it goes all the same.
  await page.evaluate((file) => void fetch(file).catch(() => {}), HELD);
  await page.getByRole("button", { name: "Take the new version" }).click();
  await page.getByRole("button", { name: "Open another workbook" }).waitFor();
  await answered(page);
  await stop();
  await page.reload();
  await page.getByRole("button", { name: "Open another workbook" }).waitFor();
  await answered(page);
  expect(errors).toEqual([]);
});

it("keeps work that is in no copy in the browser, where no server keeps it", async ({ onTestFinished }) => {
  const port = await start();
  const context = await browser.newContext();
  onTestFinished(() => context.close());
  onTestFinished(stop);
  const page = await context.newPage();
  await page.goto(`http://127.0.0.1:${port}/bendbook/?open=demonstration`);
  await answered(page);
  await page.getByText("Bendbook is kept in this browser now").waitFor({ timeout: 60_000 });
  await showView(page, "Plan");
  await page.getByRole("button", { name: "Write the plan" }).click();
  await page.getByRole("button", { name: /^Undo / }).waitFor();
  // As long as the whole copy may rest before it is written.
  await expect
    .poll(
      () =>
        page.evaluate(
          () =>
            new Promise<number>((done) => {
              const asked = indexedDB.open("bendbook");
              asked.onsuccess = () => {
                const count = asked.result.transaction("drafts").objectStore("drafts").count();
                count.onsuccess = () => done(count.result);
              };
            }),
        ),
      { timeout: 60_000 },
    )
    .toBeGreaterThan(0);
  await stop();
  page.on("dialog", (dialog) => void dialog.accept());
  await page.close();
  const again = await context.newPage();
  await again.goto(`http://127.0.0.1:${port}/bendbook/?open=demonstration`);
  await again.getByText("Work on demonstration.xlsx of").waitFor({ timeout: 60_000 });
});
