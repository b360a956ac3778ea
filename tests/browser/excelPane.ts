/** The shipped pane in a browser, as Excel opens it: Microsoft's scripts, and a host with a workbook behind them. */
import type { Server } from "node:http";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, onTestFinished } from "vitest";
import { ensurePages } from "../../scripts/build.mjs";
import { serve } from "../../scripts/server/serve";
import type { Book, BookCell } from "../../src/workbook/book";
import { Host, LEAST_SETS } from "../excelHost/host";
import { connectPage, serveClient, type PageWorld } from "../excelHost/inPage";
import { HostWorkbook } from "../excelHost/workbook";
import { workersBrowser } from "./browser";

const HEADINGS = ["Bend (in)", "Cloth", "Humidity (%)", "Speed (mph)", "Spin"];

/**
 * Forty trials: bend falls by 0.01 in per point of humidity and is 0.1 in more on slow cloth; a small rest stands for
 * scatter.
 */
function trialLog(): Book {
  const trials = Array.from({ length: 40 }, (_, i) => {
    const humidity = 35 + ((i * 7) % 31);
    const speed = 6 + (i % 5);
    const slow = i % 2 === 1;
    const bend = 1.2 - 0.01 * humidity + 0.02 * speed + (slow ? 0.1 : 0) + 0.01 * Math.sin(i * 12.9898);
    return [bend, slow ? "Heath" : "Moor", humidity, speed, i % 3].map((value): BookCell => ({ value }));
  });
  const sheet = {
    name: "Bo's log",
    rows: [[], HEADINGS.map((value) => ({ value })), ...trials],
    hiddenRows: [5],
    merged: [],
    tables: [{ name: "Trials", area: { row: 1, column: 0, rows: 41, columns: 5 } }],
    validations: [],
    columnWidths: [],
  };
  return { sheets: [sheet], styles: [], names: [] };
}

export interface PaneWorld extends PageWorld {
  readonly book?: Book;
  readonly width?: number;
  readonly sets?: Readonly<Record<string, string>>;
  /** Of Microsoft's scripts, those that cannot be had. */
  readonly withoutClient?: (file: string) => boolean;
  /** Addresses of ours that cannot be had. */
  readonly without?: RegExp;
  /** Whether Excel is there at all; otherwise a plain browser opens the page. */
  readonly excel?: boolean;
  /** Called before the page is opened. */
  readonly prepare?: (page: Page, trouble: string[]) => Promise<void>;
}

export interface Pane {
  readonly page: Page;
  readonly host: Host;
  /** What went wrong in the page, and addresses that nobody answered for. */
  readonly trouble: string[];
}

export interface PaneServer {
  address: string;
  /** Opens the pane for a test, and closes it after. */
  open(world?: PaneWorld): Promise<Pane>;
  /** Opens the pane for several tests; `close` is for after the last. */
  openForAll(world?: PaneWorld): Promise<Pane>;
  close(pane: Pane | undefined): Promise<void>;
}

/** Serves the built pages around the tests of a file, in the worker's browser. */
export function paneServer(): PaneServer {
  let browser: Browser | undefined;
  let server: Server | undefined;
  const started: PaneServer = {
    address: "",
    async open(world) {
      const pane = await started.openForAll(world);
      onTestFinished(() => started.close(pane));
      return pane;
    },
    async openForAll(world = {}) {
      if (!browser) throw new Error("The browser has not been started.");
      return openPane(browser, started.address, world);
    },
    async close(pane) {
      await pane?.page.close();
      expect(pane?.host.unknown ?? []).toEqual([]);
    },
  };
  beforeAll(async () => {
    ensurePages();
    ({ server, address: started.address } = await serve({ port: 0 }));
    browser = await workersBrowser();
  }, 600_000);
  afterAll(async () => {
    server?.closeAllConnections();
    await new Promise((done) => server?.close(done));
  });
  return started;
}

export async function openPane(browser: Browser, address: string, world: PaneWorld): Promise<Pane> {
  const { book = trialLog(), width = 320, sets = LEAST_SETS, withoutClient, without, excel = true, prepare } = world;
  const page = await browser.newPage({ viewport: { width, height: 900 }, reducedMotion: "reduce" });
  const trouble: string[] = [];
  page.on("pageerror", (error) => trouble.push(error.message));
  page.on("console", (message) => message.type() === "error" && trouble.push(message.text()));
  const host = new Host(HostWorkbook.of(book), sets);
  await serveClient(page, trouble, withoutClient);
  if (excel) await connectPage(page, host, world);
  if (without) await page.route(without, (route) => route.abort());
  await prepare?.(page, trouble);
  await page.goto(`${address}taskpane.html`);
  return { page, host, trouble };
}
