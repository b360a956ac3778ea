/** The grid as its users' hands have it: which cell is selected, and typing into one. */
import type { Page } from "playwright-core";
import { expect } from "vitest";

const NAME_BOX = "#grid [data-u-comp=defined-name] input";

/** Address of the cell selected in the grid. */
export function selected(page: Page): Promise<string> {
  return page.locator(NAME_BOX).inputValue();
}

/** Where the grid is clicked; another place each time, lest two clicks be a double one that edits a cell. */
let down = 200;

/** Goes to a cell of the sheet in front by the name box; the keyboard is then in the grid. */
export async function goTo(page: Page, cell: string): Promise<void> {
  const cells = page.locator("#grid canvas[id^=univer-sheet-main-canvas]");
  const { width } = (await cells.boundingBox())!;
  await cells.click({ position: { x: Math.min(400, width / 2), y: (down = 500 - down) } });
  await page.locator(NAME_BOX).fill(cell);
  await page.locator(NAME_BOX).press("Enter");
  await expect.poll(() => selected(page)).toBe(cell);
}

/** Types into a cell of the sheet in front, as a person who goes there by the name box. */
export async function typeInto(page: Page, cell: string, text: string): Promise<void> {
  await goTo(page, cell);
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
}

/** Puts a row in above the cell, by the menu under the right button. */
export async function insertRowAbove(page: Page, cell: "A2"): Promise<void> {
  await goTo(page, cell);
  await page
    .locator("#grid canvas[id^=univer-sheet-main-canvas]")
    .click({ button: "right", position: { x: 80, y: 54 } });
  await page.getByText("Insert", { exact: true }).last().hover();
  await page
    .locator("[data-u-context-menu-submenu] button")
    .first()
    .click({ position: { x: 5, y: 10 } });
  await page.locator("[data-u-context-menu-submenu]").waitFor({ state: "detached" });
}
