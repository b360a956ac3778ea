/** The Shot view in the shipped page: sliders by keyboard, wrong inputs, the search, send to sheet, the drawing as a file. */
import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBench, openStep, startBench, type Bench } from "./workbenchPage";

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
}, 240_000);
afterAll(() => bench?.close());

describe.each([1400, 320])("the Shot view at %i px", (width) => {
  it("goes from a slider to the sheet", async () => {
    const { page, errors } = await openBench(bench, { width, height: 900 });
    if (width === 320) await page.click("#show-panel");
    const tab = page.getByRole("tab", { name: "Analysis" });
    await tab.focus();
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
    await expect.poll(() => page.getByRole("textbox", { name: /^Speed/ }).first().inputValue()).toBe("5.1");

    // Wrong inputs stay as typed, with the reason; the last good value stays in force.
    const angle = page.getByRole("textbox", { name: /^Angle/ }).first();
    await angle.fill("steep");
    await page.getByText('Angle (°) is "steep": give a number from −80 ° to 80 °.').waitFor();
    await angle.fill("95");
    await page.getByText("Angle (°) is 95: give −80 ° to 80 °.").waitFor();
    expect(await angle.inputValue()).toBe("95");
    await angle.fill("25");

    await openStep(page, "Find the best setting");
    await page.getByRole("textbox", { name: "Speed (mph) from" }).fill("7");
    await page.getByText("The limits of speed are reversed").waitFor();
    await page.getByRole("textbox", { name: "Speed (mph) from" }).fill("2");
    await page.getByRole("button", { name: "Find the best setting", exact: true }).click();
    await page.locator("[data-part=best]").getByText(/It bends \d\.\d+ in long/).waitFor();
    await page.getByRole("button", { name: "Set the sliders to it" }).click();
    await expect.poll(() => said.innerText()).toMatch(/Bends 2\.9\d+ in long/);

    await openStep(page, "Keep the shot");
    await page.getByRole("button", { name: "Send to sheet" }).click();
    await page.getByText('Written to the new sheet "Shots". No other cell was touched.').waitFor();
    await page.getByRole("button", { name: "Send to sheet" }).click();
    await page.getByText('Written to row 3 of the sheet "Shots". No other cell was touched.').waitFor();
    const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Save the drawing as SVG" }).click()]);
    const svg = readFileSync((await download.path())!, "utf8");
    expect(svg).toMatch(/^<\?xml/);
    expect(svg.match(/data-part="gate"/g)).toHaveLength(2);
    expect(svg.match(/data-part="diamond"/g)).toHaveLength(18);

    const [content, room] = await page.evaluate(() => [document.querySelector("#panel main")!.scrollWidth, document.querySelector("#panel main")!.clientWidth]);
    expect(content).toBeLessThanOrEqual(room);
    expect(errors).toEqual([]);
    await page.close();
  });
});
