/** The pictures of docs/evening.md: the worked evening, pressed into the page attempt by attempt. */
import { join } from "node:path";
import type { Page } from "playwright-core";
import { parseInches } from "../src/bank/ruler";
import { showView, type Bench } from "../tests/browser/workbenchPage";
import { EVENING_ATTEMPTS, EVENING_TARGET, eveningOutcomes } from "./samples/evening";

export async function eveningPictures({ browser, address }: Bench, folder: string): Promise<void> {
  const page = await browser.newPage({ viewport: { width: 640, height: 480 }, colorScheme: "light" });
  const taken = (name: string) => page.screenshot({ path: join(folder, `evening-${name}.png`) });
  await page.goto(address);
  await page.locator("#begin-blank:focus").waitFor();
  await taken("begin");
  await page.setViewportSize({ width: 320, height: 760 });
  await page.keyboard.press("Enter");
  await page.locator("[data-part=entry]").waitFor();
  await showView(page, "Set-up");
  await page.getByRole("textbox", { name: "Target (in), value" }).fill(EVENING_TARGET);
  await showView(page, "Shoot");
  await shootEvening(page);
  await taken("shoot");
  await showView(page, "Analysis");
  await page.locator("#view-in-front svg").first().waitFor();
  await page.waitForTimeout(1000); // the sessions' fit comes from the worker
  await taken("answer");
  await page.close();
}

/** Each attempt as the page asks for it: its gap is read, and how the attempt ends is drawn. */
async function shootEvening(page: Page): Promise<void> {
  const draw = eveningOutcomes();
  for (let i = 1; i <= EVENING_ATTEMPTS; i++) {
    const asked = await page.locator("[data-part=gap][aria-busy=false]").innerText();
    const gap = parseInches(asked.replace(/ in$/, "").replace("−", "-"));
    if (typeof gap !== "number") throw new Error(`the gap to set reads "${asked}"`);
    await page.locator(`[data-outcome="${draw(gap)}"]`).click();
    await page.getByText(new RegExp(`^${i} attempts?, session S1`)).waitFor();
  }
  await page.locator("[data-part=line]").waitFor();
}
