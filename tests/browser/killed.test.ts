/** A page that is killed loses nothing: what was typed and written comes back whole, whenever the page dies. */
import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { beforeEach, describe, expect, it } from "vitest";
import type { Book } from "../../src/workbook/book";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { goTo, typeInto } from "./gridTyping";
import {
  clearDrafts,
  draftHolds,
  goOn,
  kill,
  newContext,
  opened,
  savedBook,
  showView,
  testBench,
} from "./workbenchPage";

const bench = testBench();

// Each test begins with no drafts but its own.
beforeEach(() => clearDrafts(bench));

async function drawOnSheet(page: Page): Promise<void> {
  await showView(page, "Shot");
  await page
    .locator("#panel")
    .getByRole("button", { name: /^Keep the shot/ })
    .click();
  await page.getByRole("button", { name: "Put the drawing on a sheet" }).click();
  await page.getByText('The drawing is on the new sheet "Shot drawing".').waitFor();
}

async function savedBytes(page: Page): Promise<Buffer> {
  const [download] = await Promise.all([page.waitForEvent("download"), page.click("#save")]);
  return readFileSync((await download.path())!);
}

const sheetNames = (book: Book) => book.sheets.map(({ name }) => name);

describe("a page that is killed", () => {
  it("leaves the workbook whole, whether it dies before, during or after a write", async () => {
    // Three pages of one process, which is killed once: 3 s, 60 ms and no time after their writes began.
    const context = await newContext(bench);
    const waits = [3000, 60, 0];
    const pages: Page[] = [];
    for (const [i] of waits.entries()) {
      const page = await opened(context, bench.address);
      await typeInto(page, "G18", String(9 + i));
      await page.locator("[data-part=by]").getByText("238 of 240 rows used").waitFor();
      await showView(page, "Plan");
      await page.getByRole("button", { name: "Write the plan" }).waitFor();
      pages.push(page);
    }
    for (const [i, page] of pages.entries()) {
      await page.getByRole("button", { name: "Write the plan" }).click({ noWaitAfter: true });
      await page.waitForTimeout(waits[i]! - (waits[i + 1] ?? 0));
    }
    await kill(pages[2]!);
    await context.close();

    const again = await opened(bench, bench.address);
    const told = again.getByText(/^Work on demonstration\.xlsx of .* is in no copy yet/);
    await expect.poll(() => told.count()).toBe(3);
    const found = new Map<unknown, Book>();
    for (const _ of waits) {
      await goOn(again);
      await showView(again, "Analysis");
      await again.locator("[data-part=by]").getByText("238 of 240 rows used").waitFor();
      const book = await savedBook(again);
      expect(sheetNames(book).slice(0, 4)).toEqual(["Trials", "Answers", "Conditions", "Guide"]);
      found.set(book.sheets[0].rows[17]![6]!.value, book);
    }
    expect([...found.keys()].sort()).toEqual([10, 11, 9]);
    // The plan's sheet is there whole, or it is not there at all: headings, 12 shots and 9 warm-ups.
    for (const { sheets } of found.values())
      expect([undefined, 22]).toContain(sheets.find(({ name }) => name === "Plan")?.rows.length);
    expect(sheetNames(found.get(9)!)).toContain("Plan");
  });

  it("brings back pictures, beside a .csv too, and what was typed into the panel; a copy made at once has it", async () => {
    const context = await newContext(bench);
    const hall = await opened(context, bench.address);
    await hall
      .locator("#file")
      .setInputFiles({ name: "hall.csv", mimeType: "text/csv", buffer: Buffer.from("Gap (in),Made\n0.5,yes\n") });
    await hall.waitForSelector('body[data-ready="hall.csv"]');
    await drawOnSheet(hall);
    await draftHolds(bench, "xl/media/");
    // In the same process, for one death.
    const page = await opened(context, bench.address);
    await drawOnSheet(page);
    await showView(page, "Report");
    const saved = async (from: Page) => {
      const bytes = await savedBytes(from);
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
    await draftHolds(bench, "xl/media/", 2);
    await page.getByRole("textbox", { name: "Title" }).fill("Worn, new and newest");
    await page.keyboard.press("Tab");
    await draftHolds(bench, "Worn, new and newest");
    await kill(page);
    await context.close();
    const again = await opened(bench, bench.address);
    await again.getByText(/^Work on hall\.csv of .* is in no copy yet/).waitFor();
    const found: Record<string, Awaited<ReturnType<typeof saved>>> = {};
    for (let i = 0; i < 2; i++) {
      await goOn(again);
      found[(await again.locator("body").getAttribute("data-ready"))!] = await saved(again);
    }
    expect(found).toMatchObject({
      "hall.csv": { pictures: true },
      "demonstration.xlsx": {
        settings: expect.stringContaining("Worn, new and newest"),
        sheets: expect.arrayContaining(["Shot drawing"]),
        pictures: true,
      },
    });
  });

  it("loses no cell that was committed, however soon it dies", async () => {
    const context = await newContext(bench);
    const typed: [cell: string, value: number][] = [];
    let page = await opened(context, bench.address);
    // The second page that dies is one that went on with the first one's work.
    for (let round = 0; round < 2; round++) {
      await goTo(page, `T${2 + 5 * round}`);
      for (let i = 0; i < 5; i++) {
        const value = 100 * (round + 1) + i;
        await page.keyboard.type(String(value));
        await page.keyboard.press("Enter");
        typed.push([`T${2 + 5 * round + i}`, value]);
      }
      await kill(page);
      page = await opened(round === 0 ? context : bench, bench.address);
      await goOn(page);
      const { sheets } = await savedBook(page);
      for (const [cell, value] of typed)
        expect([cell, sheets[0].rows[Number(cell.slice(1)) - 1]?.[19]?.value]).toEqual([cell, value]);
      await typeInto(page, "U2", String(round));
    }
  });
});
