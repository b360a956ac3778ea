/** Work that a page left: where it is found, to whom it is offered, how it is thrown away, where nothing is kept. */
import { writeFileSync } from "node:fs";
import type { Server } from "node:http";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it, onTestFinished } from "vitest";
import { serve } from "../../scripts/server/serve";
import type { Book } from "../../src/workbook/book";
import { insertRowAbove, typeInto } from "./gridTyping";
import { clearDrafts, goOn, kill, newContext, opened, savedBook, testBench } from "./workbenchPage";

const bench = testBench();

// Each test begins with no drafts but its own.
beforeEach(() => clearDrafts(bench));

/** Presses Cancel while another workbook is being opened: before it has come, and while it is computed. */
async function givesUp(page: Page): Promise<void> {
  const cancel = async (name: string, when: RegExp) => {
    await page.getByRole("button", { name: "Open without saving" }).click();
    await page.getByText(when).waitFor();
    await page.getByRole("button", { name: "Cancel" }).press("Enter");
    await page.getByText(`${name} was not opened, as you wished.`).waitFor();
    await page.locator("#loading").waitFor({ state: "hidden" });
    expect(await page.title()).toContain("demonstration.xlsx");
  };
  await page.route(/\/trial-log\.xlsx$/, () => {});
  await page.click("#blank");
  await cancel("trial-log.xlsx", /^Reading trial-log\.xlsx/);
  const lines = Array.from({ length: 40_000 }, (_, i) => `${i},${(i % 7) / 8},${i % 3}`);
  const buffer = Buffer.from(["Trial,Gap (in),Spin", ...lines].join("\n"));
  // Long enough on any machine.
  const machine = await page.context().newCDPSession(page);
  await machine.send("Emulation.setCPUThrottlingRate", { rate: 5 });
  await page.locator("#file").setInputFiles({ name: "long.csv", mimeType: "text/csv", buffer });
  await cancel("long.csv", /^Computing the workbook/);
  await machine.detach();
}

describe("work that was left", () => {
  it("comes back as it was, from another port, past files that were not opened and a piece that cannot be read", async () => {
    const page = await opened(await newContext(bench), bench.address);
    await typeInto(page, "T2", "=BANK.BEND(L2)");
    // Another workbook that cannot be opened takes nothing with it.
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
    await givesUp(page);
    await insertRowAbove(page, "A2");
    await typeInto(page, "T2", "7");
    const before = await savedBook(page);
    await typeInto(page, "T4", "8");
    await kill(page);
    writeFileSync(join(bench.drafts, "00000000-0000-4000-8000-000000000000.json"), "not what it was");

    const { server, address } = await serve({ port: 0, drafts: bench.drafts });
    const other = await bench.newPage();
    onTestFinished(() => other.close());
    await other.goto(address);
    await other.getByText(/^Work on demonstration\.xlsx of .* is in no copy yet/).waitFor();
    await other.getByText("One piece of kept work cannot be read and will not be offered.").waitFor();
    await goOn(other);
    // Gone on with, it is this page's own work; another page is offered nothing while this one lives.
    const third = await opened(bench, bench.address);
    await third.getByText("One piece of kept work cannot be read and will not be offered.").waitFor();
    expect(await third.getByText(/is in no copy yet/).count()).toBe(0);
    const after = await savedBook(other);
    const cells = (book: Book) =>
      [1, 2, 3].map((row) => [row, book.sheets[0].rows[row]?.[19]?.value, book.sheets[0].rows[row]?.[19]?.formula]);
    expect(cells(before)).toEqual([
      [1, 7, undefined],
      [2, expect.any(Number), "BANK.BEND(L3)"],
      [3, undefined, undefined],
    ]);
    expect(cells(after)).toEqual([...cells(before).slice(0, 2), [3, 8, undefined]]);
    expect(after.sheets[0].tables).toEqual(before.sheets[0].tables);
    server.closeAllConnections();
    server.close();
  });

  it("can be thrown away; a copy that was saved leaves it for a while, and says so", async () => {
    const context = await newContext(bench);
    const page = await opened(context, bench.address);
    await typeInto(page, "G18", "9.5");
    await kill(page);
    const again = await opened(context, bench.address);
    await again.getByRole("button", { name: "Throw it away" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    await typeInto(again, "G18", "9.75");
    await savedBook(again);
    await again.getByText(/went to the browser's downloads/).waitFor();
    await kill(again);
    // Nobody can know whether the file arrived: a dialog may have been cancelled.
    const last = await opened(bench, bench.address);
    await last
      .getByText(/^A copy of demonstration\.xlsx went to the browser's downloads on .*Should it not have arrived/)
      .waitFor();
    await last.getByRole("button", { name: "Go on with it" }).click();
    await last.getByText(/Should it not have arrived/).waitFor({ state: "detached" });
    expect((await savedBook(last)).sheets[0].rows[17]![6]!.value).toBe(9.75);
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
    await goOn(again);
    expect((await savedBook(again)).sheets[0].rows[1]![19]!.value).toBe(77);
  });

  it.each(["indexedDB", "navigator.locks"])("opens a workbook where the browser has no %s", async (what) => {
    const page = await bench.newPage();
    onTestFinished(() => page.close());
    // What a server without drafts says, at the address whose scripts are at hand.
    await page.route(/\/drafts/, (route) => route.fulfill({ status: 404 }));
    await page.addInitScript((name) => {
      const [owner, key] = name === "indexedDB" ? [window, "indexedDB"] : [Navigator.prototype, "locks"];
      Object.defineProperty(owner, key, { value: undefined, configurable: true });
    }, what);
    await page.goto(`${bench.address}?open=demonstration`);
    await page.waitForSelector("body[data-ready]");
    expect(await page.getByText("This browser keeps no work for pages that die").count()).toBe(
      what === "indexedDB" ? 1 : 0,
    );
    await typeInto(page, "T2", "78");
    expect((await savedBook(page)).sheets[0].rows[1]![19]!.value).toBe(78);
  });
});
