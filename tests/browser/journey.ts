/**
 * A view's journey in the shipped pages: beside the embedded grid, and in Excel's pane, where the same panel has its
 * least width. What every one of them begins and ends with. (Every view of the narrow page itself is gone through in
 * pictureFirst.test.ts and access.test.ts; what is written there, in shoot.test.ts and shot.test.ts.)
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, it, onTestFinished } from "vitest";
import { root } from "../../scripts/install.mjs";
import type { Book } from "../../src/workbook/book";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { bookOf } from "../excelHost/bookOf";
import { openPane } from "./excelPane";
import { openBench, savedBook, showView, testBench, type Bench } from "./workbenchPage";

/** Where a journey is walked. */
interface Place {
  readonly width: number;
  readonly bench: Bench;
  readonly inExcel: boolean;
  /** The workbook as it is now. */
  book(): Promise<Book>;
}

/** @param tab of the panel; the one in front when it is left out @param walk what the user does and sees */
type Journey = (view: string, tab: string | undefined, what: string, walk: Walk) => void;
type Walk = (page: Page, place: Place) => Promise<void>;

export const journey: Journey = (...given) => walked(...given, true);

/** One that begins with a file which the page opens: Excel's pane opens none, so it is walked on the narrow page. */
export const gridJourney: Journey = (...given) => walked(...given, false);

function walked(view: string, tab: string | undefined, what: string, walk: Walk, alsoInExcel: boolean): void {
  const bench = testBench();

  const go = async (page: Page, errors: string[], place: Place) => {
    onTestFinished(() => page.close());
    if (tab !== undefined) await showView(page, tab);
    await walk(page, place);
    const [content, room] = await page.evaluate(() => [
      document.querySelector("#panel main")!.scrollWidth,
      document.querySelector("#panel main")!.clientWidth,
    ]);
    expect(content).toBeLessThanOrEqual(room!);
    expect(errors).toEqual([]);
  };

  describe.each(alsoInExcel ? [1400] : [1400, 320])(`the ${view} view at %i px`, (width) => {
    it(what, async () => {
      const { page, errors } = await openBench(bench, { width, height: 900 });
      if (width === 320) await page.click("#show-panel");
      await go(page, errors, { width, bench, inExcel: false, book: () => savedBook(page) });
    });
  });

  describe.runIf(alsoInExcel)(`the ${view} view in Excel's pane`, () => {
    it(what, async () => {
      const book = await readXlsx(readFileSync(join(root, "sample-workbooks", "demonstration.xlsx")));
      const { page, host, trouble } = await openPane(bench.browser, bench.address, { book });
      onTestFinished(() => expect(host.unknown).toEqual([]));
      await page.locator("#panel main").waitFor({ state: "attached" });
      const place = { width: 320, bench, inExcel: true, book: async () => bookOf(host.workbook) };
      await go(page, trouble, place);
    });
  });
}
