/**
 * Every view at every width, light and dark, and the first screen of a phone, as pictures to be looked at; with contact
 * sheets of them all. They stand in .cache/views, out of the repository.
 */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { openBench, type Bench } from "../tests/browser/workbenchPage";
import { showView } from "../tests/browser/views";
import { VIEWS, type ViewName } from "../src/panel/frame/settings";
import { root } from "./install.mjs";

const WIDTHS = [320, 768, 1400];
const HEIGHT = 640;
/** Width of a picture on a contact sheet, in pixels. */
const SMALL = 220;

/** @param names views to take; all when empty */
export async function viewPictures(bench: Bench, names: readonly string[]): Promise<string> {
  const folder = join(root, ".cache", "views");
  if (names.length === 0) rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  const views = VIEWS.filter((view) => names.length === 0 || names.includes(view));
  for (const width of WIDTHS)
    for (const dark of [false, true]) {
      const { page } = await openBench(bench, { width, height: width === 320 ? HEIGHT : 900, dark });
      const files: string[] = [];
      for (const view of views) {
        const file = join(folder, `${view}-${width}-${dark ? "dark" : "light"}.png`);
        await take(page, view, file);
        files.push(file);
      }
      await contactSheet(bench, files, join(folder, `all-${width}-${dark ? "dark" : "light"}.png`));
      await page.context().close();
    }
  return folder;
}

/** The view from its top, as a person sees it. */
async function take(page: Page, view: ViewName, file: string): Promise<void> {
  await showView(page, view);
  await page.waitForTimeout(700); // what follows a moment later, such as a fit beside the page, is let come
  await page.screenshot({ path: file });
}

async function contactSheet(bench: Bench, files: readonly string[], file: string): Promise<void> {
  const sheet = await bench.browser.newPage({ viewport: { width: 1400, height: 900 } });
  const images = files.map(
    (one) =>
      `<figure style="margin:4px;font:12px sans-serif"><img width="${SMALL}" src="data:image/png;base64,${readFileSync(one, "base64")}"><figcaption>${one.split("/").at(-1)}</figcaption></figure>`,
  );
  const html = `${file}.html`;
  writeFileSync(html, `<body style="margin:0;display:flex;flex-wrap:wrap;background:#888">${images.join("")}`);
  await sheet.goto(`file://${html}`);
  await sheet.screenshot({ path: file, fullPage: true });
  await sheet.close();
  rmSync(html);
}
