/** A page that is killed loses nothing: what was typed and written comes back whole, whenever the page dies. */
import { readFileSync } from "node:fs";
import type { BrowserContext, Page } from "playwright-core";
import { beforeEach, describe, expect, it } from "vitest";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { goTo, typeInto } from "./gridTyping";
import {
  clearDrafts,
  draftHolds,
  goOn,
  kill,
  newContext,
  opened as openedAt,
  savedBook,
  showView,
  testBench,
} from "./workbenchPage";

const bench = testBench();

// Each test begins with no drafts but its own.
beforeEach(() => clearDrafts(bench));

const opened = (context: BrowserContext) => openedAt(context, bench.address);

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
    await goOn(again);
    await showView(again, "Analysis");
    await again.locator("[data-part=by]").getByText("238 of 240 rows used").waitFor();
    // The plan's sheet is there whole, or it is not there at all: headings, 12 shots and 9 warm-ups.
    const { sheets } = await savedBook(again);
    expect(sheets.slice(0, 4).map(({ name }) => name)).toEqual(["Trials", "Answers", "Conditions", "Guide"]);
    const planned = sheets.find(({ name }) => name === "Plan");
    if (planned) expect(planned.rows).toHaveLength(22);
    if (wait >= 3000) expect(planned).toBeDefined();
  });

  it("brings back a picture and what was typed into the panel; a copy made at once has it too", async () => {
    const context = await newContext(bench);
    const page = await opened(context);
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
    await draftHolds(bench, "xl/media/");
    await page.getByRole("textbox", { name: "Title" }).fill("Worn, new and newest");
    await page.keyboard.press("Tab");
    await draftHolds(bench, "Worn, new and newest");
    await kill(page);
    const again = await opened(context);
    await goOn(again);
    expect(await saved(again)).toMatchObject({
      settings: expect.stringContaining("Worn, new and newest"),
      sheets: expect.arrayContaining(["Shot drawing"]),
      pictures: true,
    });
  });

  it("loses no cell that was committed, however soon it dies", async () => {
    const context = await newContext(bench);
    const typed: [cell: string, value: number][] = [];
    let page = await opened(context);
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
      page = await opened(context);
      await goOn(page);
      const { sheets } = await savedBook(page);
      for (const [cell, value] of typed)
        expect([cell, sheets[0].rows[Number(cell.slice(1)) - 1]?.[19]?.value]).toEqual([cell, value]);
      await typeInto(page, "U2", String(round));
    }
  });

  it("gives a .csv back with the picture that was put beside it, copy after copy", async () => {
    const context = await newContext(bench);
    const page = await opened(context);
    await page
      .locator("#file")
      .setInputFiles({ name: "hall.csv", mimeType: "text/csv", buffer: Buffer.from("Gap (in),Made\n0.5,yes\n") });
    await page.waitForSelector('body[data-ready="hall.csv"]');
    await drawOnSheet(page);
    await draftHolds(bench, "xl/media/");
    await kill(page);
    const again = await opened(context);
    await again.getByText(/^Work on hall\.csv of .* is in no copy yet/).waitFor();
    await goOn(again);
    expect((await savedBytes(again)).toString("latin1")).toContain("xl/media/");
  });
});
