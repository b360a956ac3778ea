/**
 * The Shot view in the shipped page: sliders by keyboard, wrong inputs, the search, send to sheet, the drawing as a
 * file.
 */
import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBench, openStep, paperOf, showView, testBench } from "./workbenchPage";

const bench = testBench();

describe.each([1400, 320])("the Shot view at %i px", (width) => {
  // One page goes on, as a person's does.
  let page: Page;
  let errors: string[];
  beforeAll(async () => void ({ page, errors } = await openBench(bench, { width, height: 900 })), 120_000);
  afterAll(() => page?.close());

  it("goes from a slider to the sheet", async () => {
    if (width === 320) await page.click("#show-panel");
    await page.getByRole("button", { name: "Prepare", exact: true }).press("Enter");
    const shotTab = page.getByRole("tab", { name: "Shot" });
    await page.getByRole("tab", { name: "First hour" }).focus();
    while (!(await shotTab.evaluate((element) => element === document.activeElement)))
      await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Enter");
    const said = page.locator("[data-part=said]");
    await said.waitFor();
    expect(await page.locator("[data-view=shot]").innerText()).toContain("A hard bank can leave the table.");
    expect(await said.innerText()).toContain("Bends 1.093 in long.");

    // A slider by keyboard moves the path and the numbers.
    const path = page.locator("[data-part=path]");
    const before = await path.getAttribute("d");
    await page.getByRole("slider", { name: /^Speed/ }).focus();
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => path.getAttribute("d")).not.toBe(before);
    await expect
      .poll(() =>
        page
          .getByRole("textbox", { name: /^Speed/ })
          .first()
          .inputValue(),
      )
      .toBe("5.1");

    // Gates are moved by keys: the one at the cushion with the contact, the one at the pocket turns the shot.
    const gates = page.locator("[data-part=gate]");
    const stood = Number(await gates.first().getAttribute("cx"));
    const gate = page.getByRole("slider", { name: "Gate at the cushion, with the contact" });
    expect(await gate.getAttribute("aria-valuetext")).toBe("32 in");
    await gate.press("ArrowRight");
    await expect.poll(() => gate.getAttribute("aria-valuetext")).toBe("32.3 in");
    await expect.poll(async () => Number(await gates.first().getAttribute("cx"))).toBeGreaterThan(stood);
    const set = () =>
      page
        .getByRole("textbox", { name: /^Angle/ })
        .first()
        .inputValue();
    const turned = await set();
    await page.getByRole("slider", { name: "Gate at the pocket; turns the shot" }).press("ArrowRight");
    await expect.poll(set).not.toBe(turned);

    // Wrong inputs stay as typed, with the reason; the last good value stays in force.
    const angle = page.getByRole("textbox", { name: /^Angle/ }).first();
    await angle.fill("steep");
    await page.getByText('Angle (°): "steep" is no number. Give a number from −80 ° to 80 °.').waitFor();
    await angle.fill("95");
    await page.getByText("Angle (°) is 95: give −80 ° to 80 °.").waitFor();
    expect(await angle.inputValue()).toBe("95");
    await angle.fill("25");

    await openStep(page, "Find the best setting");
    await page.getByRole("textbox", { name: "Speed (mph) from" }).fill("7");
    await page.getByText("The limits of speed are reversed").waitFor();
    await page.getByRole("textbox", { name: "Speed (mph) from" }).fill("2");
    await page.getByRole("button", { name: "Find the best setting", exact: true }).click();
    await page
      .locator("[data-part=best]")
      .getByText(/It bends \d\.\d+ in long/)
      .waitFor();
    const found = await page.locator("[data-part=best]").innerText();
    expect(found).toMatch(/place on the rail [\d.]+ in, into the far side pocket/);
    const [, bends] = /It bends (\d\.\d+) in long/.exec(found)!;
    await page.getByRole("button", { name: "Set the sliders to it" }).click();
    await expect.poll(() => said.innerText()).toContain(`Bends ${bends} in long`);
    expect(await said.innerText()).toContain("Its line goes into the far side pocket");
    expect(await said.innerText()).not.toContain("Nobody can shoot this");

    // More spin than an object ball can have is said, not refused: the slider ends before it.
    const side = page.getByRole("textbox", { name: /^Side/ }).first();
    await side.fill("1.2");
    await page.getByText("Nobody can shoot this").waitFor();
    await side.fill("0");

    await openStep(page, "Keep the shot");
    await page.getByRole("button", { name: "Send to sheet" }).click();
    await page.getByText('Written to the new sheet "Shots". No other cell was touched.').waitFor();
    await page.getByRole("button", { name: "Send to sheet" }).click();
    await page.getByText('Written to row 3 of the sheet "Shots". No other cell was touched.').waitFor();
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save the drawing as SVG" }).click(),
    ]);
    const svg = readFileSync((await download.path())!, "utf8");
    expect(svg).toMatch(/^<\?xml/);
    expect(svg.match(/data-part="gate"/g)).toHaveLength(2);
    expect(svg.match(/data-part="diamond"/g)).toHaveLength(18);

    const [content, room] = await page.evaluate(() => [
      document.querySelector("#panel main")!.scrollWidth,
      document.querySelector("#panel main")!.clientWidth,
    ]);
    expect(content).toBeLessThanOrEqual(room);
    expect(errors).toEqual([]);
  });

  if (width === 320)
    it("is set from the stroke, with every curve beside the others, in high contrast too", async () => {
      await page.getByRole("combobox", { name: "Set at" }).click();
      await page.getByRole("option", { name: "the cue's stroke" }).click();
      await page.getByRole("textbox", { name: /^Cut/ }).first().fill("15");
      await expect
        .poll(() => page.locator("[data-part=said]").innerText())
        .toMatch(/The cue ball leaves the tip at .* thrown/);
      expect(await page.locator("[data-part=cue-ball]").count()).toBe(1);
      expect(await page.locator("[data-part=spot]").count()).toBe(1);

      // The small curves, by keyboard: the arrow goes to the next, Enter makes it the large one.
      const all = page.getByRole("group", { name: "Bend against each setting" });
      await expect.poll(() => all.getByRole("button").count()).toBe(8);
      expect(await all.getByRole("button", { pressed: true }).innerText()).toBe("Cue's speed");
      await all.getByRole("button").first().focus();
      await page.keyboard.press("ArrowRight");
      await page.keyboard.press("Enter");
      await page.locator("[data-figure=bend-curve] svg[aria-label^='Bend against tip above centre']").waitFor();
      expect(await all.getByRole("button", { pressed: true }).innerText()).toBe("Tip above centre");

      // Another friction of the cushion, set in the set-up, gives another bend.
      const bend = () => page.locator("[data-part=said] p").first().innerText();
      const before = await bend();
      await openStep(page, "What to measure on your table");
      await page.getByText(/^Measure first /).waitFor();
      await page.getByRole("button", { name: "Write them into the set-up" }).click();
      const nose = page.getByRole("textbox", { name: "Nose friction, value" });
      await nose.fill("0.18");
      await nose.press("Tab");
      await showView(page, "Shot");
      await expect.poll(bend).not.toBe(before);

      const wide = () =>
        page.evaluate(() =>
          [...document.querySelectorAll("#panel main *")]
            .filter((element) => element.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
            .map((element) => element.outerHTML.slice(0, 80)),
        );
      expect(await wide()).toEqual([]);
      await page.emulateMedia({ forcedColors: "active" });
      await expect.poll(() => paperOf(page)).toBe("#000000");
      expect(await wide()).toEqual([]);
      expect(await page.locator("[data-part=path]").count()).toBe(1);
      await page.emulateMedia({ forcedColors: "none" });
      expect(errors).toEqual([]);

      // What was set comes back with the view.
      await page.waitForTimeout(400);
      await showView(page, "Analysis");
      await showView(page, "Shot");
      await expect.poll(() => page.getByRole("combobox", { name: "Set at" }).innerText()).toContain("the cue's stroke");
    });

  if (width === 1400)
    it("calibrates in a worker, with progress, and can be cancelled", async () => {
      await openStep(page, "Calibrate to your rows");
      const fit = page.getByRole("button", { name: "Fit the constants to the rows" });
      const others = page.workers().length;
      await Promise.all([
        page.waitForEvent("worker", (worker) => /worker\.[0-9a-f]+\.js/.test(worker.url())),
        // By keyboard: the step has just been opened, and a press of the mouse may miss a button that still moves.
        fit.press("Enter"),
      ]);
      await page.getByRole("progressbar").waitFor();
      // The page answers while the worker works: a slider moves the drawing.
      const path = page.locator("[data-part=path]");
      const before = await path.getAttribute("d");
      await page.getByRole("slider", { name: /^Gap/ }).focus();
      await page.getByRole("slider", { name: /^Angle/ }).focus();
      await page.keyboard.press("ArrowRight");
      await expect.poll(() => path.getAttribute("d")).not.toBe(before);
      await page.getByRole("button", { name: "Cancel" }).click();
      await expect.poll(() => page.workers().length, { timeout: 20_000 }).toBe(others);
      expect(await page.locator("[data-part=calibration]").innerText()).toBe("");

      await fit.click();
      await page.locator("[data-part=calibration] table").first().waitFor({ timeout: 100_000 });
      expect(await page.locator("[data-part=calibration]").innerText()).toContain("Fitted to");
      await expect.poll(() => page.workers().length, { timeout: 20_000 }).toBe(others);
      expect(errors).toEqual([]);
    });
});
