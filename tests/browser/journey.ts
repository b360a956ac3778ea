/**
 * A view's journey in the shipped page, at full and at the least width: what every one of them begins and ends with.
 */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBench, showView, startBench, type Bench } from "./workbenchPage";

/** @param tab of the panel; the one in front when it is left out @param walk what the user does and sees */
export function journey(
  view: string,
  tab: string | undefined,
  what: string,
  walk: (page: Page, width: number, bench: Bench) => Promise<void>,
): void {
  let bench: Bench;
  beforeAll(async () => {
    bench = await startBench();
  }, 240_000);
  afterAll(() => bench?.close());

  describe.each([1400, 320])(`the ${view} view at %i px`, (width) => {
    it(what, async () => {
      const { page, errors } = await openBench(bench, { width, height: 900 });
      if (width === 320) await page.click("#show-panel");
      if (tab !== undefined) await showView(page, tab);
      await walk(page, width, bench);
      const [content, room] = await page.evaluate(() => [
        document.querySelector("#panel main")!.scrollWidth,
        document.querySelector("#panel main")!.clientWidth,
      ]);
      expect(content).toBeLessThanOrEqual(room);
      expect(errors).toEqual([]);
      await page.close();
    });
  });
}
