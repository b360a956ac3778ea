/**
 * Retakes the pictures of docs/ in a real browser (npm run screenshots), and takes every view at 320, 768 and 1400 px,
 * light and dark, with contact sheets, into .cache/views. With names of views, those alone; with "first" or "evening",
 * the series of that name in docs/.
 */
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { openBench, openStep, showView, startBench } from "../tests/browser/workbenchPage";
import { eveningPictures } from "./eveningPictures";
import { firstAnswerPictures } from "./firstAnswerPictures";
import { root } from "./install.mjs";
import { viewPictures } from "./viewPictures";

const folder = join(root, "docs", "pictures");
mkdirSync(folder, { recursive: true });
const names = process.argv.slice(2);
/** Series of pictures that tell of one another. */
const SERIES = { first: firstAnswerPictures, evening: eveningPictures };
const bench = await startBench();
try {
  const views = names.filter((name) => !(name in SERIES));
  if (names.length === 0 || views.length > 0)
    process.stdout.write(`Every view is in ${await viewPictures(bench, views)}\n`);
  if (names.length === 0) await docsPictures();
  for (const [name, take] of Object.entries(SERIES))
    if (names.length === 0 || names.includes(name)) await take(bench, folder);
} finally {
  await bench.close();
}

/** The pictures that the README and the docs show. */
async function docsPictures(): Promise<void> {
  for (const dark of [false, true]) {
    const { page } = await openBench(bench, { width: 1360, height: 820, dark });
    await page.locator("[data-figure=drivers]").waitFor();
    await page.waitForTimeout(1000); // the grid draws on a canvas and says nothing when it is done
    await page.screenshot({ path: join(folder, dark ? "workbench-dark.png" : "workbench.png") });
    await page.close();
  }
  const { page } = await openBench(bench, { width: 320, height: 760 });
  const panel = page.locator("#panel");
  /** The view in front, as soon as the part stands; from its top unless the part is to be in the middle. */
  const shot = async (name: string, tab?: string, part?: string, middle = false) => {
    if (tab) await showView(page, tab);
    if (part) await page.locator(part).first().waitFor();
    if (part && middle)
      await page
        .locator(part)
        .first()
        .evaluate((element) => element.scrollIntoView({ block: "center" }));
    else if (tab) await panel.evaluate((element) => element.scrollTo(0, 0));
    await page.waitForTimeout(300);
    await page.screenshot({ path: join(folder, `${name}.png`) });
  };
  await page.click("#show-panel");
  await openStep(page, "Check rows");
  await shot("panel-rows");
  await shot("panel-analysis", "Analysis", "[data-figure=drivers]");
  await page.getByRole("combobox", { name: "Plot" }).click();
  await page.getByRole("option", { name: "Bend against Humidity" }).click();
  await page.locator("[data-figure]").scrollIntoViewIfNeeded();
  await shot("panel-look", undefined, "[data-figure]", true);
  await shot("panel-first-hour", "First hour", "[data-view=start]");
  await shot("panel-plan", "Plan", "[data-figure=chance]");
  await showView(page, "Shoot");
  await page.locator("[data-part=other] summary").click();
  await page.getByRole("button", { name: 'Shoot on the sheet "Attempts"' }).click();
  await page.getByRole("button", { name: /^New session/ }).click();
  for (const [i, outcome] of ["cleared", "hit obstacle", "cleared", "made", "hit obstacle"].entries()) {
    await page.locator(`[data-outcome="${outcome}"]`).click();
    await page.getByText(new RegExp(`^${i + 1} attempts?, session`)).waitFor();
  }
  await shot("panel-shoot", "Shoot", "[data-part=line]");
  await shot("panel-shot", "Shot", "[data-drawing=table]");
  await shot("panel-layout", "Layout", "[data-drawing=layout]");
  await shot("panel-measure", "Measure", "[data-part=measured]");
  await shot("panel-next", "Next", "[data-figure=next]");
}
