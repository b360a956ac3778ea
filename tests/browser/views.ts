/** Going to a view of the panel by what it is called, wherever its tab stands. */
import type { Page } from "playwright-core";
import { HELP } from "../../src/panel/frame/help";
import type { ViewName } from "../../src/panel/frame/settings";
import { showView as showNamed } from "./workbenchPage";

/** Shows the view, from its top; on a narrow page the panel first. */
export async function showView(page: Page, view: ViewName): Promise<void> {
  const toPanel = page.locator("#show-panel");
  if (await toPanel.isVisible()) await toPanel.click();
  await showNamed(page, HELP[view].name);
  if (view !== "analysis") await page.locator(`[data-view=${view}], #panel [data-part=picture]`).first().waitFor();
  await page.locator("#panel").evaluate((panel) => panel.scrollTo(0, 0));
}
