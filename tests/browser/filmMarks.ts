/** What a person does with a film in the Video view: opens it, and marks places in it. */
import type { Page } from "playwright-core";
import { CORNERS, SIZE } from "./filmedTable";

export async function openFilm(page: Page, film: { name: string; mimeType: string; buffer: Buffer }): Promise<void> {
  await page.locator("input[type=file][aria-label=Film]").setInputFiles(film);
  await page.getByText(/^Time 0\.000 of/).waitFor();
}

/** Clicks a place of the film; the picture is brought into view and stands still first. */
export async function clickFilm(page: Page, at: { readonly x: number; readonly y: number }): Promise<void> {
  const picture = page.locator("[data-drawing=film]");
  await picture.scrollIntoViewIfNeeded();
  const box = (await picture.boundingBox())!;
  await page.mouse.click(
    box.x + ((at.x + 0.5) / SIZE.width) * box.width,
    box.y + ((at.y + 0.5) / SIZE.height) * box.height,
  );
}

/** Marks a place with a click and moves it to the pixel with arrow keys, as a person does who looks closely. */
export async function markCorner(
  page: Page,
  number: number,
  at: { readonly x: number; readonly y: number },
): Promise<void> {
  await clickFilm(page, at);
  const mark = page.locator(`[data-mark="corner ${number}"]`);
  await mark.waitFor();
  const said = await mark.getAttribute("aria-label");
  const [, x, y] = /at (\d+), (\d+) pixels/.exec(said!)!.map(Number);
  await mark.focus();
  for (let i = 0; i < Math.abs(at.x - x); i++) await page.keyboard.press(at.x > x ? "ArrowRight" : "ArrowLeft");
  for (let i = 0; i < Math.abs(at.y - y); i++) await page.keyboard.press(at.y > y ? "ArrowDown" : "ArrowUp");
}

/** Marks the first corners with one click each, as a person does in a hurry. */
export async function roughCorners(page: Page, count: number): Promise<void> {
  for (const [i, corner] of CORNERS.slice(0, count).entries()) {
    await clickFilm(page, corner);
    await page.locator(`[data-mark="corner ${i}"]`).waitFor();
  }
}
