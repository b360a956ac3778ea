/** Draws the PNG icons that the manifest needs from src/assets/icon.svg, in a browser: node scripts/run.mjs icons. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { startBrowser } from "../tests/browser/browser";
import { root } from "./install.mjs";

const SIZES = [16, 20, 24, 32, 40, 48, 64, 80, 128];

const browser = await startBrowser();
try {
  const svg = readFileSync(join(root, "src", "assets", "icon.svg"), "utf8");
  for (const size of SIZES) {
    const page = await browser.newPage({ viewport: { width: size, height: size } });
    await page.setContent(`<style>body{margin:0}svg{display:block;width:${size}px;height:${size}px}</style>${svg}`);
    await page.screenshot({ path: join(root, "src", "assets", `icon-${size}.png`), omitBackground: true });
    await page.close();
  }
} finally {
  await browser.close();
}
