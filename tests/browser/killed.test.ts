/** A page that is killed loses nothing: what was typed and written comes back whole, whenever the page dies. */
import { readFileSync, writeFileSync } from "node:fs";
import type { Server } from "node:http";
import { join } from "node:path";
import type { BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { serve } from "../../scripts/server/serve";
import type { Book } from "../../src/workbook/book";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { goTo, insertRowAbove, typeInto } from "./gridTyping";
import {
  clearDrafts,
  kill,
  newContext,
  opened as openedAt,
  savedBook,
  showView,
  startBench,
  type Bench,
} from "./workbenchPage";

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
}, 240_000);
afterAll(() => bench?.close());

// Each test begins with no drafts but its own.
beforeEach(() => clearDrafts(bench));

const opened = (context: BrowserContext, address = bench.address) => openedAt(context, address);

describe("a page that is killed", () => {
  // Different moments of the write: before, during and after the sheets are made and the draft is kept.
  it.each([0, 60, 3000])("%i ms after a write began leaves the workbook whole", async (wait) => {
    const context = await newContext(bench);
    const page = await opened(context);
    await typeInto(page, "G18", "9.5");
    await page.locator("[data-part=by]").getByText("238 of 240 rows used").waitFor();
    await showView(page, "Plan");
    await page.getByRole("button", { name: "Write the plan" }).click({ noWaitAfter: true });
    await page.waitForTimeout(wait);
    await kill(page);

    const again = await opened(context);
    await again.getByText(/^Work on demonstration\.xlsx of .* is in no copy yet/).waitFor();
    await again.getByRole("button", { name: "Go on with it" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    await showView(again, "Analysis");
    await again.locator("[data-part=by]").getByText("238 of 240 rows used").waitFor();
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
  });

  it("brings back a picture and what was typed into the panel; a copy made at once has it too", async () => {
    const context = await newContext(bench);
    const page = await opened(context);
    await showView(page, "Shot");
    await page
      .locator("#panel")
      .getByRole("button", { name: /^Keep the shot/ })
      .click();
    await page.getByRole("button", { name: "Put the drawing on a sheet" }).click();
    await page.getByText('The drawing is on the new sheet "Shot drawing".').waitFor();
    await showView(page, "Report");
    const saved = async (from: Page) => {
      const [download] = await Promise.all([from.waitForEvent("download"), from.click("#save")]);
      const bytes = readFileSync((await download.path())!);
      const { settings, sheets } = await readXlsx(bytes);
      return {
        settings,
        sheets: sheets.map(({ name }) => name),
        pictures: bytes.toString("latin1").includes("xl/media/"),
      };
    };
    await page.getByRole("textbox", { name: "Title" }).fill("Worn and new");
    expect((await saved(page)).settings).toContain("Worn and new");
    await page.getByRole("textbox", { name: "Title" }).fill("Worn, new and newer");
    await page.keyboard.press("Tab");
    // Pictures go with the whole copy, which follows within some seconds; what is typed, at once.
    await page.waitForTimeout(4000);
    await page.getByRole("textbox", { name: "Title" }).fill("Worn, new and newest");
    await page.keyboard.press("Tab");
    await page.waitForTimeout(300);
    await kill(page);
    const again = await opened(context);
    await again.getByRole("button", { name: "Go on with it" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    const after = await saved(again);
    expect(after).toMatchObject({
      settings: expect.stringContaining("Worn, new and newest"),
      sheets: expect.arrayContaining(["Shot drawing"]),
      pictures: true,
    });
  });

  it("loses no cell that was committed, however soon it dies", async () => {
    const context = await newContext(bench);
    const typed: [cell: string, value: number][] = [];
    let page = await opened(context);
    for (let round = 0; round < 4; round++) {
      await goTo(page, `T${2 + 5 * round}`);
      for (let i = 0; i < 5; i++) {
        const value = 100 * (round + 1) + i;
        await page.keyboard.type(String(value));
        await page.keyboard.press("Enter");
        typed.push([`T${2 + 5 * round + i}`, value]);
      }
      await kill(page);
      page = await opened(context);
      await page.getByRole("button", { name: "Go on with it" }).click();
      await page.getByText(/is in no copy yet/).waitFor({ state: "detached" });
      const { sheets } = await savedBook(page);
      for (const [cell, value] of typed)
        expect([cell, sheets[0].rows[Number(cell.slice(1)) - 1]?.[19]?.value]).toEqual([cell, value]);
      await typeInto(page, "U2", String(round));
    }
  });

  it("brings rows that were put in, other sheets and formulas back as they were", async () => {
    const context = await newContext(bench);
    const page = await opened(context);
    await typeInto(page, "T2", "=BANK.BEND(L2)");
    await insertRowAbove(page, "A2");
    await typeInto(page, "T2", "7");
    const before = await savedBook(page);
    await typeInto(page, "T4", "8");
    await kill(page);
    const again = await opened(context);
    await again.getByRole("button", { name: "Go on with it" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    const after = await savedBook(again);
    const cells = (book: Book) =>
      [1, 2, 3].map((row) => [row, book.sheets[0].rows[row]?.[19]?.value, book.sheets[0].rows[row]?.[19]?.formula]);
    expect(cells(before)).toEqual([
      [1, 7, undefined],
      [2, expect.any(Number), "BANK.BEND(L3)"],
      [3, undefined, undefined],
    ]);
    expect(cells(after)).toEqual([...cells(before).slice(0, 2), [3, 8, undefined]]);
    expect(after.sheets[0].tables).toEqual(before.sheets[0].tables);
  });

  it("is found again from another port, and a piece that cannot be read hides nothing", async () => {
    const context = await newContext(bench);
    const page = await opened(context);
    await typeInto(page, "T2", "321");
    await kill(page);
    writeFileSync(join(bench.drafts, "00000000-0000-4000-8000-000000000000.json"), "not what it was");
    const { server, address } = await serve({ port: 0, drafts: bench.drafts });
    const other = await context.newPage();
    await other.goto(address);
    await other.getByText(/^Work on demonstration\.xlsx of .* is in no copy yet/).waitFor();
    await other.getByText("One piece of kept work cannot be read and will not be offered.").waitFor();
    await other.getByRole("button", { name: "Go on with it" }).click();
    await other.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    expect((await savedBook(other)).sheets[0].rows[1]![19]!.value).toBe(321);
    server.closeAllConnections();
    server.close();
  });

  it("gives a .csv back with the picture that was put beside it, copy after copy", async () => {
    const context = await newContext(bench);
    const page = await opened(context);
    await page
      .locator("#file")
      .setInputFiles({ name: "hall.csv", mimeType: "text/csv", buffer: Buffer.from("Gap (in),Made\n0.5,yes\n") });
    await page.waitForSelector('body[data-ready="hall.csv"]');
    await showView(page, "Shot");
    await page
      .locator("#panel")
      .getByRole("button", { name: /^Keep the shot/ })
      .click();
    await page.getByRole("button", { name: "Put the drawing on a sheet" }).click();
    await page.getByText('The drawing is on the new sheet "Shot drawing".').waitFor();
    await page.waitForTimeout(3000);
    await kill(page);
    const again = await opened(context);
    await again.getByText(/^Work on hall\.csv of .* is in no copy yet/).waitFor();
    await again.getByRole("button", { name: "Go on with it" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    const [download] = await Promise.all([again.waitForEvent("download"), again.click("#save")]);
    expect(readFileSync((await download.path())!).toString("latin1")).toContain("xl/media/");
  });

  it("can have its work thrown away; a copy that was saved leaves it for a while, and says so", async () => {
    const context = await newContext(bench);
    const page = await opened(context);
    await typeInto(page, "G18", "9.5");
    await kill(page);
    const again = await opened(context);
    await again.getByRole("button", { name: "Throw it away" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    await typeInto(again, "G18", "9.75");
    await savedBook(again);
    await again.getByText(/went to the browser's downloads/).waitFor();
    await kill(again);
    // Nobody can know whether the file arrived: a dialog may have been cancelled.
    const last = await opened(context);
    await last
      .getByText(/^A copy of demonstration\.xlsx went to the browser's downloads on .*Should it not have arrived/)
      .waitFor();
    await last.getByRole("button", { name: "Go on with it" }).click();
    await last.getByText(/Should it not have arrived/).waitFor({ state: "detached" });
    expect((await savedBook(last)).sheets[0].rows[17]![6]!.value).toBe(9.75);
  });

  it("keeps its work when another workbook could not be opened in its place", async () => {
    const context = await newContext(bench);
    const page = await opened(context);
    await typeInto(page, "T2", "55");
    await page.locator("#file").setInputFiles({
      name: "broken.xlsx",
      mimeType: "application/octet-stream",
      buffer: Buffer.from("PK no workbook"),
    });
    await page.getByRole("button", { name: "Open without saving" }).click();
    await page
      .getByText(/broken\.xlsx/)
      .first()
      .waitFor();
    await typeInto(page, "T3", "56");
    await kill(page);
    const again = await opened(context);
    await again.getByRole("button", { name: "Go on with it" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    const { rows } = (await savedBook(again)).sheets[0];
    expect([rows[1]![19]!.value, rows[2]![19]!.value]).toEqual([55, 56]);
  });
});

describe("a page without a server that keeps drafts", () => {
  let files: { server: Server; address: string };
  beforeAll(async () => void (files = await serve({ port: 0 })));
  afterAll(() => {
    files.server.closeAllConnections();
    files.server.close();
  });

  it("lets the browser keep them", async () => {
    const context = await newContext(bench);
    const page = await opened(context, files.address);
    await typeInto(page, "T2", "77");
    // The browser's database is told at once and writes when it can.
    await page.waitForTimeout(300);
    await kill(page);
    const again = await opened(context, files.address);
    await again.getByRole("button", { name: "Go on with it" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    expect((await savedBook(again)).sheets[0].rows[1]![19]!.value).toBe(77);
  });

  it.each(["indexedDB", "navigator.locks"])("opens a workbook where the browser has no %s", async (what) => {
    const context = await newContext(bench);
    await context.addInitScript((name) => {
      const [owner, key] = name === "indexedDB" ? [window, "indexedDB"] : [Navigator.prototype, "locks"];
      Object.defineProperty(owner, key, { value: undefined, configurable: true });
    }, what);
    const page = await opened(context, files.address);
    expect(await page.getByText("This browser keeps no work for pages that die").count()).toBe(
      what === "indexedDB" ? 1 : 0,
    );
    await typeInto(page, "T2", "78");
    expect((await savedBook(page)).sheets[0].rows[1]![19]!.value).toBe(78);
  });
});
