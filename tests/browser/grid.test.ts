/** The embedded grid in a real browser: what a person types, sees and is told. */
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { book, sheet } from "../workbook/embedded/books";
import { workersBrowser } from "./browser";

let browser: Browser;
let page: Page;
let server: Server;
const trouble: string[] = [];

const log = book([
  sheet(
    "Log",
    [
      ["Gap (in)", "Bend (in)"],
      [0.875, "=BANK.BEND(A2)"],
      [0.75, "=BANK.BEND(A3)"],
      [null, null],
      ["=BANK.SPREAD(B2:B3)"],
    ],
    {
      frozenRows: 1,
      columnWidths: [20, 14],
    },
  ),
  sheet("Other", [["=SUM(Log!B2:B3)"]]),
]);

beforeAll(async () => {
  const bundled = await build({
    entryPoints: [fileURLToPath(new URL("gridPage.ts", import.meta.url))],
    bundle: true,
    write: false,
    outdir: "bundle",
    format: "iife",
    define: { "process.env.NODE_ENV": '"production"' },
    logLevel: "silent",
  });
  const files = new Map(bundled.outputFiles.map((file) => [file.path.replace(/^.*[\\/]/, "/"), file.contents]));
  const shell =
    '<!doctype html><meta charset="utf-8"><link rel="icon" href="data:,"><link rel="stylesheet" href="gridPage.css"><body style="margin:0"><div id="grid" style="height:100vh"></div><script src="gridPage.js"></script>';
  server = createServer((request, response) => {
    const path = request.url ?? "/";
    response.setHeader(
      "content-type",
      path.endsWith(".js") ? "text/javascript" : path.endsWith(".css") ? "text/css" : "text/html",
    );
    response.end(path === "/" ? shell : (files.get(path) ?? ""));
  });
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  browser = await workersBrowser();
  page = await browser.newPage({ viewport: { width: 1000, height: 700 } });
  page.on("pageerror", (error) => trouble.push(error.message));
  page.on("console", (message) => message.type() === "error" && trouble.push(message.text()));
  page.on(
    "request",
    (request) =>
      !/^(data|blob):/.test(request.url()) &&
      !request.url().startsWith(address) &&
      trouble.push(`asked for ${request.url()}`),
  );
  await page.goto(address);
  await page.evaluate((opened) => window.openBook(opened as never), log as unknown as object);
}, 60_000);

afterAll(async () => {
  await page?.close();
  await new Promise((done) => server?.close(done));
});

const value = (sheetName: string, row: number, column: number) =>
  page.evaluate(
    ([name, r, c]) =>
      window.grid.book().sheets.find((one) => one.name === name)?.rows[r as number]?.[c as number]?.value ?? null,
    [sheetName, row, column] as const,
  );

const select = (sheetName: string, row: number, column: number) =>
  page.evaluate(
    ([name, r, c]) =>
      window.grid.port.select(name as string, { row: r as number, column: c as number, rows: 1, columns: 1 }),
    [sheetName, row, column] as const,
  );

async function typeInto(row: number, column: number, text: string): Promise<void> {
  await select("Log", row, column);
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
}

describe("the grid", () => {
  it("shows the workbook computed", async () => {
    expect(await value("Log", 1, 1)).toBe(0.25);
    expect(await value("Other", 0, 0)).toBe(0.625);
    expect(await value("Log", 5, 1)).toBeCloseTo(0.3125, 12);
    expect(await page.locator("canvas").count()).toBeGreaterThan(0);
  });

  it("computes what is typed, and tells who listens", async () => {
    await typeInto(1, 0, "1");
    await expect.poll(() => value("Log", 1, 1)).toBe(0.125);
    await expect.poll(() => value("Other", 0, 0)).toBe(0.5);
    await expect.poll(() => page.evaluate(() => [...new Set(window.heard.changes)].sort())).toEqual(["Log", "Other"]);
    expect(await page.evaluate(() => window.heard.selections)).toEqual([
      ["Log", { row: 1, column: 0, rows: 1, columns: 1 }],
      ["Log", { row: 2, column: 0, rows: 1, columns: 1 }],
    ]);
  });

  it("takes a typed 1/8 for a date, as every spreadsheet does, and the function says so", async () => {
    await typeInto(2, 0, "1/8");
    await expect.poll(() => page.evaluate(() => window.grid.messageAt("Log", 2, 1))).toMatch(/date/);
    await typeInto(2, 0, "0 1/8");
    await expect.poll(() => value("Log", 2, 1)).toBe(1);
    expect(await page.evaluate(() => window.grid.messageAt("Log", 2, 1))).toBeUndefined();
  });

  it("describes functions and their arguments while they are typed", async () => {
    await select("Log", 12, 2);
    await page.keyboard.type("=BANK.CLEAR");
    const list = page.getByText("How far the ball's edge passed");
    await list.first().waitFor({ timeout: 5000 });
    await page.keyboard.type("ANCE(");
    await page
      .getByText(/\[ballDiameter\]/)
      .first()
      .waitFor({ timeout: 5000 });
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
  });

  it("is readable in the dark", async () => {
    await page.evaluate(() => window.grid.setDark(true));
    await expect
      .poll(() =>
        page.evaluate(
          () =>
            document.documentElement.classList.contains("univer-dark") ||
            document.querySelector(".univer-dark") !== null,
        ),
      )
      .toBe(true);
    await page.evaluate(() => window.grid.setDark(false));
  });

  it("said nothing on the console and asked nobody outside", async () => {
    expect(await page.evaluate(() => window.heard.errors)).toEqual([]);
    expect(trouble).toEqual([]);
  });
});
