/**
 * Every view opens with its answer: at 320 × 640 the picture and the line are on the first screen. And what is drawn to
 * scale moves by hand and by keys.
 */
import type { Page } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import { VIEWS, type ViewName } from "../../src/panel/frame/settings";
import { showView } from "./views";
import { openBench, testBench } from "./workbenchPage";

// One page goes through the views, as a person does, and then grows.
const bench = testBench();
let page: Page;
let errors: string[];
beforeAll(async () => void ({ page, errors } = await openBench(bench, { width: 320, height: 640 })), 120_000);

/** What is drawn, of a plot or to scale, or the film's place. */
const PICTURE = "[data-figure] svg, [data-drawing], [data-picture]";
const LINE =
  "[data-part=line], [data-part=setup-line], [data-part=layout-line], [data-part=said] > p, [data-part=measured] > p";

/** Views that begin with a press, and what stands there until then. */
const FIRST: Readonly<Partial<Record<ViewName, string>>> = {
  shoot: "Before the first attempt there is no log to draw: it offers one.",
  video: "Before a film is open there is nothing to draw: it asks for one.",
};

/** In how many lines the buttons of an element stand. */
function lineCount(element: Element): number {
  const shown = [...element.querySelectorAll("button")].filter((one) => one.getClientRects().length > 0);
  return new Set(shown.map((one) => Math.round(one.getBoundingClientRect().bottom))).size;
}

describe("at 320 x 640", () => {
  it.each(VIEWS.filter((view) => !FIRST[view]))("%s has its line and its picture on the first screen", async (view) => {
    await showView(page, view);
    const panel = page.locator("#panel");
    const line = panel.locator(LINE).first();
    const picture = panel.locator(PICTURE).first();
    await line.waitFor();
    await picture.waitFor();
    // Work beside the page may still change them; nothing moves once both stand.
    const bottoms = async () => {
      const boxes = await Promise.all([line.boundingBox(), picture.boundingBox()]);
      return Math.max(...boxes.map((box) => (box ? box.y + box.height : Infinity)));
    };
    await expect.poll(bottoms, { timeout: 20_000 }).toBeLessThanOrEqual(640);
    expect(await line.innerText()).not.toBe("");
    // What stands above all views takes one line of the page and one of the panel.
    const heads = ["#bar", "#panel main > :first-child"].map((head) => page.locator(head).evaluate(lineCount));
    expect(await Promise.all(heads)).toEqual([1, 1]);
    const [content, room] = await panel.evaluate((element) => [element.scrollWidth, element.clientWidth]);
    expect(content).toBeLessThanOrEqual(room ?? 0);
    expect(errors).toEqual([]);
  });
});

async function valueOf(name: RegExp): Promise<number> {
  return Number(await page.getByRole("slider", { name }).getAttribute("aria-valuenow"));
}

describe("what is drawn to scale", () => {
  beforeAll(() => page.setViewportSize({ width: 1400, height: 900 }));

  it.each(["layout", "shot"] as const)("%s: contact, arrival and obstacle move by hand and by keys", async (view) => {
    await showView(page, view);
    const top = () => page.locator("#view-in-front").evaluate((element) => (element as HTMLElement).offsetTop);
    const before = await top();
    for (const name of [/^Contact with the rail/, /^Arrival/, /^Obstacle/]) {
      const handle = page.getByRole("slider", { name });
      const before = await valueOf(name);
      await handle.focus();
      await page.keyboard.press("ArrowRight");
      await expect.poll(() => valueOf(name)).not.toBe(before);
      await page.keyboard.press("ArrowLeft");
      // An arrival is met to 0.1 mm.
      await expect.poll(() => valueOf(name)).toBeCloseTo(before, 3);
    }
    // By hand, 30 pixels along the rail.
    const contact = page.getByRole("slider", { name: /^Contact with the rail/ });
    const contacted = await valueOf(/^Contact with the rail/);
    // What takes a choice back comes a moment after the first, and moves nothing.
    await page.getByRole("button", { name: /^Undo the last choice/ }).waitFor();
    expect(await top()).toBe(before);
    await contact.scrollIntoViewIfNeeded();
    const box = (await contact.boundingBox())!;
    await page.mouse.move(box.x + 12, box.y + 12);
    await page.mouse.down();
    await page.mouse.move(box.x + 42, box.y + 12, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => valueOf(/^Contact with the rail/)).toBeGreaterThan(contacted + 0.02);
    expect(errors).toEqual([]);
  });
});
