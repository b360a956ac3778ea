/** npm run screenshots: retakes the pictures of the README in a real browser. */
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { openBench, openStep, startBench } from "../tests/browser/workbenchPage";
import { root } from "./install.mjs";

const folder = join(root, "docs", "pictures");
mkdirSync(folder, { recursive: true });
const bench = await startBench();
try {
  for (const dark of [false, true]) {
    const { page } = await openBench(bench, { width: 1360, height: 820, dark });
    await page.waitForSelector("[data-part=sentences]");
    await page.waitForTimeout(1000); // the grid draws on a canvas and says nothing when it is done
    await page.screenshot({ path: join(folder, dark ? "workbench-dark.png" : "workbench.png") });
    await page.close();
  }
  const { page } = await openBench(bench, { width: 320, height: 760 });
  await page.click("#show-panel");
  await openStep(page, "Check rows");
  await page.screenshot({ path: join(folder, "panel-rows.png") });
  await openStep(page, "Look");
  await page.getByRole("combobox", { name: "Plot" }).click();
  await page.getByRole("option", { name: "Bend against Humidity" }).click();
  await page.locator("[data-figure]").scrollIntoViewIfNeeded();
  await page.locator("[data-figure]").evaluate((figure) => figure.scrollIntoView({ block: "center" }));
  await page.waitForTimeout(300);
  await page.screenshot({ path: join(folder, "panel-look.png") });
} finally {
  await bench.close();
}
